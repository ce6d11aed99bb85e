package scenario

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
)

func random1(seed uint64) model.Input { return Random(rand.New(rand.NewPCG(seed, 1))) }

func TestRandomDaysAreSmallAndAccepted(t *testing.T) {
	for seed := range uint64(300) {
		in := random1(seed)
		p, report := model.NewProblem(in)
		require.Empty(t, report.Errors, "seed %d", seed)
		assert.LessOrEqual(t, len(in.Sprayers), 4)
		assert.LessOrEqual(t, len(in.Settings.Pad.Bays), 3)
		loads := 0
		for i, j := range p.Jobs {
			loads += len(p.RunLoads(max(j.Sprayer, 0), []int{i}))
		}
		assert.LessOrEqual(t, loads, 3*maxRandomLoads, "seed %d", seed) // any-sprayer jobs count for the smallest tank
		assert.Equal(t, in, random1(seed), "the same seed gives the same day")
	}
}

// anyOf says whether a row of a table has something.
func anyOf[T any](rows []T, has func(T) bool) bool { return slices.ContainsFunc(rows, has) }

// features are what random days must have now and then.
var features = []struct {
	name string
	has  func(in *model.Input) bool
}{
	{"any sprayer", func(in *model.Input) bool {
		return anyOf(in.Jobs, func(j model.JobRow) bool { return j.Sprayer == "" })
	}},
	{"earliest", func(in *model.Input) bool {
		return anyOf(in.Jobs, func(j model.JobRow) bool { return j.Earliest != nil })
	}},
	{"due", func(in *model.Input) bool {
		return anyOf(in.Jobs, func(j model.JobRow) bool { return j.Due != nil })
	}},
	{"priority", func(in *model.Input) bool {
		return anyOf(in.Jobs, func(j model.JobRow) bool { return j.Priority != nil })
	}},
	{"own gpa", func(in *model.Input) bool { return anyOf(in.Jobs, func(j model.JobRow) bool { return j.GPA != nil }) }},
	{"positions", func(in *model.Input) bool {
		return anyOf(in.Jobs, func(j model.JobRow) bool { return j.Lat != nil && j.DriveMin == nil })
	}},
	{"liquid carrier", func(in *model.Input) bool {
		return anyOf(in.Mixes, func(m model.MixRow) bool { return m.Carrier != "" })
	}},
	{"bay without water", func(in *model.Input) bool {
		return anyOf(in.Settings.Pad.Bays, func(b model.BaySettings) bool { return !slices.Contains(b.Carriers, model.Water) })
	}},
	{"plumbed", func(in *model.Input) bool {
		return anyOf(in.Settings.Pad.Bays, func(b model.BaySettings) bool { return len(b.Plumbed) > 0 })
	}},
	{"hooked", func(in *model.Input) bool {
		return anyOf(in.Settings.Pad.Bays, func(b model.BaySettings) bool { return len(b.Hooked) > 0 })
	}},
	{"last mix of a bay", func(in *model.Input) bool {
		return anyOf(in.Settings.Pad.Bays, func(b model.BaySettings) bool { return b.LastMix != "" })
	}},
	{"last mix of a sprayer", func(in *model.Input) bool {
		return anyOf(in.Sprayers, func(s model.SprayerRow) bool { return s.LastMix != "" })
	}},
	{"available from", func(in *model.Input) bool {
		return anyOf(in.Sprayers, func(s model.SprayerRow) bool { return s.AvailableFrom != nil })
	}},
	{"available until", func(in *model.Input) bool {
		return anyOf(in.Sprayers, func(s model.SprayerRow) bool { return s.AvailableUntil != nil })
	}},
	{"opened totes", func(in *model.Input) bool {
		return anyOf(in.Stock, func(s model.StockRow) bool { return s.Container == "tote" && s.Open != nil })
	}},
	{"bulk", func(in *model.Input) bool {
		return anyOf(in.Stock, func(s model.StockRow) bool { return s.Container == "bulk" })
	}},
	{"deliveries", func(in *model.Input) bool { return len(in.Deliveries) > 0 }},
	{"packs", func(in *model.Input) bool {
		return anyOf(in.Products, func(p model.ProductRow) bool { return p.Pack != nil })
	}},
	{"hopper without pack", func(in *model.Input) bool {
		return anyOf(in.Products, func(p model.ProductRow) bool { return p.Handling == "hopper" && p.Pack == nil })
	}},
	{"tank life", func(in *model.Input) bool {
		return anyOf(in.Products, func(p model.ProductRow) bool { return p.TankLifeH != nil })
	}},
	{"full_first", func(in *model.Input) bool { return in.Settings.Split == "full_first" }},
	{"overtime", func(in *model.Input) bool { return in.Settings.Pad.OvertimeUntil != nil }},
	{"limited water", func(in *model.Input) bool { return in.Settings.Pad.Water != nil }},
	{"rinsate tank", func(in *model.Input) bool { return in.Settings.Pad.RinsateGal != nil }},
	{"forecast wind", func(in *model.Input) bool {
		return anyOf(in.Forecast, func(f model.ForecastRow) bool { return f.WindMph != nil })
	}},
	{"more metered products than connections", moreProductsThanConnections},
	{"stock that runs short", runsShort},
	{"jobs of two crops that may share", sharesAcrossCrops},
}

