package model_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/model"
)

// The load of these tests is 800 gal of 53 1/3 ac with the default settings,
// worked by hand in minutes:
//
//	hook up 3, unhook 2
//	carrier 778.667 gal ÷ 200 = 3.8933
//	first part 400 gal ÷ 200 = 2
//	atrazine 80 lb: 4 bags of 25 lb × 90 s = 6, settle 3
//	glyphosate 13.333 gal ÷ 10 = 1.3333, push 0.5, settle 1
//	oil 8 gal: 4 jugs of 2.5 gal × 75 s = 5, settle 1
//
// The products take 2 + 9 + 2.8333 + 6 = 19.8333, the filling 24.8333 = 1490 s.
func TestFillTime(t *testing.T) {
	minutes := func(value string) model.Seconds { return model.CeilMinutes(dec(value)) }
	for _, row := range []struct {
		name string
		edit func(*model.Input)
		k    int // changeovers inside
		want model.Seconds
	}{
		{"by hand", func(*model.Input) {}, 0, 1490},
		{"a changeover inside", func(*model.Input) {}, 1, 1490 + minutes("8")},
		{"more of them than products", func(*model.Input) {}, 12, 1490 + 12*minutes("8")},
		// 778.667 ÷ 10 + 5 = 82.8667 min; the products take 40 + 17.8333 beside it.
		{"slow carrier decides", func(in *model.Input) { in.Settings.Pad.CarrierGpm = dec("10") }, 0, 4972},
		{"a changeover beside a slow carrier", func(in *model.Input) { in.Settings.Pad.CarrierGpm = dec("10") }, 2, 4972},
		{"changeovers beyond it", func(in *model.Input) { in.Settings.Pad.CarrierGpm = dec("10") }, 3, 5210},      // 57.8333 + 24 + 5
		{"all of the carrier first", func(in *model.Input) { in.Settings.Pad.CarrierFirst = model.One }, 0, 1604}, // 3.8933 for 2
		{"no carrier first", func(in *model.Input) { in.Settings.Pad.CarrierFirst = 0 }, 0, 1370},
		{"exactly full bags", func(in *model.Input) { in.Products[1].Pack = some("20") }, 0, 1490}, // 4 of 20 lb
		{"a bag more for a hair", func(in *model.Input) { in.Products[1].Pack = some("19.999999999") }, 0, 1580},
		{"a dry product by weight", func(in *model.Input) { in.Products[1].Pack = nil }, 0, 1210}, // 80 ÷ 60 for 6
		{"a liquid by weight", func(in *model.Input) {
			in.Products[2].Pack, in.Products[2].DensityLbGal = nil, some("7.5")
		}, 0, 1250}, // 60 lb ÷ 60 for 5
		{"bags by the ounce", func(in *model.Input) {
			in.Products[1].Unit, in.Products[1].Pack = "oz", some("400")
		}, 0, 1490}, // the pack is in the stock unit
		{"jugs take longer", func(in *model.Input) { in.Settings.Pad.JugSec = dec("100") }, 0, 1590},
		{"dry products settle longer", func(in *model.Input) { in.Settings.Pad.SettleDryMin = dec("5") }, 0, 1610},
		{"liquids settle longer", func(in *model.Input) { in.Settings.Pad.SettleLiquidMin = dec("2") }, 0, 1610}, // two of them
		{"rounded up once", func(in *model.Input) { in.Settings.Pad.UnhookMin = dec("2.000000001") }, 0, 1491},
	} {
		t.Run(row.name, func(t *testing.T) {
			in := smallDay()
			row.edit(&in)
			l := sound(t, in).RunLoads(0, []int{0})[0]
			assert.Equal(t, row.want, l.FillSeconds(row.k))
			assert.Len(t, l.Fill, len(l.Doses)+2)
		})
	}
}

func TestFillTimeOfWaterAlone(t *testing.T) {
	in := smallDay()
	in.Recipes = nil
	l := sound(t, in).RunLoads(0, []int{0})[0]
	assert.Equal(t, model.Seconds(9*60), l.FillSeconds(0), "800 gal ÷ 200 and 5 min")
	assert.Empty(t, l.Doses)
}

func TestDoseBegins(t *testing.T) {
	l := sound(t, smallDay()).RunLoads(0, []int{0})[0]
	for i, want := range []model.Seconds{
		300,  // hooked up and the first part in
		840,  // 9 min of atrazine
		1010, // 2.8333 min of glyphosate
		1370, // 6 min of oil: the end of the last
	} {
		assert.Equal(t, want, l.DoseBegins(i, 0), i)
		assert.Equal(t, want+960, l.DoseBegins(i, 2), i)
	}
}

func TestCarrierMinutes(t *testing.T) {
	p := sound(t, smallDay())
	// (15 - 0.25 - 0.15) gal/ac × 160 ac ÷ 200 gal/min
	assert.Equal(t, rat("11.68"), p.CarrierMinutes(0))
}
