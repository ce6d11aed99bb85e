package terminal

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/io/planfile"
	"padturn/model"
	"padturn/model/standing"
)

// statusOf prints a day of one sprayer: job A was filled at 06:20, and nothing is
// planned of job B.
func statusOf(t *testing.T, units string, at model.Clock, facts ...standing.Fact) string {
	t.Helper()
	in := model.Input{Settings: model.DefaultSettings()}
	in.Settings.Pad.Bays[0].Hooked = []string{"gly"}
	in.Settings.Pad.Water = &model.WaterSettings{OnHandGal: 1000 * model.One, CapacityGal: 2000 * model.One, RefillGpm: model.One}
	in.Products = []model.ProductRow{{Product: "gly", Form: "SL", Unit: "gal", Handling: "metered", TankLifeH: model.Some(3 * model.One), RainfastH: model.Some(2 * model.One)}}
	in.Mixes = []model.MixRow{{Mix: "burndown", GPA: 10 * model.One}}
	in.Recipes = []model.RecipeRow{{Mix: "burndown", Product: "gly", Rate: model.One, Unit: "qt/ac"}}
	in.Stock = []model.StockRow{{Product: "gly", Container: "tote", Size: 100 * model.One, Full: model.One}}
	in.Deliveries = []model.DeliveryRow{{At: 7 * 3600, Product: "gly", Container: "tote", Size: 100 * model.One, Count: model.One}}
	in.Sprayers = []model.SprayerRow{{Sprayer: "S1", TankGal: 400 * model.One, AcPerH: model.Some(60 * model.One)}}
	for _, name := range []string{"A", "B"} {
		in.Jobs = append(in.Jobs, model.JobRow{Job: name, Field: "field " + name, Mix: "burndown", Acres: 40 * model.One, DriveMin: model.Some(10 * model.One)})
	}
	told := standing.Told{Loads: []standing.Planned{{
		ID: "S1-1", Bay: "bay 1", Sprayer: "S1", Mix: "burndown", CarrierGal: 390 * model.One,
		Parts: []standing.Part{{Job: "A", Acres: 40 * model.One, Spray: 2400, SprayedAt: 25_800}},
		Doses: []standing.Dose{{Product: "gly", Amount: 10 * model.One, Metered: true}},
		Start: 21_600, SetupStart: 21_600, Ready: 21_600, CleanoutFrom: 21_600, End: 22_800, BackAt: 26_400, DriveOut: 600, DriveBack: 600,
	}}}
	s, err := standing.At(in, told, facts, at)
	require.NoError(t, err)
	var out strings.Builder
	require.NoError(t, Status(&out, &planfile.Document{Day: planfile.Day{Units: units}}, s, false, 80))
	return out.String()
}

func TestStatus(t *testing.T) {
	rain := standing.Fact{N: 1, At: 6 * 3600, News: standing.HoldMark{Hold: model.HoldRow{From: 6*3600 + 2400, To: 12 * 3600, Kind: "rain"}}}
	out := standing.Fact{N: 2, At: 6*3600 + 2400, News: standing.SprayerMark{Sprayer: "S1", Out: true}}
	later := standing.Fact{N: 3, At: 9 * 3600, News: standing.SprayerMark{Sprayer: "S1"}}
	tests := []struct {
		name  string
		units string
		at    model.Clock
		facts []standing.Fact
		want  []string
		not   []string
	}{
		{"before the opening", "us", 5 * 3600, nil, []string{
			"At 05:00: 0 loads done, 0 under way, 1 to come", "- B (field B): 40.0 ac", "S1       available later  06:00  S1-1 at 06:00",
			"  bay 1 free", "    1: gly, 100 of 100 left", "    2: empty", "Water: 1000 gal. Rinsate: 0 gal.",
		}, []string{"Under way", "Presumed", "In doubt"}},
		{"filling, in metric", "metric", 6*3600 + 60, nil, []string{
			"S1-1  burndown  filling *", "16.2", "  bay 1 fills S1-1 until 06:20; last mix burndown", "    1: gly, 90 of 100 left", "ha left", "- S1-1 filling",
		}, nil},
		{"rain on a filled tank", "us", 6*3600 + 2400, []standing.Fact{rain}, []string{
			"Decide now", "- S1 has 30.0 ac of burndown in its tank (load S1-1): it is sprayed out at",
			"Check efficacy", "- field A (job A, load S1-1): 10.0 ac sprayed by 06:40, rain began at 06:40; the",
		}, nil},
		{"out, and back later", "us", 8 * 3600, []standing.Fact{rain, out, later}, []string{
			"Left out: 1 report of what happened later (padturn mark lists them).", "S1       out  -     -", "S1 is out of service", "- gly arrived at 07:00",
		}, nil},
		{"done", "us", 9 * 3600, nil, []string{"1 load done, 0 under way, 0 to come", "B    field B   40.0      0.0        0.0     40.0"}, []string{"A    field A"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := statusOf(t, tt.units, tt.at, tt.facts...)
			for _, line := range tt.want {
				assert.Contains(t, got, line)
			}
			for _, line := range tt.not {
				assert.NotContains(t, got, line)
			}
			for line := range strings.SplitSeq(got, "\n") {
				assert.LessOrEqual(t, len([]rune(line)), 80)
			}
		})
	}
}

func TestCompareSaysWhatMovedAndWhatItCosts(t *testing.T) {
	cost := func(wait, late planfile.Number) planfile.Cost {
		return planfile.Cost{Dollars: wait + late, Parts: []planfile.CostPart{
			{Part: "wait", Dollars: wait}, {Part: "cleanout"}, {Part: "late", Dollars: late},
		}}
	}
	a := &planfile.Document{Totals: planfile.Totals{Loads: 4, Cost: cost(5_000_000_000, 0)}}
	b := &planfile.Document{Totals: planfile.Totals{Loads: 5, Cost: cost(3_500_000_000, 1_250_000_000)}, Replan: &planfile.Replan{At: 37_200}}
	var out strings.Builder
	require.NoError(t, Compare(&out, a, b, []Move{
		{"moved", "S1-2, 10:00 bay 1", "S1-2, 11:00 bay 2, for Home 80, Reed Creek and Brandt West, behind another load"},
	}, 80))
	for _, line := range []string{
		"Two plans: the day's (A) and the replan of 10:20 (B)", "  waiting sprayers  $5.00  $3.50  -$1.50", "  late jobs         $0.00  $1.25  +$1.25",
		"  total             $5.00  $4.75  -$0.25", "  moved  S1-2, 10:00 bay 1  S1-2, 11:00 bay 2, for Home 80, Reed Creek and\n                            Brandt West, behind another load",
	} {
		assert.Contains(t, out.String(), line)
	}
	assert.NotContains(t, out.String(), "cleanouts         $")
	out.Reset()
	require.NoError(t, Compare(&out, a, a, nil, 80))
	assert.Contains(t, out.String(), "No load moves by more than five minutes.")
}

func TestManyItemsAreCutShort(t *testing.T) {
	items := func(n int) []string { return strings.Split(strings.TrimSuffix(strings.Repeat("S1-1,", n), ","), ",") }
	print := func(n int, all bool) string {
		p := newPage(&planfile.Document{}, 80)
		p.listMost("In doubt", items(n), all)
		return p.out.String()
	}
	assert.Contains(t, print(57, false), "- and 45 more; --all lists them\n")
	assert.Equal(t, 12, strings.Count(print(57, false), "S1-1"))
	assert.Equal(t, 57, strings.Count(print(57, true), "S1-1"))
	assert.Equal(t, 13, strings.Count(print(13, false), "S1-1"), "one more is no reason")
}
