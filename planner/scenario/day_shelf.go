package scenario

import "padturn/model"

const (
	glyphosate = "glyphosate 5.4 SL"
	nitrogen   = "liquid nitrogen 28"
	// nitrogenMix is the place of the mix that nitrogen carries.
	nitrogenMix = 5
)

// shelfRow is a product of the supplier that the benchmark days buy from.
type shelfRow struct {
	name, form, unit, handling, group string
	container                         string
	size                              int64 // of a container, or a pack in the hopper
	maxWind                           int64 // mph; 0: none
}

var shelfRows = []shelfRow{
	{glyphosate, "SL", "gal", "metered", "herbicide", "bulk", 6000, 0},
	{nitrogen, "SL", "gal", "metered", "nutrient", "bulk", 9000, 0},
	{"2,4-D choline 3.8 SL", "SL", "gal", "metered", "auxin", "tote", 265, 15},
	{"dicamba 4 SL", "SL", "gal", "metered", "auxin", "tote", 265, 15},
	{"atrazine 4 SC", "SC", "gal", "metered", "herbicide", "tote", 265, 0},
	{"metolachlor 7.6 EC", "EC", "gal", "metered", "herbicide", "tote", 265, 0},
	{"mesotrione 4 SC", "SC", "gal", "metered", "herbicide", "drum", 30, 0},
	{"glufosinate 2.34 SL", "SL", "gal", "metered", "herbicide", "tote", 265, 0},
	{"clethodim 2 EC", "EC", "gal", "metered", "herbicide", "tote", 120, 0},
	{"azoxystrobin 2.1 SC", "SC", "gal", "metered", "fungicide", "tote", 120, 0},
	{"tebuconazole 3.6 SC", "SC", "gal", "hopper", "fungicide", "jug", 5, 0},
	{"cyhalothrin 1 CS", "CS", "gal", "hopper", "insecticide", "jug", 2, 0},
	{"pyroxasulfone 85 WG", "WG", "lb", "hopper", "herbicide", "jug", 10, 0},
	{"ammonium sulfate", "SG", "lb", "hopper", "adjuvant", "bag", 50, 0},
	{"nonionic surfactant", "SL", "gal", "metered", "adjuvant", "tote", 265, 0},
	{"drift retardant", "SL", "qt", "hopper", "adjuvant", "jug", 10, 0},
	{"zinc chelate 9", "SL", "gal", "hopper", "nutrient", "jug", 10, 0},
}

// mixRows are the mixes, the most usual ones first; the smaller pads have
// fewer of them.
var mixRows = []model.MixRow{
	{Mix: "burndown", GPA: 15 * model.One},
	{Mix: "corn pre", GPA: 18 * model.One},
	{Mix: "soy post", GPA: 18 * model.One},
	{Mix: "corn post", GPA: 15 * model.One},
	{Mix: "soy dicamba", GPA: 15 * model.One},
	{Mix: "top dress", GPA: 20 * model.One, Carrier: nitrogen},
	{Mix: "corn fungicide", GPA: 15 * model.One},
	{Mix: "soy pre", GPA: 18 * model.One},
	{Mix: "wheat heads", GPA: 16 * model.One},
	{Mix: "soy rescue", GPA: 16 * model.One},
}

var crops = map[string]string{
	"burndown": "fallow", "corn pre": "corn", "soy post": "soybeans", "corn post": "corn", "soy dicamba": "soybeans",
	"top dress": "wheat", "corn fungicide": "corn", "soy pre": "soybeans", "wheat heads": "wheat", "soy rescue": "soybeans",
}

var recipeRows = []model.RecipeRow{
	{Mix: "burndown", Product: glyphosate, Rate: 32 * model.One, Unit: "floz/ac"},
	{Mix: "burndown", Product: "2,4-D choline 3.8 SL", Rate: 2 * model.One, Unit: "pt/ac"},
	{Mix: "burndown", Product: "ammonium sulfate", Rate: 17 * model.One / 2, Unit: "lb/100gal", Step: model.Some(model.One)},
	{Mix: "corn pre", Product: "atrazine 4 SC", Rate: 3 * model.One / 2, Unit: "qt/ac"},
	{Mix: "corn pre", Product: "metolachlor 7.6 EC", Rate: 4 * model.One / 3, Unit: "pt/ac"},
	{Mix: "corn pre", Product: "mesotrione 4 SC", Rate: 5 * model.One, Unit: "floz/ac"},
	{Mix: "soy post", Product: "glufosinate 2.34 SL", Rate: 32 * model.One, Unit: "floz/ac"},
	{Mix: "soy post", Product: "clethodim 2 EC", Rate: 8 * model.One, Unit: "floz/ac"},
	{Mix: "soy post", Product: "ammonium sulfate", Rate: 3 * model.One, Unit: "lb/ac", Step: model.Some(model.One)},
	{Mix: "corn post", Product: glyphosate, Rate: 27 * model.One, Unit: "floz/ac"},
	{Mix: "corn post", Product: "mesotrione 4 SC", Rate: 3 * model.One, Unit: "floz/ac"},
	{Mix: "corn post", Product: "nonionic surfactant", Rate: model.One / 4, Unit: "%v/v", Step: model.Some(9 * model.One)},
	{Mix: "soy dicamba", Product: "dicamba 4 SL", Rate: 22 * model.One, Unit: "floz/ac"},
	{Mix: "soy dicamba", Product: glyphosate, Rate: 32 * model.One, Unit: "floz/ac"},
	{Mix: "soy dicamba", Product: "drift retardant", Rate: 2 * model.One, Unit: "qt/100gal", Step: model.Some(10 * model.One)},
	{Mix: "top dress", Product: "zinc chelate 9", Rate: model.One, Unit: "qt/ac"},
	{Mix: "corn fungicide", Product: "azoxystrobin 2.1 SC", Rate: 10 * model.One, Unit: "floz/ac"},
	{Mix: "corn fungicide", Product: "cyhalothrin 1 CS", Rate: 19 * model.One / 10, Unit: "floz/ac"},
	{Mix: "corn fungicide", Product: "nonionic surfactant", Rate: model.One / 4, Unit: "%v/v", Step: model.Some(9 * model.One)},
	{Mix: "soy pre", Product: "metolachlor 7.6 EC", Rate: 4 * model.One / 3, Unit: "pt/ac"},
	{Mix: "soy pre", Product: "pyroxasulfone 85 WG", Rate: 5 * model.One / 2, Unit: "oz/ac"},
	{Mix: "wheat heads", Product: "tebuconazole 3.6 SC", Rate: 4 * model.One, Unit: "floz/ac"},
	{Mix: "wheat heads", Product: "nonionic surfactant", Rate: model.One / 8, Unit: "%v/v", Step: model.Some(9 * model.One)},
	{Mix: "soy rescue", Product: "azoxystrobin 2.1 SC", Rate: 6 * model.One, Unit: "floz/ac"},
	{Mix: "soy rescue", Product: "cyhalothrin 1 CS", Rate: 19 * model.One / 10, Unit: "floz/ac"},
}

