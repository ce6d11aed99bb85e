package model

import "strings"

var densityLimit = limits{WholeDecimal(1), WholeDecimal(40), "lb/gal", false}

func (b *builder) buildProducts() {
	for i, r := range b.in.Products {
		before := len(b.report.Errors)
		p := Product{
			Name: r.Product, Groups: r.Groups, Pack: r.Pack, ReorderAt: r.ReorderAt,
			RainfastH: r.RainfastH, MaxWind: r.MaxWindMph, TankLife: Seconds(Never),
			EPARegNo: r.EPARegNo, Restricted: r.Restricted, SignalWord: r.SignalWord, PPE: r.PPE,
		}
		code := strings.ToUpper(r.Form)
		form, ok := FindFormulation(code)
		if !ok {
			b.fail(ProductsTable, i, "form", r.Form, "expected a two-letter formulation code: %s", strings.Join(FormulationCodes(), " "))
		}
		p.Form = form
		if unit, ok := FindUnit(r.Unit); ok && unit.Dim != Area {
			p.Unit = unit
		} else {
			p.Unit = mustUnit("gal")
			b.fail(ProductsTable, i, "unit", r.Unit, "expected %s%s", orList(StockUnitNames()), Suggest(r.Unit, StockUnitNames()))
		}
		if b.oneOf(ProductsTable, i, "handling", r.Handling, "metered", "hopper") {
			p.Metered = r.Handling == "metered"
		}
		if b.withinOpt(ProductsTable, i, "density_lb_gal", r.DensityLbGal, densityLimit) {
			p.Density = r.DensityLbGal
		}
		b.unsure = append(b.unsure, len(b.report.Errors) > before)
		if ok && p.Metered && form.Dry {
			b.fail(ProductsTable, i, "handling", r.Handling, "does not suit a dry product (%s), which can't run through a meter; expected hopper", code)
		}
		b.checkProductNumbers(i, &r)
		if r.TankLifeH != nil {
			p.TankLife = CeilMinutes(*r.TankLifeH * 60)
		}
		b.p.Products = append(b.p.Products, p)
	}
}

func (b *builder) checkProductNumbers(i int, r *ProductRow) {
	hours := limits{0, WholeDecimal(24 * 14), "hours", true}
	b.withinOpt(ProductsTable, i, "pack", r.Pack, limits{0, stockLimit.most, "of the stock unit", true})
	b.withinOpt(ProductsTable, i, "reorder_at", r.ReorderAt, stockLimit)
	b.withinOpt(ProductsTable, i, "tank_life_h", r.TankLifeH, hours)
	b.withinOpt(ProductsTable, i, "rainfast_h", r.RainfastH, limits{0, hours.most, hours.unit, false})
	b.withinOpt(ProductsTable, i, "max_wind_mph", r.MaxWindMph, limits{0, WholeDecimal(100), "mph", true})
}
