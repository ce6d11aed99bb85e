package model_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
)

func TestLoadCount(t *testing.T) {
	for _, row := range []struct {
		name, acres, gpa, tank string
		want                   int
	}{
		{"part of a tank", "3.5", "15", "1000", 1},
		{"exactly one tank", "50", "20", "1000", 1},
		{"a billionth of an acre more", "50.000000001", "20", "1000", 2},
		{"160 ac at 15 gal/ac", "160", "15", "1000", 3},
		{"thirds that add up", "0.3", "10", "1", 3},
		{"tank of one acre", "7", "12.5", "12.5", 7},
	} {
		t.Run(row.name, func(t *testing.T) {
			assert.Equal(t, row.want, model.LoadCount(dec(row.acres), dec(row.gpa), dec(row.tank)))
		})
	}
}

// TestSplit is the fact sheet's case, computed: 160 ac, 15 gal/ac, 1,000 gal.
func TestSplit(t *testing.T) {
	for _, row := range []struct {
		split      string
		acres, gal []string
		spray      []model.Seconds // at 120 ac/h, 30 s an acre
	}{
		// An equal third takes 1600 s exactly; 53.333333334 ac would take a second more.
		{"even", []string{"53.333333333", "53.333333334", "53.333333333"}, []string{"800", "800", "800"}, []model.Seconds{1600, 1600, 1600}},
		{"full_first", []string{"66.666666667", "66.666666666", "26.666666667"}, []string{"1000", "1000", "400"}, []model.Seconds{2000, 2000, 800}},
	} {
		t.Run(row.split, func(t *testing.T) {
			in := smallDay()
			in.Settings.Split = row.split
			loads := sound(t, in).RunLoads(0, []int{0})
			require.Len(t, loads, 3)
			for k, l := range loads {
				require.Len(t, l.Parts, 1)
				assert.Equal(t, row.acres[k], l.Parts[0].Acres.String())
				assert.Equal(t, row.gal[k], l.Gal.String())
				assert.Equal(t, row.spray[k], l.Parts[0].Spray)
				assert.Equal(t, model.Seconds(720), l.DriveOut)
				assert.Equal(t, model.Seconds(720), l.DriveBack)
			}
		})
	}
}

func TestDosesOfALoad(t *testing.T) {
	p := sound(t, smallDay())
	l := p.RunLoads(0, []int{0})[0] // 53 1/3 ac, 800 gal
	want := []struct{ product, amount, gal string }{
		{"atrazine", "80", "0"},                        // 1.5 lb/ac; dry takes no room
		{"glyphosate", "13.333333333", "13.333333333"}, // 32 floz/ac is a quarter gallon
		{"oil", "8", "8"},                              // 1 % of 800 gal
	}
	require.Len(t, l.Doses, len(want))
	for i, w := range want {
		d := l.Doses[i]
		assert.Equal(t, i, d.Ingredient)
		assert.Equal(t, w.product, p.ProductName(d.Product))
		assert.Equal(t, w.amount, d.Amount.String(), w.product)
		assert.Equal(t, w.gal, d.Gal.String(), w.product)
	}
	assert.Equal(t, "778.666666667", l.Carrier.String(), "what the liquids leave of 800 gal")
	assert.Equal(t, "400", l.First.String(), "half of the spray volume")
}

// TestUsualAdjuvantRates has usual label figures (from memory), computed for a
// load of 800 gal.
func TestUsualAdjuvantRates(t *testing.T) {
	for _, row := range []struct{ name, form, rate, unit, stock, want string }{
		{"surfactant 0.25 % v/v", "SL", "0.25", "%v/v", "gal", "2"},
		{"surfactant 0.5 % v/v", "SL", "0.5", "%v/v", "pt", "32"},
		{"ammonium sulfate 17 lb per 100 gal", "SG", "17", "lb/100gal", "lb", "136"},
		{"ammonium sulfate 8.5 lb per 100 gal", "SG", "8.5", "lb/100gal", "lb", "68"},
		{"2 L/ha", "SL", "2", "L/ha", "L", "43.166469"}, // 53 1/3 ac are 21.583234 ha
		{"100 mL per 100 L", "SL", "100", "mL/100L", "gal", "0.8"},
	} {
		t.Run(row.name, func(t *testing.T) {
			load := firstEvenLoad(t, row.form, row.rate, row.unit, row.stock)
			assert.Equal(t, "800", load.Gal.String())
			assertPrinted(t, row.want, nearest, load.Doses[0].Amount.Rat())
		})
	}
}

func firstEvenLoad(t *testing.T, form, rate, unit, stock string) model.Load {
	t.Helper()
	in := smallDay()
	in.Products = []model.ProductRow{{Product: "x", Form: form, Unit: stock, Handling: "hopper", Pack: some("5")}}
	in.Recipes = []model.RecipeRow{{Mix: "corn", Product: "x", Rate: dec(rate), Unit: unit}}
	in.Stock = nil
	return sound(t, in).RunLoads(0, []int{0})[0]
}

