package model

import (
	"cmp"
	"slices"
)

var gpaLimit = limits{0, WholeDecimal(1000), "gal/ac", true}

func (b *builder) buildMixes() {
	for i, r := range b.in.Mixes {
		b.within(MixesTable, i, "gpa", r.GPA, gpaLimit)
		m := Mix{Name: r.Mix, GPA: r.GPA, Carrier: None, Note: r.Note}
		if r.Carrier != "" {
			m.Carrier = b.productOrWater(MixesTable, i, "carrier", r.Carrier)
		}
		if m.Carrier != None && !b.unsure[m.Carrier] {
			b.checkCarrier(i, r.Carrier, &b.p.Products[m.Carrier])
		}
		b.p.Mixes = append(b.p.Mixes, m)
	}
	for i, r := range b.in.Recipes {
		b.addIngredient(i, r)
	}
	for i := range b.p.Mixes {
		slices.SortStableFunc(b.p.Mixes[i].Recipe, func(x, y Ingredient) int { return cmp.Compare(x.Step, y.Step) })
	}
}

func (b *builder) checkCarrier(row int, name string, p *Product) {
	if p.Form.Dry {
		b.fail(MixesTable, row, "carrier", name, "is a dry product; a carrier is a liquid")
	} else if _, err := Convert(mustUnit("gal"), p.Unit, p.Density); err != nil {
		b.fail(MixesTable, row, "carrier", name, "is kept by weight, so it %s", err)
	}
}

func (b *builder) addIngredient(row int, r RecipeRow) {
	m := b.lookUp(&b.mixes, "mixes.csv", RecipesTable, row, "mix", r.Mix)
	j := b.lookUp(&b.products, "products.csv", RecipesTable, row, "product", r.Product)
	b.within(RecipesTable, row, "rate", r.Rate, limits{0, WholeDecimal(100_000), r.Unit, true})
	b.withinOpt(RecipesTable, row, "step", r.Step, limits{0, WholeDecimal(1000), "(a place in the adding order)", false})
	unit, err := ParseRateUnit(r.Unit)
	if err != nil {
		b.fail(RecipesTable, row, "unit", r.Unit, "%s", err)
		return
	}
	if m == None || j == None {
		return
	}
	mix, product := &b.p.Mixes[m], &b.p.Products[j]
	if slices.ContainsFunc(mix.Recipe, func(g Ingredient) bool { return g.Product == j }) {
		b.fail(RecipesTable, row, "product", r.Product, "stands twice in mix %q", r.Mix)
		return
	}
	if mix.Carrier == j {
		b.fail(RecipesTable, row, "product", r.Product, "is the carrier of mix %q already", r.Mix)
		return
	}
	if !b.unsure[j] {
		b.checkUnits(row, r, unit, product)
	}
	mix.Recipe = append(mix.Recipe, Ingredient{
		Product: j, Rate: r.Rate, Unit: unit, Written: r.Unit,
		Step: orDefault(r.Step, WholeDecimal(int64(b.order.Class[product.Form.Code]))),
	})
}

// checkUnits makes sure that a rate can be turned into stock, the tank's
// volume, and, without a pack, the hopper's pounds.
func (b *builder) checkUnits(row int, r RecipeRow, unit RateUnit, p *Product) {
	if _, err := Convert(unit.Unit, p.Unit, p.Density); err != nil {
		b.fail(RecipesTable, row, "unit", r.Unit, "does not fit: %s is kept in %s, so it %s", p.Name, p.Unit.Name, err)
		return
	}
	if _, err := Convert(p.Unit, mustUnit("gal"), p.Density); err != nil && !p.Form.Dry {
		b.fail(RecipesTable, row, "product", r.Product, "is a liquid kept in %s, so it %s", p.Unit.Name, err)
		return
	}
	if _, err := Convert(p.Unit, mustUnit("lb"), p.Density); err != nil && !p.Metered && p.Pack == nil {
		b.fail(RecipesTable, row, "product", r.Product, "goes through the hopper without a pack size, so it %s (or give its pack in products.csv)", err)
	}
	if unit.Unit.Name == "oz" && !p.Form.Dry {
		b.warn(RecipesTable, row, "unit", r.Unit, "is a weight, and %s a liquid; is floz meant?", p.Name)
	}
}

// checkMixVolume reports a mix whose liquids leave no room for carrier, at the
// volume rate of a cell.
func (b *builder) checkMixVolume(m int, gpa Decimal, t Table, row int) {
	if gpa <= 0 {
		return // reported already
	}
	if blend := b.p.blend(m, gpa); blend.carrier.Sign() < 0 {
		b.fail(t, row, "gpa", gpa.String(), "is too little: the products of mix %q alone take %s gal an acre, more than the spray volume",
			b.p.Mixes[m].Name, RoundRat(blend.liquid).Fixed(3))
	}
}

// checkTankRules reports products of one mix that may not share a tank.
func (b *builder) checkTankRules() {
	for m := range b.p.Mixes {
		for _, r := range b.p.Rules {
			if r.Where != InTank {
				continue
			}
			if x, y, broken := b.p.tankBreach(m, r); broken {
				b.fail(MixesTable, m, "mix", b.p.Mixes[m].Name, "holds %s and %s, which may not share a tank (rules.csv%s)",
					b.p.productName(x), b.p.productName(y), reasonSuffix(r.Reason))
			}
		}
	}
}

func reasonSuffix(reason string) string {
	if reason == "" {
		return ""
	}
	return ": " + reason
}
