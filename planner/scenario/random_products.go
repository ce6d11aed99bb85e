package scenario

import (
	"fmt"

	"padturn/model"
)

// kind is what a product of a random day can be.
type kind struct {
	name, form string
	dry        bool
	density    int // lb/gal; 0: not said
}

var kinds = []kind{
	{"glyphosate 5.4 SL", "SL", false, 11},
	{"atrazine 4 SC", "SC", false, 9},
	{"s-metolachlor 7.6 EC", "EC", false, 9},
	{"2,4-D choline 3.8 SL", "SL", false, 10},
	{"clethodim 2 EC", "EC", false, 8},
	{"mesotrione 4 SC", "SC", false, 10},
	{"crop oil 83 SO", "SO", false, 0},
	{"AMS 96 SG", "SG", true, 0},
	{"metsulfuron 60 WG", "WG", true, 0},
	{"sulfentrazone 75 WG", "WG", true, 0},
}

// fertilizer is the product that can be a carrier.
const fertilizer = "28-0-0"

// products draws products.csv: some kinds, metered or through the hopper.
func (r *random) products() {
	list := append([]kind{}, kinds...)
	r.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
	for _, k := range list[:r.whole(1, 7)] {
		r.in.Products = append(r.in.Products, r.product(k))
	}
	if r.chance(30) {
		r.in.Products = append(r.in.Products, model.ProductRow{
			Product: fertilizer, Form: "SL", Unit: pick(r.dice, "gal", "lb"), Handling: "metered",
			DensityLbGal: model.Some(model.One * 1065 / 100),
		})
	}
}

func (r *random) product(k kind) model.ProductRow {
	row := model.ProductRow{
		Product: k.name, Form: k.form, Handling: pick(r.dice, "metered", "metered", "hopper"),
		Unit:       pick(r.dice, "gal", "gal", "L", "qt", "floz"),
		ReorderAt:  maybe(r.dice, 30, func() model.Decimal { return r.decimal(0, 40, 1) }),
		TankLifeH:  maybe(r.dice, 15, func() model.Decimal { return r.decimal(1, 5, 2) }),
		MaxWindMph: maybe(r.dice, 30, func() model.Decimal { return r.decimal(8, 20, 0) }),
	}
	if k.density > 0 {
		row.DensityLbGal = model.Some(model.WholeDecimal(int64(k.density)))
		row.Unit = pick(r.dice, row.Unit, row.Unit, "lb", "kg")
	}
	if k.dry {
		row.Handling, row.Unit = "hopper", pick(r.dice, "lb", "oz", "kg")
	}
	for _, g := range r.groups {
		if r.chance(35) {
			row.Groups = append(row.Groups, g)
		}
	}
	if row.Handling == "hopper" && (r.chance(60) || k.density == 0 && !k.dry) {
		row.Pack = model.Some(r.decimal(1, 20, pick(r.dice, 0, 1)))
	}
	return row
}

// mixes draws mixes.csv and recipes.csv.
func (r *random) mixes() {
	for i := range r.whole(1, 4) {
		row := model.MixRow{Mix: fmt.Sprintf("mix %d", i+1), GPA: r.decimal(8, 20, pick(r.dice, 0, 0, 2))}
		if r.has(fertilizer) && r.chance(40) {
			row.Carrier = fertilizer
		}
		r.in.Mixes = append(r.in.Mixes, row)
		order := r.Perm(len(r.in.Products))
		for _, k := range order[:r.whole(1, min(len(order), 5))] {
			if p := &r.in.Products[k]; p.Product != row.Carrier {
				r.in.Recipes = append(r.in.Recipes, r.ingredient(row.Mix, p))
			}
		}
	}
}

func (r *random) has(product string) bool {
	for _, p := range r.in.Products {
		if p.Product == product {
			return true
		}
	}
	return false
}

// isDry says whether a product is weighed.
func isDry(p *model.ProductRow) bool {
	form, _ := model.FindFormulation(p.Form)
	return form.Dry
}

func (r *random) ingredient(mix string, p *model.ProductRow) model.RecipeRow {
	row := model.RecipeRow{
		Mix: mix, Product: p.Product,
		Step: maybe(r.dice, 15, func() model.Decimal { return r.decimal(1, 10, 1) }),
	}
	low, high := 0, 0
	switch {
	case isDry(p):
		row.Unit = pick(r.dice, "oz/ac", "g/ha", "lb/100gal", "kg/100L")
	case p.DensityLbGal != nil && r.chance(15):
		row.Unit = pick(r.dice, "lb/ac", "kg/ha")
	default:
		row.Unit = pick(r.dice, "floz/ac", "floz/ac", "pt/ac", "qt/ac", "L/ha", "mL/ha", "gal/100gal", "mL/100L", "%v/v")
	}
	switch row.Unit {
	case "floz/ac", "oz/ac":
		low, high = 1, 48
	case "g/ha", "mL/ha":
		low, high = 50, 3000
	case "mL/100L":
		low, high = 50, 1500
	case "pt/ac", "L/ha", "lb/100gal":
		low, high = 1, 6
	default: // qt/ac, lb/ac, kg/ha, gal/100gal, kg/100L, %v/v
		low, high = 0, 2
	}
	row.Rate = max(r.decimal(low, high, pick(r.dice, 0, 1, 3)), model.One/10)
	return row
}
