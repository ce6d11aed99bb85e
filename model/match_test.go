package model_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"padturn/model"
)

// matchDay has mixes that share products: A of a; AB of a and b; B; C; U is c
// in uan, AU is a in uan. Groups: a and b are of g1, b and c of g2. A rule is
// written "where after before level".
func matchDay(rules ...string) model.Input {
	in := model.Input{Settings: model.DefaultSettings()}
	in.Settings.Pad.Bays[0].Carriers = []string{model.Water, "uan"}
	groups := map[string][]string{"a": {"g1"}, "b": {"g1", "g2"}, "c": {"g2"}}
	for _, name := range []string{"a", "b", "c"} {
		in.Products = append(in.Products, model.ProductRow{
			Product: name, Form: "SL", Unit: "gal", Handling: "hopper", Pack: some("2.5"), Groups: groups[name],
		})
	}
	in.Products = append(in.Products, model.ProductRow{Product: "uan", Form: "SL", Unit: "gal", Handling: "metered"})
	for _, m := range []struct{ name, carrier, recipe string }{
		{"A", "", "a"}, {"AB", "", "a b"}, {"B", "", "b"}, {"C", "", "c"}, {"U", "uan", "c"}, {"AU", "uan", "a"},
	} {
		in.Mixes = append(in.Mixes, model.MixRow{Mix: m.name, GPA: dec("10"), Carrier: m.carrier})
		for _, product := range strings.Fields(m.recipe) {
			in.Recipes = append(in.Recipes, model.RecipeRow{Mix: m.name, Product: product, Rate: dec("1"), Unit: "qt/ac"})
		}
	}
	in.Sprayers = []model.SprayerRow{{Sprayer: "S1", TankGal: dec("1000"), AcPerH: some("100")}}
	for _, crop := range []string{"soy", "corn"} {
		in.Jobs = append(in.Jobs, model.JobRow{Field: crop + " field", Mix: "A", Acres: dec("80"), Crop: crop, DriveMin: some("5")})
	}
	for _, rule := range rules {
		w := strings.Fields(rule)
		in.Rules = append(in.Rules, model.RuleRow{Where: w[0], After: w[1], Before: w[2], Level: w[3]})
	}
	return in
}

func mixOf(t testing.TB, p *model.Problem, name string) int {
	t.Helper()
	for i, m := range p.Mixes {
		if m.Name == name {
			return i
		}
	}
	require.Empty(t, name, "no such mix")
	return model.None
}

func TestRinseBetween(t *testing.T) {
	const none, flush, wash = model.None, 0, 1
	for _, row := range []struct {
		name, rules, earlier, later string
		want                        int
	}{
		{"no rule, no rinse", "", "A", "C", none},
		{"nothing before, no rinse", "manifold * * flush", "", "C", none},
		{"everything to everything", "manifold * * flush", "A", "C", flush},
		{"same mix", "manifold * * flush", "A", "A", none},
		{"all of the earlier is in the later", "manifold * * flush", "A", "AB", none},
		{"not all of the earlier is in the later", "manifold * * flush", "AB", "A", flush},
		{"product to product", "manifold a c flush", "A", "C", flush},
		{"not the other way", "manifold a c flush", "C", "A", none},
		{"product that goes in again", "manifold a * flush", "A", "AU", none},
		{"product of a larger mix", "manifold b c flush", "AB", "C", flush},
		{"before may be in both", "manifold a b flush", "AB", "B", flush},
		{"group to group", "manifold @g1 @g2 flush", "A", "C", flush},
		{"a product of both groups", "manifold @g1 @g2 flush", "A", "B", flush},
		{"group, but the later mix has it too", "manifold @g1 @g2 flush", "B", "AB", none},
		{"group that the later mix lacks", "manifold @g1 @g2 flush", "C", "A", none},
		{"mix to everything", "manifold mix:AB * flush", "AB", "C", flush},
		{"mix is that mix only", "manifold mix:AB * flush", "A", "C", none},
		{"mix that leaves nothing behind", "manifold mix:A * flush", "A", "AB", none},
		{"everything to mix", "manifold * mix:C flush", "AB", "C", flush},
		{"everything to another mix", "manifold * mix:C flush", "AB", "U", none},
		{"water before a fertilizer", "manifold water uan flush", "A", "U", flush},
		{"water does not leave water behind", "manifold water * flush", "A", "C", none},
		{"carrier of the earlier mix", "manifold uan water flush", "U", "A", flush},
		{"carrier that stays", "manifold uan * flush", "U", "AU", none},
		{"highest level counts", "manifold * * flush; manifold a c wash", "A", "C", wash},
		{"highest level counts in any order", "manifold a c wash; manifold * * flush", "A", "C", wash},
		{"sprayer and tank rules do not", "sprayer a c triple_rinse; tank a c forbid", "A", "C", none},
	} {
		t.Run(row.name, func(t *testing.T) {
			p := ruledProblem(t, row.rules)
			assert.Equal(t, row.want, p.RinseBetween(mixOf(t, p, row.earlier), mixOf(t, p, row.later)))
		})
	}
}

