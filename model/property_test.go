package model_test

import (
	"fmt"
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"padturn/model"
)

// decimals draws a number from least to most billionths, often a round one.
func decimals(least, most model.Decimal) *rapid.Generator[model.Decimal] {
	return rapid.OneOf(
		rapid.Map(rapid.Int64Range(int64(least), int64(most)), func(n int64) model.Decimal { return model.Decimal(n) }),
		rapid.Map(rapid.Int64Range(int64(least/model.One)+1, int64(most/model.One)), model.WholeDecimal),
	)
}

// runDay draws a sound day with one sprayer and a run of one to four jobs. The
// rates are low enough to leave room for carrier in any spray volume drawn.
func runDay(t *rapid.T) model.Input {
	in := model.Input{Settings: model.DefaultSettings()}
	in.Settings.Split = rapid.SampledFrom([]string{"even", "full_first"}).Draw(t, "split")
	gpa := decimals(2*model.One, 40*model.One).Draw(t, "gpa")
	in.Mixes = []model.MixRow{{Mix: "mix", GPA: gpa}}
	tank := decimals(gpa, 2000*model.One).Draw(t, "tank")
	in.Sprayers = []model.SprayerRow{{Sprayer: "S", TankGal: max(tank, gpa), AcPerH: model.Some(decimals(model.One, 300*model.One).Draw(t, "ac/h"))}}
	for i := range rapid.IntRange(0, 4).Draw(t, "products") {
		addProduct(t, &in, fmt.Sprint("product ", i))
	}
	for i := range rapid.IntRange(1, 4).Draw(t, "jobs") {
		in.Jobs = append(in.Jobs, model.JobRow{
			Field: fmt.Sprint("field ", i), Sprayer: "S", Mix: "mix",
			Acres: decimals(1, 300*model.One).Draw(t, "acres"), DriveMin: some("10"),
		})
	}
	return in
}

// lowRates are the rate units of the drawn days, each with its largest rate: at
// most a hundredth or so of the spray, or a quarter of a gallon an acre.
var lowRates = map[string]model.Decimal{
	"floz/ac": 32 * model.One, "mL/ha": 1000 * model.One, "lb/ac": model.One, "g/ha": 900 * model.One,
	"pt/100gal": 8 * model.One, "L/ha": 2 * model.One, "oz/100gal": 50 * model.One, "kg/100L": model.One, "%v/v": 2 * model.One,
}

func addProduct(t *rapid.T, in *model.Input, name string) {
	unit := rapid.SampledFrom([]string{
		"floz/ac", "mL/ha", "lb/ac", "g/ha", "pt/100gal", "L/ha", "oz/100gal", "kg/100L", "%v/v",
	}).Draw(t, "rate unit")
	in.Products = append(in.Products, model.ProductRow{
		Product: name, Handling: "hopper", Pack: some("2.5"),
		Form: rapid.SampledFrom(model.FormulationCodes()).Draw(t, "form"),
		Unit: rapid.SampledFrom(model.StockUnitNames()).Draw(t, "stock unit"), DensityLbGal: model.Some(decimals(7*model.One, 12*model.One).Draw(t, "density")),
	})
	in.Recipes = append(in.Recipes, model.RecipeRow{
		Mix: "mix", Product: name, Rate: decimals(1, lowRates[unit]).Draw(t, "rate"), Unit: unit,
	})
}

// soundRun makes the problem of a drawn day and the loads of all its jobs as
// one run.
func soundRun(t *rapid.T) (*model.Problem, []model.Load) {
	p, report := model.NewProblem(runDay(t))
	require.Empty(t, report.Errors)
	run := make([]int, len(p.Jobs))
	for i := range run {
		run[i] = i
	}
	return p, p.RunLoads(0, run)
}

func TestLoadsTakeTheRunWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, loads := soundRun(t)
		acres := make([]model.Decimal, len(p.Jobs))
		var gal model.Decimal
		amounts := make([]model.Decimal, len(p.Mixes[0].Recipe))
		for _, l := range loads {
			gal += l.Gal
			for _, part := range l.Parts {
				acres[part.Job] += part.Acres
			}
			for i, d := range l.Doses {
				amounts[i] += d.Amount
			}
		}
		total := new(big.Rat)
		for i, j := range p.Jobs {
			require.Equal(t, j.Acres, acres[i], "acres of job %d", i)
			total.Add(total, j.Acres.Rat())
		}
		volume := new(big.Rat).Mul(total, p.Mixes[0].GPA.Rat())
		require.Equal(t, model.RoundRat(volume), gal, "gallons")
		for i, g := range p.Mixes[0].Recipe {
			require.Equal(t, model.RoundRat(need(t, p, g, total, volume)), amounts[i], "amount of ingredient %d", i)
		}
	})
}

