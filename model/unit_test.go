package model_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"padturn/model"
)

func unit(name string) model.Unit {
	u, ok := model.FindUnit(name)
	if !ok {
		panic("no unit " + name)
	}
	return u
}

func TestConvert(t *testing.T) {
	for _, row := range []struct{ name, from, to, density, want string }{
		{"pints in a gallon", "gal", "pt", "", "8"},
		{"fluid ounces to litres", "floz", "L", "", "0.0295735295625"},
		{"ounces of weight in a pound", "lb", "oz", "", "16"},
		{"acres in a hectare", "ha", "ac", "", "100000000000/40468564224"},
		{"gallon by weight", "gal", "lb", "10.65", "10.65"},
		{"pound by volume", "lb", "gal", "8", "0.125"},
		{"quart by ounces of weight", "qt", "oz", "8", "32"},
		{"kilogram by litres, 1 kg/L", "kg", "L", "8.345404452", "1.0000000000"},
		{"density does not matter within volumes", "gal", "qt", "0.5", "4"},
	} {
		t.Run(row.name, func(t *testing.T) {
			var density *model.Decimal
			if row.density != "" {
				density = some(row.density)
			}
			got, err := model.Convert(unit(row.from), unit(row.to), density)
			require.NoError(t, err)
			if row.name == "kilogram by litres, 1 kg/L" {
				assertPrinted(t, row.want, nearest, got)
				return
			}
			assert.Equal(t, rat(row.want), got)
		})
	}
}

func TestConvertNeedsDensity(t *testing.T) {
	for _, pair := range [][2]string{{"gal", "lb"}, {"oz", "floz"}, {"kg", "L"}} {
		_, err := model.Convert(unit(pair[0]), unit(pair[1]), nil)
		assert.ErrorIs(t, err, model.ErrNeedsDensity)
	}
	assert.Panics(t, func() { unit("gal").Per(unit("lb")) }, "a mistake of the caller")
}

func TestConversionsGoThereAndBack(t *testing.T) {
	names := model.StockUnitNames()
	rapid.Check(t, func(t *rapid.T) {
		a := unit(rapid.SampledFrom(names).Draw(t, "a"))
		b := unit(rapid.SampledFrom(names).Draw(t, "b"))
		c := unit(rapid.SampledFrom(names).Draw(t, "c"))
		density := model.Decimal(rapid.Int64Range(int64(model.One), 40*int64(model.One)).Draw(t, "density"))
		ab, err := model.Convert(a, b, &density)
		require.NoError(t, err)
		ba, err := model.Convert(b, a, &density)
		require.NoError(t, err)
		require.Equal(t, rat("1"), ba.Mul(ba, ab))
		bc, err := model.Convert(b, c, &density)
		require.NoError(t, err)
		ac, err := model.Convert(a, c, &density)
		require.NoError(t, err)
		require.Equal(t, ac, bc.Mul(bc, ab), "through a third unit")
	})
}

func TestParseRateUnit(t *testing.T) {
	for _, row := range []struct {
		text, unit string
		base       model.RateBase
		factor     string
	}{
		{"floz/ac", "floz", model.PerAcre, "1"},
		{"L/ha", "L", model.PerAcre, "0.40468564224"},
		{"kg/ha", "kg", model.PerAcre, "0.40468564224"},
		{"lb/100gal", "lb", model.PerGallon, "0.01"},
		{"mL/100L", "mL", model.PerGallon, "0.03785411784"},
		{"%v/v", "gal", model.SprayShare, "0.01"},
	} {
		t.Run(row.text, func(t *testing.T) {
			got, err := model.ParseRateUnit(row.text)
			require.NoError(t, err)
			assert.Equal(t, row.unit, got.Unit.Name)
			assert.Equal(t, row.base, got.Base)
			assert.Equal(t, rat(row.factor), got.Factor)
		})
	}
}

func TestEveryStockUnitMakesARateUnit(t *testing.T) {
	for _, name := range model.StockUnitNames() {
		for _, base := range []string{"ac", "ha", "100gal", "100L"} {
			got, err := model.ParseRateUnit(name + "/" + base)
			require.NoError(t, err, name+"/"+base)
			assert.Equal(t, name, got.Unit.Name)
		}
	}
}

func TestParseRateUnitRefuses(t *testing.T) {
	for _, text := range []string{"", "gal", "gal/", "/ac", "ac/ac", "gal/acre", "Gal/ac", "ml/ha", "fl oz/ac", "gal/100 gal", "%", "% v/v", "%w/w", "gal/ac/ac"} {
		_, err := model.ParseRateUnit(text)
		assert.ErrorContains(t, err, "expected one of gal, qt, pt, floz", "%q", text)
	}
}
