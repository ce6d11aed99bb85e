package scenario

import "padturn/model"

// Products of a spring day.
const (
	glyphosate    = "glyphosate 5.4 SL"
	atrazine      = "atrazine 4 SC"
	metolachlor   = "s-metolachlor 7.6 EC"
	choline       = "2,4-D choline 3.8 SL"
	mesotrione    = "mesotrione 4 SC"
	clethodim     = "clethodim 2 EC"
	ams           = "AMS liquid 3.4 SL"
	cropOil       = "crop oil 83 SO"
	sulfentrazone = "sulfentrazone 75 WG"
	metsulfuron   = "metsulfuron 60 WG"
)

// pack is how a product is kept; the size is in the stock unit.
type pack struct {
	container string
	size      int
}

var packs = map[string]pack{
	glyphosate: {"bulk", 5000}, fertilizer: {"bulk", 12000},
	atrazine: {"tote", 250}, metolachlor: {"tote", 265}, choline: {"tote", 275}, ams: {"tote", 265}, cropOil: {"tote", 265},
	mesotrione: {"jug", 2}, clethodim: {"jug", 2}, sulfentrazone: {"bag", 10}, metsulfuron: {"bag", 2},
}

// springProducts is products.csv of the family.
func springProducts() []model.ProductRow {
	metered := func(name, form string, density int, groups ...string) model.ProductRow {
		return model.ProductRow{Product: name, Form: form, Unit: "gal", Handling: "metered",
			DensityLbGal: model.Some(model.WholeDecimal(int64(density))), Groups: groups}
	}
	hopper := func(name, form, unit string, groups ...string) model.ProductRow {
		return model.ProductRow{Product: name, Form: form, Unit: unit, Handling: "hopper",
			Pack: model.Some(model.WholeDecimal(int64(packs[name].size))), Groups: groups}
	}
	list := []model.ProductRow{
		metered(glyphosate, "SL", 11, "burndown"), metered(atrazine, "SC", 9, "corn only"), metered(metolachlor, "EC", 9, "oily"),
		metered(choline, "SL", 10, "hormone"), metered(ams, "SL", 10), metered(cropOil, "SO", 8, "oily"),
		metered(fertilizer, "SL", 11),
		hopper(mesotrione, "SC", "gal", "corn only"), hopper(clethodim, "EC", "gal", "grass killer"),
		hopper(sulfentrazone, "WG", "lb", "bean only"), hopper(metsulfuron, "WG", "oz", "residual"),
	}
	for i := range list {
		switch list[i].Product {
		case choline:
			list[i].MaxWindMph = model.Some(model.WholeDecimal(10))
		case metsulfuron:
			list[i].TankLifeH = model.Some(model.WholeDecimal(12))
		}
	}
	return list
}

// springMix is a mix and the crop it goes on.
type springMix struct {
	name, crop, carrier string
	gpa                 int
	recipe              []dose
}

type dose struct {
	product string
	rate    int
	unit    string
}

var springDay = []springMix{
	{"corn pre", "corn", "", 15, []dose{{atrazine, 32, "floz/ac"}, {metolachlor, 21, "floz/ac"}, {glyphosate, 30, "floz/ac"}, {ams, 2, "gal/100gal"}}},
	{"corn pre 28", "corn", fertilizer, 20, []dose{{atrazine, 40, "floz/ac"}, {metolachlor, 24, "floz/ac"}}},
	{"corn post", "corn", "", 15, []dose{{mesotrione, 3, "floz/ac"}, {atrazine, 16, "floz/ac"}, {cropOil, 1, "%v/v"}, {ams, 2, "gal/100gal"}}},
	{"bean burndown", "beans", "", 15, []dose{{glyphosate, 32, "floz/ac"}, {choline, 32, "floz/ac"}, {ams, 2, "gal/100gal"}}},
	{"bean pre", "beans", "", 15, []dose{{sulfentrazone, 5, "oz/ac"}, {metolachlor, 24, "floz/ac"}, {glyphosate, 32, "floz/ac"}}},
	{"bean grass", "beans", "", 12, []dose{{clethodim, 8, "floz/ac"}, {cropOil, 1, "%v/v"}, {ams, 2, "gal/100gal"}}},
	{"wheat broadleaf", "wheat", "", 10, []dose{{metsulfuron, 10, "g/ha"}, {choline, 16, "floz/ac"}}},
}

// springMixes is mixes.csv and recipes.csv of the family.
func springMixes() (mixes []model.MixRow, recipes []model.RecipeRow) {
	for _, m := range springDay {
		mixes = append(mixes, model.MixRow{Mix: m.name, GPA: model.WholeDecimal(int64(m.gpa)), Carrier: m.carrier})
		for _, d := range m.recipe {
			recipes = append(recipes, model.RecipeRow{Mix: m.name, Product: d.product, Rate: model.WholeDecimal(int64(d.rate)), Unit: d.unit})
		}
	}
	return mixes, recipes
}

// springRules is rules.csv of the family: rules of every kind.
func springRules() []model.RuleRow {
	return []model.RuleRow{
		{Where: "tank", After: "@grass killer", Before: "@hormone", Level: "forbid", Reason: "the one weakens the other"},
		{Where: "manifold", After: "@hormone", Before: "*", Level: "wash", Reason: "traces hurt beans"},
		{Where: "manifold", After: "@corn only", Before: "@bean only", Level: "wash"},
		{Where: "manifold", After: "@oily", Before: "mix:wheat broadleaf", Level: "flush"},
		{Where: "manifold", After: fertilizer, Before: model.Water, Level: "flush", Reason: "carrier changes"},
		{Where: "sprayer", After: "@hormone", Before: "crop:beans", Level: "triple rinse"},
		{Where: "sprayer", After: "@corn only", Before: "crop:wheat", Level: "water flush"},
		{Where: "sprayer", After: metsulfuron, Before: "crop:corn", Level: "triple rinse"},
	}
}