// ruledProblem makes the problem of matchDay with rules parted by semicolons.
func ruledProblem(t testing.TB, rules string) *model.Problem {
	t.Helper()
	var list []string
	for rule := range strings.SplitSeq(rules, ";") {
		if strings.TrimSpace(rule) != "" {
			list = append(list, rule)
		}
	}
	in := matchDay(list...)
	for i := range in.Rules {
		in.Rules[i].Level = strings.ReplaceAll(in.Rules[i].Level, "_", " ") // names of levels hold blanks
	}
	return sound(t, in)
}

func TestCleanoutBetween(t *testing.T) {
	const none, flush, rinse, agent = model.None, 0, 1, 2
	for _, row := range []struct {
		name, rules  string
		earlier, on  string // crops parted by commas; blank: not known
		later, onNow string
		want         int
	}{
		{"no rule", "", "A", "corn", "C", "soy", none},
		{"product to product", "sprayer a c triple_rinse", "A", "corn", "C", "corn", rinse},
		{"same mix", "sprayer * * triple_rinse", "A", "corn", "A", "soy", none},
		{"goes in again", "sprayer a * triple_rinse", "A", "corn", "AB", "corn", none},
		{"group to mix", "sprayer @g1 mix:C agent_cleanout", "AB", "corn", "C", "corn", agent},
		{"crop of the later load", "sprayer a crop:soy agent_cleanout", "A", "corn", "C", "soy", agent},
		{"another crop", "sprayer a crop:soy agent_cleanout", "A", "corn", "C", "corn", none},
		{"one of the later load's crops", "sprayer a crop:soy agent_cleanout", "A", "corn", "C", "corn,soy", agent},
		{"another product", "sprayer b crop:soy agent_cleanout", "A", "corn", "C", "soy", none},
		{"same mix onto the crop from another", "sprayer a crop:soy agent_cleanout", "A", "corn", "A", "soy", agent},
		{"same mix onto the crop from before the day", "sprayer a crop:soy agent_cleanout", "A", "", "A", "soy", agent},
		{"same mix, same crop", "sprayer a crop:soy agent_cleanout", "A", "soy", "A", "soy", none},
		{"product both have, earlier was on the crop too", "sprayer a crop:soy agent_cleanout", "A", "corn,soy", "AB", "soy", none},
		{"product only the earlier has, earlier was on the crop too", "sprayer b crop:soy agent_cleanout", "AB", "soy", "A", "soy", agent},
		{"highest level counts", "sprayer * * water_flush; sprayer a crop:soy agent_cleanout", "A", "corn", "C", "soy", agent},
		{"a lower rule alone", "sprayer * * water_flush; sprayer a crop:soy agent_cleanout", "A", "corn", "C", "corn", flush},
		{"manifold and tank rules do not count", "manifold a c wash; tank a c forbid", "A", "corn", "C", "soy", none},
	} {
		t.Run(row.name, func(t *testing.T) {
			p := ruledProblem(t, row.rules)
			earlier := model.TankContents{Mix: mixOf(t, p, row.earlier), Crops: cropsOf(row.on)}
			later := model.TankContents{Mix: mixOf(t, p, row.later), Crops: cropsOf(row.onNow)}
			assert.Equal(t, row.want, p.CleanoutBetween(earlier, later))
		})
	}
}

