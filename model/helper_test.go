package model_test

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"

	"padturn/model"
)

// dec reads a number of a test.
func dec(text string) model.Decimal {
	d, err := model.ParseDecimal(text)
	if err != nil {
		panic(text + " " + err.Error())
	}
	return d
}

// some is dec for a cell that may be blank.
func some(text string) *model.Decimal { return model.Some(dec(text)) }

// clock reads a time of a test.
func clock(text string) model.Clock {
	c, err := model.ParseHHMM(text)
	if err != nil {
		panic(text + " " + err.Error())
	}
	return c
}

func rat(text string) *big.Rat {
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		panic(text + " is not a number")
	}
	return r
}

// smallDay is a sound day to change for a test: one sprayer, one bay, one job
// of a mix of a metered liquid, a dry product in bags and a liquid in jugs.
func smallDay() model.Input {
	in := model.Input{Settings: model.DefaultSettings()}
	in.Products = []model.ProductRow{
		{Product: "glyphosate", Form: "SL", Unit: "gal", Handling: "metered", Groups: []string{"weak acid"}},
		{Product: "atrazine", Form: "WG", Unit: "lb", Handling: "hopper", Pack: some("25"), Groups: []string{"triazine"}},
		{Product: "oil", Form: "SO", Unit: "gal", Handling: "hopper", Pack: some("2.5")},
	}
	in.Mixes = []model.MixRow{{Mix: "corn", GPA: dec("15")}}
	in.Recipes = []model.RecipeRow{
		{Mix: "corn", Product: "oil", Rate: dec("1"), Unit: "%v/v"},
		{Mix: "corn", Product: "glyphosate", Rate: dec("32"), Unit: "floz/ac"},
		{Mix: "corn", Product: "atrazine", Rate: dec("1.5"), Unit: "lb/ac"},
	}
	in.Stock = []model.StockRow{
		{Product: "glyphosate", Container: "tote", Size: dec("265"), Full: dec("2")},
		{Product: "atrazine", Container: "bag", Size: dec("25"), Full: dec("40")},
		{Product: "oil", Container: "jug", Size: dec("2.5"), Full: dec("40")},
	}
	in.Sprayers = []model.SprayerRow{{Sprayer: "S1", TankGal: dec("1000"), AcPerH: some("120")}}
	in.Jobs = []model.JobRow{{Job: "J1", Field: "north", Sprayer: "S1", Mix: "corn", Acres: dec("160"), Crop: "corn", DriveMin: some("12")}}
	return in
}

// sound makes the problem of an input that has nothing wrong with it.
func sound(t testing.TB, in model.Input) *model.Problem {
	t.Helper()
	p, report := model.NewProblem(in)
	require.Empty(t, report.Errors)
	return p
}
