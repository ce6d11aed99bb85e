package handout

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/io/planfile"
	"padturn/model"
)

func number(t testing.TB, text string) planfile.Number {
	t.Helper()
	d, err := model.ParseDecimal(text)
	require.NoError(t, err)
	return planfile.Number(d)
}

// product is a product of the list; pack and density may be blank.
func product(t testing.TB, name, form, unit, handling, pack, density string) planfile.Product {
	p := planfile.Product{Product: name, Form: form, Unit: unit, Handling: handling}
	if pack != "" {
		n := number(t, pack)
		p.Pack = &n
	}
	if density != "" {
		n := number(t, density)
		p.DensityLbGal = &n
	}
	return p
}

func TestMeasure(t *testing.T) {
	for _, row := range []struct {
		name                       string
		form, unit, handling, pack string
		density, smallest, amount  string // in the stock unit
		metric                     bool
		one, measure               string
	}{
		{"metered, a tenth of a gallon", "SL", "gal", "metered", "", "", "20", "93.84375", false, "93.8 gal", "93.8 gal"},
		{"metered, smallest dose under 10 gal", "SL", "gal", "metered", "", "", "9.99", "9.996", false, "10.00 gal", "10.00 gal"},
		{"metered, a little", "SL", "gal", "metered", "", "", "0.5", "0.5", false, "64.0 fl oz", "64.0 fl oz"},
		{"jugs and fluid ounces", "SC", "gal", "hopper", "2.5", "", "3", "10.2890625", false, "1317 fl oz", "4 jugs of 2.5 gal + 37 fl oz"},
		{"jugs and pints", "SC", "gal", "hopper", "2.5", "", "3", "5.5", false, "704 fl oz", "2 jugs of 2.5 gal + 4 pt"},
		{"jugs, gallons and the rest", "SC", "gal", "hopper", "2.5", "", "3", "4.2", false, "538 fl oz", "1 jug of 2.5 gal + 1 gal 90 fl oz"},
		{"whole jugs", "SC", "gal", "hopper", "2.5", "", "3", "7.5", false, "960 fl oz", "3 jugs of 2.5 gal"},
		{"a hair under a whole jug", "SC", "gal", "hopper", "2.5", "", "3", "7.4999", false, "960 fl oz", "3 jugs of 2.5 gal"},
		{"part of a jug", "SC", "gal", "hopper", "2.5", "", "1", "1", false, "128 fl oz", "1 gal of one jug"},
		{"poured, no pack", "SC", "qt", "hopper", "", "", "4", "5", false, "160 fl oz", "1 gal 2 pt"},
		{"bags and pounds", "WG", "lb", "hopper", "51", "", "60", "126.44", false, "126.4 lb", "2 bags of 51 lb + 24.4 lb"},
		{"bags, pounds and ounces", "WG", "lb", "hopper", "5", "", "7", "8.2", false, "131.2 oz", "1 bag of 5 lb + 3 lb 3.2 oz"},
		{"ounces", "SG", "oz", "hopper", "20", "", "31", "31.24", false, "31.2 oz", "1 bag of 20 oz + 11.2 oz"},
		{"dry, no pack", "SP", "lb", "hopper", "", "", "100", "136", false, "136.0 lb", "136.0 lb"},
		{"metric meter", "SL", "L", "metered", "", "", "50", "355.23", true, "355.2 L", "355.2 L"},
		{"metric jugs", "SC", "L", "hopper", "10", "", "20", "23.456", true, "23.46 L", "2 jugs of 10 L + 3.46 L"},
		{"metric, kept in gallons", "SC", "gal", "hopper", "2.5", "", "3", "3", true, "11.36 L", "1 jug of 2.5 gal + 1.90 L"},
		{"metric bags", "WG", "kg", "hopper", "10", "", "12", "25.06", true, "25.1 kg", "2 bags of 10 kg + 5.1 kg"},
		{"grams", "WG", "g", "hopper", "", "", "150", "150.4", true, "150 g", "150 g"},
		{"liquid kept by weight", "SL", "lb", "metered", "", "10", "200", "200", false, "20.0 gal", "20.0 gal"},
		{"dry kept by volume, no density", "GR", "gal", "hopper", "", "", "2", "2", false, "256 fl oz", "2 gal"},
	} {
		t.Run(row.name, func(t *testing.T) {
			by := usLadders
			if row.metric {
				by = metricLadders
			}
			smallest := model.Decimal(number(t, row.smallest)).Rat()
			p := newSubstance(product(t, "p", row.form, row.unit, row.handling, row.pack, row.density), smallest, by)
			a := Amount{p.amount.round(p.exact(model.Decimal(number(t, row.amount)).Rat(), p.amount)), p.amount}
			assert.Equal(t, row.one, a.String())
			assert.Equal(t, row.measure, p.measure(a))
		})
	}
}

func TestTallyCarriesTheRestOn(t *testing.T) {
	var sums tally
	var got []string
	for range 3 { // thirds of 56 gal to a tenth: 18.666...
		got = append(got, sums.add(big.NewRat(56, 3), Scale{"gal", 1}).String())
	}
	assert.Equal(t, []string{"18.7 gal", "18.6 gal", "18.7 gal"}, got)
}

func TestAmountNumber(t *testing.T) {
	for want, a := range map[string]Amount{
		"0": {0, Scale{"gal", 0}}, "0.0": {0, Scale{"gal", 1}}, "0.05": {5, Scale{"gal", 2}},
		"12.3": {123, Scale{"lb", 1}}, "1.00": {100, Scale{"lb", 2}},
	} {
		assert.Equal(t, want, a.Number())
	}
}
