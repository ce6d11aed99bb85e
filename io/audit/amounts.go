package audit

import (
	"math/big"
	"slices"

	"padturn/model"
)

// dose returns what a load takes of an ingredient, in the stock unit.
func (l *load) dose(g *ingredient) *big.Rat {
	acres := new(big.Rat)
	for _, p := range l.parts {
		acres = add(acres, p.acres)
	}
	return add(mul(g.perAcre, acres), mul(g.perGal, l.spray))
}

// gallons returns the volume of an amount of an ingredient; the meter needs it
// of every product, the tank only of liquids.
func (g *ingredient) gallons(amount *big.Rat) *big.Rat {
	if g.gal == nil {
		return new(big.Rat)
	}
	return mul(amount, g.gal)
}

// checkAmounts works out what goes into every load and compares it with
// amounts.csv: amounts, units and the order of steps.
func (a *audit) checkAmounts() {
	for _, l := range a.loads {
		liquid := new(big.Rat)
		for _, g := range l.mix.recipe {
			if g.unknown || !g.form.Dry && g.gal == nil {
				a.breach("R2", l.where(), "%s is kept in %s and cannot be measured without a density", g.Product, g.Unit)
			}
			if !g.form.Dry {
				liquid = add(liquid, g.gallons(l.dose(g)))
			}
		}
		l.carrier = sub(l.spray, liquid)
		l.first = smaller(l.carrier, mul(a.d.set.Pad.CarrierFirst.Rat(), l.spray))
		a.checkCarrier(l)
		a.checkSteps(l)
		a.checkPlaces(l)
	}
}

func (a *audit) checkCarrier(l *load) {
	if l.carrier.Sign() < 0 {
		a.breach("R2", l.where(), "the products alone take more than the spray volume: carrier is %s", fixed(l.carrier))
	}
	if !near(l.carrierGal, l.carrier, halfPlace) {
		a.breach("R2", l.where(), "carrier_gal is %s, expected %s", fixed(l.carrierGal), fixed(l.carrier))
	}
	if x, y, found := l.mix.forbidden(); found {
		a.breach("R2", l.where(), "%s and %s are in one tank, against a tank rule", x, y)
	}
}

// checkSteps goes through the rows of a load: the first part of the carrier as
// step 0, the products as steps 1, 2 and so on, the rest of the carrier.
func (a *audit) checkSteps(l *load) {
	rows := l.amounts
	if len(rows) > 0 && rows[0].step == 0 {
		a.checkCarrierRow(l, rows[0], l.first)
		rows = rows[1:]
	} else if less(halfPlace, l.first) {
		a.breach("R3", l.where(), "does not begin with step 0, %s gal of %s", fixed(l.first), l.mix.carrier)
	}
	products := min(len(rows), len(l.mix.recipe))
	for i, r := range rows[:products] {
		a.differs("R3", r.where(), "step", r.step, i+1)
		a.checkProductRow(l, r)
	}
	if products < len(l.mix.recipe) {
		a.breach("R2", l.where(), "amounts.csv has %d products, expected %d", products, len(l.mix.recipe))
	}
	rest := sub(l.carrier, l.first)
	switch rows = rows[products:]; {
	case len(rows) > 0:
		a.differs("R3", rows[0].where(), "step", rows[0].step, len(l.mix.recipe)+1)
		a.checkCarrierRow(l, rows[0], rest)
		for _, r := range rows[1:] {
			a.breach("R2", r.where(), "%s of %s is beyond what load %s takes", fixed(r.amount), r.product, l.id)
		}
	case less(halfPlace, rest):
		a.breach("R2", l.where(), "amounts.csv does not end with the rest of the carrier, %s gal", fixed(rest))
	}
}

// checkCarrierRow compares a part of the carrier, given in gallons of water or
// in the stock unit of a product.
func (a *audit) checkCarrierRow(l *load, r *amountRow, gal *big.Rat) {
	want, unit := gal, "gal"
	if p := a.d.products[l.mix.carrier]; p != nil && p.gal != nil {
		want, unit = quo(gal, p.gal), p.Unit
	}
	a.differs("R2", r.where(), "the carrier", r.product, l.mix.carrier)
	a.differs("R2", r.where(), "the unit of "+r.product, r.unit, unit)
	if !near(r.amount, want, halfPlace) {
		a.breach("R2", r.where(), "the part of the carrier is %s, expected %s", fixed(r.amount), fixed(want))
	}
}

func (a *audit) checkProductRow(l *load, r *amountRow) {
	g := l.mix.find(r.product)
	if g == nil {
		a.breach("R2", r.where(), "%s is not in mix %s", r.product, l.mix.name)
		return
	}
	a.differs("R2", r.where(), "the unit of "+r.product, r.unit, g.Unit)
	if want := l.dose(g); !near(r.amount, want, halfPlace) {
		a.breach("R2", r.where(), "%s of %s, expected %s", fixed(r.amount), r.product, fixed(want))
	}
}

func (m *mix) find(product string) *ingredient {
	i := slices.IndexFunc(m.recipe, func(g *ingredient) bool { return g.Product == product })
	if i < 0 {
		return nil
	}
	return m.recipe[i]
}

// checkPlaces checks that each product stands once and none before one that
// the adding order puts earlier.
func (a *audit) checkPlaces(l *load) {
	seen := map[string]bool{}
	var last *ingredient
	for _, r := range l.amounts {
		g := l.mix.find(r.product)
		if g == nil || r.product == l.mix.carrier {
			continue
		}
		if seen[r.product] {
			a.breach("R2", r.where(), "%s stands twice in load %s", r.product, l.id)
		}
		seen[r.product] = true
		if last != nil && less(g.place, last.place) {
			a.breach("R3", r.where(), "%s (place %s) goes in after %s (place %s), expected before it",
				g.Product, place(g), last.Product, place(last))
		}
		last = g
	}
}

func place(g *ingredient) string { return model.RoundRat(g.place).String() }

// stepOf returns the place of a product among the steps of a load as
// amounts.csv has them, or -1.
func (l *load) stepOf(product string) int {
	return slices.IndexFunc(l.amounts, func(r *amountRow) bool { return r.step > 0 && r.product == product })
}
