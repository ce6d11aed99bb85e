package model

import "strings"

var countLimit = limits{0, WholeDecimal(100_000), "containers", false}

// stockLimit keeps sums of a product far inside what a Decimal holds.
var stockLimit = limits{0, WholeDecimal(10_000_000), "of the stock unit", false}

func (b *builder) buildProducts() {
	for i, r := range b.in.Products {
		p := Product{
			Name: r.Product, Groups: r.Groups, Density: r.DensityLbGal, Pack: r.Pack, ReorderAt: r.ReorderAt,
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
			b.fail(ProductsTable, i, "unit", r.Unit, "expected %s%s", orList(StockUnitNames()), suggest(r.Unit, StockUnitNames()))
		}
		if b.oneOf(ProductsTable, i, "handling", r.Handling, "metered", "hopper") {
			p.Metered = r.Handling == "metered"
		}
		if ok && p.Metered && form.Dry {
			b.fail(ProductsTable, i, "handling", r.Handling, "a dry product (%s) can't run through a meter; expected hopper", code)
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
	b.withinOpt(ProductsTable, i, "density_lb_gal", r.DensityLbGal, limits{WholeDecimal(1), WholeDecimal(40), "lb/gal", false})
	b.withinOpt(ProductsTable, i, "pack", r.Pack, limits{0, stockLimit.most, "of the stock unit", true})
	b.withinOpt(ProductsTable, i, "reorder_at", r.ReorderAt, stockLimit)
	b.withinOpt(ProductsTable, i, "tank_life_h", r.TankLifeH, hours)
	b.withinOpt(ProductsTable, i, "rainfast_h", r.RainfastH, limits{0, hours.most, hours.unit, false})
	b.withinOpt(ProductsTable, i, "max_wind_mph", r.MaxWindMph, limits{0, WholeDecimal(100), "mph", true})
}

// containerKinds in the order of the contract.
var containerKinds = []string{"bulk", "tote", "drum", "jug", "bag"}

func (b *builder) buildStock() {
	opened := make([][]Container, len(b.p.Products))
	full := make([][]Container, len(b.p.Products))
	for i, r := range b.in.Stock {
		j := b.lookUp(&b.products, "products.csv", StockTable, i, "product", r.Product)
		if !b.checkContainer(StockTable, i, r.Container, r.Size) || j == None {
			continue
		}
		b.wholeCount(StockTable, i, "full", r.Full)
		if r.Open != nil {
			b.within(StockTable, i, "open", *r.Open, limits{0, r.Size, "(the container's size)", false})
			if *r.Open > 0 {
				opened[j] = append(opened[j], Container{r.Container, r.Size, *r.Open})
			}
		}
		product := &b.p.Products[j]
		product.Bulk = product.Bulk || r.Container == "bulk"
		for range min(r.Full, countLimit.most) / One {
			full[j] = append(full[j], Container{r.Container, r.Size, r.Size})
		}
	}
	for j := range b.p.Products {
		b.p.Products[j].Containers = append(opened[j], full[j]...)
	}
	b.buildDeliveries()
}

func (b *builder) checkContainer(t Table, row int, kind string, size Decimal) bool {
	ok := b.oneOf(t, row, "container", kind, containerKinds...)
	b.within(t, row, "size", size, limits{0, stockLimit.most, "of the stock unit", true})
	return ok && size > 0
}

func (b *builder) wholeCount(t Table, row int, column string, count Decimal) {
	if count%One != 0 {
		b.fail(t, row, column, count.String(), "expected a whole number of containers")
	}
	b.within(t, row, column, count, countLimit)
}

func (b *builder) buildDeliveries() {
	for i, r := range b.in.Deliveries {
		j := b.lookUp(&b.products, "products.csv", DeliveriesTable, i, "product", r.Product)
		ok := b.checkContainer(DeliveriesTable, i, r.Container, r.Size)
		b.wholeCount(DeliveriesTable, i, "count", r.Count)
		if j == None || !ok || r.Count <= 0 {
			continue
		}
		product := &b.p.Products[j]
		product.Bulk = product.Bulk || r.Container == "bulk"
		b.p.Deliveries = append(b.p.Deliveries, Delivery{
			At: r.At, Product: j, Container: Container{r.Container, r.Size, r.Size}, Count: int(r.Count / One),
		})
	}
	sortDeliveries(b.p.Deliveries)
}