func cropsOf(list string) []string {
	if list == "" {
		return nil
	}
	return strings.Split(list, ",")
}

func TestTankRules(t *testing.T) {
	for _, row := range []struct {
		name, rule string
		broken     []string // "mix: products"
	}{
		{"two products", "tank a b forbid", []string{"AB: a and b"}},
		{"the other way round", "tank b a forbid", []string{"AB: a and b"}},
		{"product and group", "tank a @g2 forbid", []string{"AB: a and b"}},
		{"group with itself", "tank @g1 @g1 forbid", []string{"AB: a and b"}},
		{"never in one tank", "tank a c forbid", nil},
		{"a carrier", "tank c uan forbid", []string{"U: uan and c"}},
		{"water", "tank c water forbid", []string{"C: water and c"}},
		{"product with everything but plain water", "tank c * forbid", []string{"U: uan and c"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, report := model.NewProblem(matchDay(row.rule))
			var got []string
			for _, f := range report.Errors {
				assert.Equal(t, model.MixesTable, f.Table)
				products, ok := strings.CutSuffix(strings.TrimPrefix(f.Want, "holds "), ", which may not share a tank (rules.csv)")
				assert.True(t, ok, f.Want)
				got = append(got, f.Value+": "+products)
			}
			assert.Equal(t, row.broken, got)
		})
	}
}

func TestHoldApplies(t *testing.T) {
	for _, row := range []struct {
		name, scope string
		want        bool
	}{
		{"all", "", true},
		{"its sprayer", "sprayer:S1", true},
		{"another sprayer", "sprayer:S2", false},
		{"its field", "field:soy field", true},
		{"another field", "field:corn field", false},
		{"its product", "product:a", true},
		{"another product", "product:b", false},
		{"its carrier", "product:water", true},
		{"another carrier", "product:uan", false},
		{"its group", "@g1", true},
		{"another group", "@g2", false},
		{"a bay is no matter of spraying", "bay:bay 1", false},
	} {
		t.Run(row.name, func(t *testing.T) {
			in := matchDay()
			in.Sprayers = append(in.Sprayers, model.SprayerRow{Sprayer: "S2", TankGal: dec("1000"), AcPerH: some("100")})
			in.Holds = []model.HoldRow{{From: clock("10:00"), To: clock("11:00"), Kind: "rain", Scope: row.scope}}
			p := sound(t, in)
			assert.Equal(t, row.want, p.Holds[0].Applies(p, 0, 0))
		})
	}
}

func TestProductNames(t *testing.T) {
	p := sound(t, matchDay())
	assert.Equal(t, "b", p.ProductName(1))
	assert.Equal(t, "water", p.ProductName(model.None))
}

func TestParseSelector(t *testing.T) {
	signs := map[model.SelectorKind]string{
		model.SelectProduct: "", model.SelectGroup: "@", model.SelectMix: "mix:", model.SelectCrop: "crop:",
	}
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom([]model.SelectorKind{
			model.SelectProduct, model.SelectGroup, model.SelectMix, model.SelectCrop,
		}).Draw(t, "kind")
		name := rapid.StringMatching(`[a-z0-9][a-z0-9 .:@*-]{0,12}`).Draw(t, "name")
		if kind == model.SelectProduct && (strings.HasPrefix(name, "mix:") || strings.HasPrefix(name, "crop:")) {
			t.Skip("that product would be read as a mix or a crop")
		}
		require.Equal(t, model.Selector{Kind: kind, Name: name}, model.ParseSelector(signs[kind]+name))
	})
	assert.Equal(t, model.Selector{Kind: model.SelectAll}, model.ParseSelector("*"))
	assert.Equal(t, model.Selector{Kind: model.SelectProduct, Name: "**"}, model.ParseSelector("**"))
	assert.Equal(t, model.Selector{Kind: model.SelectProduct}, model.ParseSelector(""))
}