func moreProductsThanConnections(in *model.Input) bool {
	metered := map[string]bool{}
	for _, p := range in.Products {
		metered[p.Product] = p.Handling == "metered"
	}
	count := map[string]int{}
	for _, r := range in.Recipes {
		if metered[r.Product] {
			count[r.Mix]++
		}
	}
	return anyOf(in.Jobs, func(j model.JobRow) bool { return count[j.Mix] > in.Settings.Pad.Bays[0].Connections })
}

func runsShort(in *model.Input) bool {
	p, _ := model.NewProblem(*in)
	have := make([]model.Decimal, len(p.Products))
	for _, d := range p.Deliveries {
		have[d.Product] += d.Amount()
	}
	for i, need := range demand(p) {
		if have[i]+p.Products[i].OnHand() < need {
			return true
		}
	}
	return false
}

func sharesAcrossCrops(in *model.Input) bool {
	p, _ := model.NewProblem(*in)
	for i := range p.Jobs {
		for k := range i {
			if p.Jobs[i].Crop != p.Jobs[k].Crop && p.MayShare(0, i, k) {
				return true
			}
		}
	}
	return false
}

func TestRandomDaysHaveEveryFeature(t *testing.T) {
	const days = 400
	count := map[string]int{}
	for seed := range uint64(days) {
		in := random1(seed)
		for _, f := range features {
			if f.has(&in) {
				count[f.name]++
			}
		}
		for _, r := range in.Rules {
			count[fmt.Sprintf("%s after %s", r.Where, sign(r.After))]++
			count[fmt.Sprintf("%s before %s", r.Where, sign(r.Before))]++
		}
		for _, h := range in.Holds {
			count["hold "+sign(h.Scope)]++
		}
	}
	for _, f := range features {
		assert.GreaterOrEqual(t, count[f.name], days/50, f.name)
	}
	for _, kind := range []string{
		"tank after NAME", "tank before @", "manifold after NAME", "manifold after @", "manifold before mix:", "manifold before *",
		"sprayer after mix:", "sprayer after *", "sprayer before crop:", "sprayer before @", "sprayer before NAME",
		"hold all", "hold sprayer:", "hold field:", "hold product:", "hold @", "hold bay:",
	} {
		assert.GreaterOrEqual(t, count[kind], 5, kind)
	}
}

// sign is what kind of selector or scope a word is.
func sign(word string) string {
	switch kind, _, ok := strings.Cut(word, ":"); {
	case ok:
		return kind + ":"
	case word == "":
		return "all"
	case word == "*":
		return word
	case strings.HasPrefix(word, "@"):
		return "@"
	}
	return "NAME"
}
