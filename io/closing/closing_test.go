package closing

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/model/standing"
)

func ac(n int64) model.Decimal { return model.WholeDecimal(n) }

// closedDay is a load of 30 acres of A and 10 of B, of which the last 4 were
// left, with a restricted product and one that is none.
func closedDay(t *testing.T, facts ...standing.Fact) *standing.Standing {
	t.Helper()
	in := model.Input{Settings: model.DefaultSettings()}
	in.Settings.Date = "2026-06-30"
	in.Settings.Pad.Bays[0].Hooked = []string{"atra"}
	in.Products = []model.ProductRow{
		{Product: "atra", Form: "SC", Unit: "gal", Handling: "metered", EPARegNo: "00000-102", Restricted: true, ReorderAt: model.Some(ac(25))},
		{Product: "meso", Form: "SC", Unit: "gal", Handling: "hopper", Pack: model.Some(ac(1)), EPARegNo: "00000-105"},
		{Product: "oil", Form: "SO", Unit: "gal", Handling: "hopper", Pack: model.Some(ac(1))},
	}
	in.Mixes = []model.MixRow{{Mix: "post", GPA: ac(10)}}
	in.Recipes = []model.RecipeRow{
		{Mix: "post", Product: "atra", Rate: ac(1), Unit: "qt/ac"}, {Mix: "post", Product: "meso", Rate: ac(16), Unit: "floz/ac"},
		{Mix: "post", Product: "oil", Rate: ac(1), Unit: "%v/v"},
	}
	in.Stock = []model.StockRow{
		{Product: "atra", Container: "drum", Size: ac(30), Full: ac(1), Open: model.Some(ac(6))},
		{Product: "meso", Container: "jug", Size: ac(1), Full: ac(9)}, {Product: "oil", Container: "jug", Size: ac(1), Full: ac(9)},
	}
	in.Sprayers = []model.SprayerRow{{Sprayer: "S1", TankGal: ac(400), AcPerH: model.Some(ac(60))}}
	in.Jobs = []model.JobRow{
		{Job: "A", Field: "north", Mix: "post", Acres: ac(30), DriveMin: model.Some(ac(10)), Customer: "Ott Brothers", Crop: "corn", Lat: model.Some(41.5), Lon: model.Some(-93.25)},
		{Job: "B", Field: "south", Mix: "post", Acres: ac(10), DriveMin: model.Some(ac(10))},
	}
	told := standing.Told{Loads: []standing.Planned{{
		ID: "S1-1", Bay: "bay 1", Sprayer: "S1", Mix: "post", CarrierGal: ac(381),
		Parts: []standing.Part{{Job: "A", Acres: ac(30), Spray: 1800, SprayedAt: 25800}, {Job: "B", Acres: ac(10), Drive: 60, Spray: 600, SprayedAt: 26460}},
		Doses: []standing.Dose{{Product: "atra", Amount: ac(10), Metered: true}, {Product: "meso", Amount: ac(5)}, {Product: "oil", Amount: ac(4)}},
		Start: 22200, SetupStart: 22200, Ready: 22200, CleanoutFrom: 22200, End: 23400, BackAt: 27060, DriveOut: 600, DriveBack: 600,
	}}}
	s, err := standing.AtEnd(in, told, facts)
	require.NoError(t, err)
	return s
}

func lines(t *testing.T, sheets map[string][]byte, name string) []string {
	t.Helper()
	return strings.Split(strings.TrimSuffix(string(sheets[name]), "\n"), "\n")[1:]
}

func TestADayThatNobodyReported(t *testing.T) {
	sheets := Sheets(closedDay(t), ac(5), false)
	assert.Equal(t, []string{
		"atra,gal,36.0000,0.0000,26.0000,10.0000,10.0000,0.0000,0.00,no,as planned; nobody counted",
		"meso,gal,9.0000,0.0000,4.0000,5.0000,5.0000,0.0000,0.00,no,as planned; nobody counted",
		"oil,gal,9.0000,0.0000,5.0000,4.0000,4.0000,0.0000,0.00,no,as planned; nobody counted",
	}, lines(t, sheets, UseFile))
	assert.Equal(t, []string{"atra,drum,1", "meso,jug,5", "oil,jug,4"}, lines(t, sheets, ContainersFile))
	assert.Equal(t, []string{
		"2026-06-30,06:40,07:10,Ott Brothers,FILL IN,north,41.5,-93.25,30.0000,corn,atra,00000-102,yes,7.5000,gal,FILL IN,FILL IN,FILL IN,A,post,S1,S1-1,presumed as planned: check",
		"2026-06-30,07:11,07:21,FILL IN,FILL IN,south,,,10.0000,FILL IN,atra,00000-102,yes,2.5000,gal,FILL IN,FILL IN,FILL IN,B,post,S1,S1-1,presumed as planned: check",
	}, lines(t, sheets, RecordsFile))
}

func TestADayThatWasReported(t *testing.T) {
	four := ac(4)
	s := closedDay(t,
		standing.Fact{N: 1, At: 23400, News: standing.LoadMark{Load: "S1-1", State: standing.Filled, Drew: []standing.Drew{{Product: "atra", Amount: ac(12)}}}},
		standing.Fact{N: 2, At: 26400, News: standing.LoadMark{Load: "S1-1", State: standing.Done, AcresLeft: &four}},
		standing.Fact{N: 3, At: 60000, News: standing.StockCount{Product: "meso", Container: "jug", Size: ac(1), Full: ac(0), Open: []model.Decimal{model.One / 2}}},
	)
	sheets := Sheets(s, ac(5), true)
	assert.Equal(t, []string{
		"atra,gal,36.0000,0.0000,24.0000,10.0000,12.0000,2.0000,20.00,yes,counted or metered",
		"meso,gal,9.0000,0.0000,0.5000,5.0000,8.5000,3.5000,70.00,yes,counted or metered",
		"oil,gal,9.0000,0.0000,5.0000,4.0000,4.0000,0.0000,0.00,no,as planned; nobody counted",
	}, lines(t, sheets, UseFile))
	assert.Equal(t, []string{
		"atra,gal,24.0000,25.0000,1.0000,0.0000,below its reorder level",
	}, lines(t, sheets, ReorderFile))
	records := lines(t, sheets, RecordsFile)
	require.Len(t, records, 4, "with --all the product that is not restricted too; not the one without a number")
	assert.Contains(t, records[2], ",south,,,6.0000,FILL IN,atra,00000-102,yes,2.0000,gal,", "12 gal were in the tank and went on 36 acres")
	assert.Contains(t, records[2], ",reported")
	assert.Contains(t, records[1], ",meso,00000-105,no,4.1667,gal,")
}

func TestWhatIsLookedInto(t *testing.T) {
	tests := []struct {
		name            string
		projected, real model.Decimal
		want            bool
	}{
		{"as projected", ac(100), ac(100), false},
		{"5 % more", ac(100), ac(105), false},
		{"a drop over 5 %", ac(100), ac(105) + 1_000_000, true},
		{"6 % less", ac(100), ac(94), true},
		{"gone, and nothing was to be", 0, ac(1), true},
		{"found, and nothing was to be", 0, -ac(1), true},
		{"nothing at all", 0, 0, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			assert.Equal(t, tt.want, IsOff(&standing.Use{Projected: tt.projected, Real: tt.real}, ac(5)))
		})
	}
}
