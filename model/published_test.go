package model_test

import (
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
)

// question reads an answer off the first load of a day.
type question func(l *model.Load) *big.Rat

func amount(l *model.Load) *big.Rat      { return l.Doses[0].Amount.Rat() }
func spray(l *model.Load) *big.Rat       { return l.Gal.Rat() }
func acresOfLoad(l *model.Load) *big.Rat { return l.Parts[0].Acres.Rat() }
func amountPerGal(l *model.Load) *big.Rat {
	return new(big.Rat).Quo(amount(l), spray(l))
}

func TestPublishedExamples(t *testing.T) {
	for _, w := range workedExamples {
		t.Run(w.source+" "+w.id, func(t *testing.T) {
			require.Contains(t, publications, w.source)
			load := firstLoad(t, &w)
			assertPrinted(t, w.printed, w.rounding, w.ask(&load))
		})
	}
}

func TestPublishedPintsPerAcre(t *testing.T) {
	for _, row := range pintsPerAcre.rows {
		for i, printed := range row.printed {
			if printed == "" {
				continue
			}
			active := pintsPerAcre.active[i]
			t.Run(active+" lb of "+row.perGal+" lb/gal", func(t *testing.T) {
				load := firstLoad(t, &worked{
					tank: "500", gpa: "10", acres: "1", rate: active, rateUnit: "lb/ac", stock: "pt", density: row.perGal,
				})
				assertPrinted(t, printed, coarse, amount(&load))
			})
		}
	}
}

func TestPublishedDensities(t *testing.T) {
	for _, d := range densities {
		t.Run(d.liquid, func(t *testing.T) {
			weighed := worked{tank: "500", gpa: "50", acres: "1", rate: "1", rateUnit: "gal/ac", stock: "lb", density: d.lbPerGal}
			load := firstLoad(t, &weighed)
			assertPrinted(t, d.lbPerGal, nearest, amount(&load))
			metered := worked{tank: "500", gpa: "50", acres: "1", rate: d.lbPerGal, rateUnit: "lb/ac", stock: "gal", density: d.lbPerGal}
			load = firstLoad(t, &metered)
			assert.Equal(t, "1", load.Doses[0].Amount.String(), "and back")
		})
	}
}

func TestPublishedFieldCapacity(t *testing.T) {
	for _, c := range capacities {
		t.Run(c.source+" "+c.ft+" ft at "+c.mph, func(t *testing.T) {
			require.Contains(t, publications, c.source)
			in := smallDay()
			s := &in.Sprayers[0]
			s.AcPerH, s.BoomFt, s.Mph, s.Efficiency = nil, some(c.ft), some(c.mph), some(c.efficiency)
			perAcre := sound(t, in).Sprayers[0].SecondsPerAcre
			assertPrinted(t, c.printed, nearest, new(big.Rat).Quo(big.NewRat(3600, 1), perAcre))
			assertPrinted(t, c.printed, nearest, model.FieldCapacity(dec(c.ft), dec(c.mph), dec(c.efficiency)))
		})
	}
}

func TestUnitConstants(t *testing.T) {
	for _, c := range unitConstants {
		t.Run(c.unit+" in "+c.in, func(t *testing.T) {
			from, ok := model.FindUnit(c.unit)
			require.True(t, ok)
			to, ok := model.FindUnit(c.in)
			require.True(t, ok)
			assert.Equal(t, rat(c.handbook44), from.Per(to))
			assertPrinted(t, c.sp811, nearest, from.Per(to))
		})
	}
}

// firstLoad plans the fillings of the day of a worked example and returns the
// first.
func firstLoad(t *testing.T, w *worked) model.Load {
	t.Helper()
	in := model.Input{Settings: model.DefaultSettings()}
	in.Settings.Split = "full_first"
	in.Mixes = []model.MixRow{{Mix: "mix", GPA: dec(w.gpa)}}
	in.Sprayers = []model.SprayerRow{{Sprayer: "S1", TankGal: dec(w.tank), AcPerH: some("100")}}
	in.Jobs = []model.JobRow{{Field: "field", Sprayer: "S1", Mix: "mix", Acres: dec(w.acres), DriveMin: some("10")}}
	if w.rate != "" {
		product := model.ProductRow{Product: "product", Form: "EC", Unit: w.stock, Handling: "hopper", Pack: some("1")}
		if unit, ok := model.FindUnit(w.stock); ok && unit.Dim == model.Mass && w.density == "" {
			product.Form = "WP"
		}
		if w.density != "" {
			product.DensityLbGal = some(w.density)
		}
		in.Products = []model.ProductRow{product}
		in.Recipes = []model.RecipeRow{{Mix: "mix", Product: "product", Rate: dec(w.rate), Unit: w.rateUnit}}
	}
	p := sound(t, in)
	loads := p.RunLoads(0, []int{0})
	require.Len(t, loads, model.LoadCount(dec(w.acres), dec(w.gpa), dec(w.tank)))
	return loads[0]
}

// assertPrinted compares an exact value with a printed one at the source's own
// rounding. A printed fraction is exact.
func assertPrinted(t *testing.T, printed string, r rounding, got *big.Rat) {
	t.Helper()
	want := rat(printed)
	unit := big.NewRat(1, 1)
	if _, decimals, ok := strings.Cut(printed, "."); ok {
		unit = rat("1e-" + big.NewInt(int64(len(decimals))).String())
	}
	low, high := new(big.Rat), new(big.Rat)
	switch r {
	case nearest:
		half := new(big.Rat).Quo(unit, big.NewRat(2, 1))
		if strings.Contains(printed, "/") {
			half = big.NewRat(1, int64(model.One)) // loads are kept to the billionth
		}
		low.Sub(want, half)
		high.Add(want, half)
	case truncated:
		low.Set(want)
		high.Add(want, unit)
	case coarse:
		low.Sub(want, big.NewRat(1, 20))
		high.Add(want, big.NewRat(1, 20))
	}
	assert.True(t, low.Cmp(got) <= 0 && got.Cmp(high) <= 0, "printed %s, got %s", printed, got.FloatString(6))
}