// need is what acres of spray take of an ingredient, in the stock unit (R2).
func need(t require.TestingT, p *model.Problem, g model.Ingredient, acres, gal *big.Rat) *big.Rat {
	product := &p.Products[g.Product]
	per, err := model.Convert(g.Unit.Unit, product.Unit, product.Density)
	require.NoError(t, err)
	base := acres
	if g.Unit.Base != model.PerAcre {
		base = gal
	}
	per.Mul(per, base).Mul(per, g.Unit.Factor)
	return per.Mul(per, g.Rate.Rat())
}

// A load is shared out in billionths, so its gallons may be one above the tank.
func TestLoadsFitTheTankAndAreAsFewAsCanBe(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, loads := soundRun(t)
		var acres model.Decimal
		for _, j := range p.Jobs {
			acres += j.Acres
		}
		tank := p.Sprayers[0].TankGal
		volume := new(big.Rat).Mul(acres.Rat(), p.Mixes[0].GPA.Rat())
		require.True(t, volume.Cmp(times(tank, len(loads))) <= 0, "the loads hold the run")
		require.True(t, volume.Cmp(times(tank, len(loads)-1)) > 0, "one fewer would not")
		for _, l := range loads {
			require.LessOrEqual(t, l.Gal, tank+1)
			require.NotEmpty(t, l.Parts)
		}
	})
}

func times(tank model.Decimal, n int) *big.Rat {
	return new(big.Rat).Mul(tank.Rat(), big.NewRat(int64(n), 1))
}

func TestLoadsFollowTheJobs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, loads := soundRun(t)
		last := 0
		for _, l := range loads {
			for _, part := range l.Parts {
				require.GreaterOrEqual(t, part.Job, last)
				last = part.Job
				require.GreaterOrEqual(t, part.Spray, model.Seconds(1))
			}
			liquid := l.Carrier
			for _, d := range l.Doses {
				liquid += d.Gal
				if p.Products[d.Product].Form.Dry {
					require.Zero(t, d.Gal, "dry products take no volume")
				}
			}
			require.Equal(t, l.Gal, liquid, "carrier and products make the spray volume")
			require.LessOrEqual(t, l.First, l.Carrier)
		}
	})
}

func TestEvenLoadsAreEqualAndFullOnesFull(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, loads := soundRun(t)
		for _, l := range loads[:len(loads)-1] {
			want := loads[0].Gal
			if p.Settings.Split == "full_first" {
				want = p.Sprayers[0].TankGal
			}
			require.InDelta(t, int64(want), int64(l.Gal), 1, "in billionths")
		}
		require.LessOrEqual(t, loads[len(loads)-1].Gal, loads[0].Gal+1)
	})
}

func TestFillingTimesGrowWithChangeoversInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, loads := soundRun(t)
		for _, l := range loads {
			least := model.CeilMinutes(p.Settings.Pad.HookupMin + p.Settings.Pad.UnhookMin)
			for k := range len(l.Fill) + 3 {
				require.GreaterOrEqual(t, l.FillSeconds(k), least)
				least = l.FillSeconds(k)
			}
			for i := range l.Doses {
				require.LessOrEqual(t, l.DoseBegins(i, 0), l.DoseBegins(i+1, 0))
			}
			end := l.DoseBegins(len(l.Doses), 0) + model.CeilMinutes(p.Settings.Pad.UnhookMin)
			require.LessOrEqual(t, end, l.FillSeconds(0))
		}
	})
}

func TestConversionsGoBothWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		names := model.StockUnitNames()
		u, _ := model.FindUnit(rapid.SampledFrom(names).Draw(t, "from"))
		v, _ := model.FindUnit(rapid.SampledFrom(names).Draw(t, "to"))
		w, _ := model.FindUnit(rapid.SampledFrom(names).Draw(t, "over"))
		density := decimals(model.One, 40*model.One).Draw(t, "density")
		convert := func(from, to model.Unit) *big.Rat {
			per, err := model.Convert(from, to, &density)
			require.NoError(t, err)
			return per
		}
		there := convert(u, v)
		require.Zero(t, big.NewRat(1, 1).Cmp(new(big.Rat).Mul(there, convert(v, u))), "and back")
		require.Zero(t, there.Cmp(new(big.Rat).Mul(convert(u, w), convert(w, v))), "over a third unit")
	})
}