var ruleRows = []model.RuleRow{
	{Where: "tank", After: "dicamba 4 SL", Before: "ammonium sulfate", Level: "forbid", Reason: "makes it volatile"},
	{Where: "manifold", After: "@auxin", Before: "*", Level: "wash", Reason: "traces hurt broadleaf crops"},
	{Where: "manifold", After: "@herbicide", Before: "@fungicide", Level: "flush"},
	{Where: "manifold", After: "atrazine 4 SC", Before: "*", Level: "flush"},
	{Where: "manifold", After: nitrogen, Before: model.Water, Level: "flush", Reason: "salts out"},
	{Where: "manifold", After: model.Water, Before: nitrogen, Level: "flush"},
	{Where: "sprayer", After: "@auxin", Before: "mix:soy post", Level: "triple rinse", Reason: "traces hurt broadleaf crops"},
	{Where: "sprayer", After: "atrazine 4 SC", Before: "crop:soybeans", Level: "water flush"},
	{Where: "sprayer", After: "@herbicide", Before: "crop:wheat", Level: "water flush"},
}

// shelf fills in mixes and recipes as far as the size has them, the products
// they need and the rules that name nothing else.
func (b *benchmark) shelf() {
	b.in.Mixes = append(b.in.Mixes, mixRows[:b.mixes]...)
	used := map[string]bool{glyphosate: true, nitrogen: b.mixes > nitrogenMix, model.Water: true, "*": true}
	for _, m := range b.in.Mixes {
		used["mix:"+m.Mix], used["crop:"+crops[m.Mix]] = true, true
		for _, g := range recipeRows {
			if g.Mix == m.Mix {
				b.in.Recipes = append(b.in.Recipes, g)
				used[g.Product] = true
			}
		}
	}
	for _, row := range shelfRows {
		if used[row.name] {
			used["@"+row.group] = true
			b.in.Products = append(b.in.Products, row.product())
		}
	}
	for _, r := range ruleRows {
		if used[r.After] && used[r.Before] {
			b.in.Rules = append(b.in.Rules, r)
		}
	}
}

func (r *shelfRow) product() model.ProductRow {
	p := model.ProductRow{
		Product: r.name, Form: r.form, Unit: r.unit, Handling: r.handling, Groups: []string{r.group},
		Restricted: r.group == "auxin", TankLifeH: model.Some(24 * model.One),
	}
	if r.handling == "hopper" {
		p.Pack = model.Some(model.WholeDecimal(r.size))
	}
	if r.maxWind > 0 {
		p.MaxWindMph = model.Some(model.WholeDecimal(r.maxWind))
	}
	return p
}

// stock is a sixth more than the jobs take and a container for every bay. Of
// some products half comes in the forenoon.
func (b *benchmark) stock() {
	need := b.demand()
	for _, row := range shelfRows {
		amount, ok := need[row.name]
		if !ok && row.name != glyphosate {
			continue
		}
		size := model.WholeDecimal(row.size)
		count := int64(over(amount, 7, 6)/size) + 1 + int64(b.bays)
		now := count
		if row.container == "tote" && b.chance(25) {
			now = count - count/3
			b.in.Deliveries = append(b.in.Deliveries, model.DeliveryRow{
				At: b.clock(8, 11, 1800), Product: row.name, Container: row.container, Size: size, Count: model.WholeDecimal(count - now),
			})
		}
		s := model.StockRow{Product: row.name, Container: row.container, Size: size, Full: model.WholeDecimal(now)}
		if row.container == "tote" || row.container == "drum" {
			s.Open = model.Some(over(size, int64(b.whole(1, 9)), 10))
		}
		b.in.Stock = append(b.in.Stock, s)
	}
}
