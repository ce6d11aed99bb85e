package model_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
)

func TestEveryFormulationHasAClassInEveryAddingOrder(t *testing.T) {
	codes := model.FormulationCodes()
	for _, name := range model.AddingOrderNames() {
		t.Run(name, func(t *testing.T) {
			order, ok := model.FindAddingOrder(name)
			require.True(t, ok)
			assert.NotEmpty(t, order.Source)
			assert.Len(t, order.Class, len(codes), "no class for a code that is not one")
			for _, code := range codes {
				// 1 and 2 are conditioners and soluble packs, which only a step gives.
				assert.GreaterOrEqual(t, order.Class[code], 3, code)
				assert.LessOrEqual(t, order.Class[code], 9, code)
			}
		})
	}
	assert.Equal(t, model.DefaultAddingOrder, model.AddingOrderNames()[0])
}

func TestAddingOrdersFollowTheirSources(t *testing.T) {
	for _, row := range []struct {
		order string
		codes []string // each goes in before the next
	}{
		{"dry-sc-sl-ec", []string{"WG", "SG", "SC", "SL", "EC", "SO"}},
		{"soluble-dry-sc-ec-sl", []string{"SG", "WG", "SC", "EC", "SL"}},
		{"dry-cs-ec-sl-soluble", []string{"WP", "WG", "CS", "EC", "SL", "SP", "SO"}},
	} {
		t.Run(row.order, func(t *testing.T) {
			order, ok := model.FindAddingOrder(row.order)
			require.True(t, ok)
			for i := 1; i < len(row.codes); i++ {
				assert.Less(t, order.Class[row.codes[i-1]], order.Class[row.codes[i]], row.codes[i-1:i+1])
			}
			assert.Less(t, order.Class["CS"], order.Class["ME"], "capsules are suspensions, ME is a micro-emulsion")
		})
	}
}

func TestFormulations(t *testing.T) {
	for _, row := range []struct {
		code string
		dry  bool
	}{
		{"WG", true}, {"WP", true}, {"SG", true}, {"SP", true}, {"GR", true}, {"TB", true}, {"OP", true},
		{"SL", false}, {"EC", false}, {"SC", false}, {"CS", false}, {"OD", false}, {"GL", false}, {"GW", false}, {"ZC", false},
	} {
		form, ok := model.FindFormulation(row.code)
		require.True(t, ok, row.code)
		assert.Equal(t, row.dry, form.Dry, row.code)
		assert.NotEmpty(t, form.Name)
	}
	for _, code := range []string{"", "XX", "sl", "DF", "WDG"} {
		_, ok := model.FindFormulation(code)
		assert.False(t, ok, code)
	}
}

func TestAnAddingOrderIsACopy(t *testing.T) {
	order, _ := model.FindAddingOrder(model.DefaultAddingOrder)
	order.Class["SL"] = 99
	again, _ := model.FindAddingOrder(model.DefaultAddingOrder)
	assert.Equal(t, 6, again.Class["SL"])
	_, ok := model.FindAddingOrder("WALES")
	assert.False(t, ok)
}

func TestRecipesGoInByClassUnlessAStepSays(t *testing.T) {
	for _, row := range []struct {
		name, order, oilStep string
		want                 []string
	}{
		{"by class, not by file", "dry-sc-sl-ec", "", []string{"atrazine", "glyphosate", "oil"}},
		{"step wins", "dry-sc-sl-ec", "1", []string{"oil", "atrazine", "glyphosate"}},
		{"step between classes", "dry-sc-sl-ec", "3.5", []string{"atrazine", "oil", "glyphosate"}},
		{"ties keep the file's order", "dry-sc-sl-ec", "6", []string{"atrazine", "oil", "glyphosate"}},
		{"oil with the emulsions, solutions last", "soluble-dry-sc-ec-sl", "", []string{"atrazine", "oil", "glyphosate"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			in := smallDay()
			in.Settings.AddingOrder = row.order
			if row.oilStep != "" {
				in.Recipes[0].Step = some(row.oilStep)
			}
			p := sound(t, in)
			var got []string
			for _, g := range p.Mixes[0].Recipe {
				got = append(got, p.Products[g.Product].Name)
			}
			assert.Equal(t, row.want, got)
		})
	}
}