func TestCarrierAndFirstPart(t *testing.T) {
	for _, row := range []struct{ name, first, floz, carrier, want string }{
		{"half of the spray", "0.5", "32", "778.666666667", "400"},
		{"nothing first", "0", "32", "778.666666667", "0"},
		{"no more than there is", "1", "32", "778.666666667", "778.666666667"},
		// 15 - 1900/128 - 0.15 leaves 0.00625 gal/ac.
		{"a mix that leaves little carrier", "0.5", "1900", "0.333333333", "0.333333333"},
		{"a mix that leaves none", "0.5", "1900.8", "0", "0"},
	} {
		t.Run(row.name, func(t *testing.T) {
			in := smallDay()
			in.Settings.Pad.CarrierFirst = dec(row.first)
			in.Recipes[1].Rate = dec(row.floz)
			l := sound(t, in).RunLoads(0, []int{0})[0]
			assert.Equal(t, row.carrier, l.Carrier.String())
			assert.Equal(t, row.want, l.First.String())
		})
	}
}

func TestCarrierAmount(t *testing.T) {
	for _, row := range []struct{ name, unit, density, want string }{
		{"water, in gallons", "", "", "778.666666667"},
		{"fertilizer kept in gallons", "gal", "", "778.666666667"},
		{"fertilizer kept in litres", "L", "", "2947.573976"},
		{"28-0-0 kept in pounds", "lb", "10.65", "8292.8"}, // 778 2/3 × 10.65
	} {
		t.Run(row.name, func(t *testing.T) {
			in := smallDay()
			if row.unit != "" {
				uan := model.ProductRow{Product: "uan", Form: "SL", Unit: row.unit, Handling: "metered"}
				if row.density != "" {
					uan.DensityLbGal = some(row.density)
				}
				in.Products = append(in.Products, uan)
				in.Mixes[0].Carrier = "uan"
				in.Settings.Pad.Bays[0].Carriers = []string{"uan"}
			}
			p := sound(t, in)
			l := p.RunLoads(0, []int{0})[0]
			assertPrinted(t, row.want, nearest, p.CarrierAmount(&l).Rat())
		})
	}
}

func TestSharedRun(t *testing.T) {
	type part struct {
		job, acres   string
		spray, drive model.Seconds
	}
	for _, row := range []struct {
		name, split, first, second string
		parts                      [][]part
	}{
		// 90 ac at 15 gal/ac are two loads of 45 ac.
		{"end of one, start of the next", "even", "40", "50", [][]part{
			{{"J1", "40", 1200, 0}, {"J2", "5", 150, 240}},
			{{"J2", "45", 1350, 0}},
		}},
		{"a load that ends where a job ends touches one job", "even", "45", "45", [][]part{
			{{"J1", "45", 1350, 0}},
			{{"J2", "45", 1350, 0}},
		}},
		{"both in one load", "even", "20", "30", [][]part{
			{{"J1", "20", 600, 0}, {"J2", "30", 900, 240}},
		}},
		{"full first", "full_first", "40", "40", [][]part{
			{{"J1", "40", 1200, 0}, {"J2", "26.666666667", 800, 240}},
			{{"J2", "13.333333333", 400, 0}},
		}},
	} {
		t.Run(row.name, func(t *testing.T) {
			in := neighbours()
			in.Settings.Split = row.split
			in.Jobs[0].Acres, in.Jobs[1].Acres = dec(row.first), dec(row.second)
			p := sound(t, in)
			loads := p.RunLoads(0, []int{0, 1})
			require.Len(t, loads, len(row.parts))
			for k, l := range loads {
				var got []part
				for _, q := range l.Parts {
					got = append(got, part{p.Jobs[q.Job].Name, q.Acres.String(), q.Spray, q.Drive})
				}
				assert.Equal(t, row.parts[k], got)
				first, last := l.Parts[0].Job, l.Parts[len(l.Parts)-1].Job
				assert.Equal(t, p.DriveFromPad(0, first), l.DriveOut)
				assert.Equal(t, p.DriveFromPad(0, last), l.DriveBack)
				assert.Equal(t, l.DriveOut, l.DriveTo(0))
				if len(got) > 1 {
					assert.Equal(t, got[1].drive, l.DriveTo(1))
				}
			}
		})
	}
}

func TestJobsVolumeRateOverridesTheMix(t *testing.T) {
	in := smallDay()
	in.Jobs[0].GPA = some("20")
	loads := sound(t, in).RunLoads(0, []int{0}) // 160 × 20 = 3200 gal
	require.Len(t, loads, 4)
	assert.Equal(t, "800", loads[0].Gal.String())
	assert.Equal(t, "60", loads[0].Doses[0].Amount.String(), "1.5 lb/ac of 40 ac: by the acre, as before")
	assert.Equal(t, "8", loads[0].Doses[2].Amount.String(), "1 % of more spray an acre")
}
