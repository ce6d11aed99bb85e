package audit

import (
	"math/big"
	"slices"

	"padturn/model"
)

// product is a line of products.csv with what stock.csv and deliveries.csv say
// of it.
type product struct {
	model.ProductRow
	form       model.Formulation
	metered    bool
	bulk       bool
	gal        *big.Rat // gallons in one stock unit; nil where that can't be told
	lb         *big.Rat // pounds in one stock unit; nil where that can't be told
	onHand     *big.Rat // at the opening, stock unit
	deliveries []delivery
	containers []*container // of the opening, then of the deliveries
}

// delivery is a line of deliveries.csv.
type delivery struct {
	at     model.Clock
	amount *big.Rat // stock unit
}

// container is a tote or drum of a metered product.
type container struct {
	left   *big.Rat
	opened int         // 1 for the one first drawn from; 0 for a full one
	on     *bay        // nil: on no bay
	freeAt model.Clock // when it came to the pad, or was off its last bay
}

func (d *day) addProducts(in *model.Input) {
	for _, r := range in.Products {
		form, _ := model.FindFormulation(upper(r.Form))
		p := &product{ProductRow: r, form: form, metered: r.Handling == "metered", onHand: new(big.Rat)}
		p.gal, p.lb = inUnit(r, "gal"), inUnit(r, "lb")
		d.products[r.Product] = p
		d.productOrder = append(d.productOrder, p)
	}
	d.markBulk(in)
	d.addTotes(in)
	for _, r := range in.Stock {
		if p := d.products[r.Product]; p != nil {
			p.stock(r)
		}
	}
	deliveries := slices.Clone(in.Deliveries)
	slices.SortStableFunc(deliveries, func(a, b model.DeliveryRow) int { return int(a.At - b.At) })
	for _, r := range deliveries {
		if p := d.products[r.Product]; p != nil && r.Count > 0 {
			p.deliver(r)
		}
	}
}

// inUnit returns how many of the named unit one stock unit of a product is.
func inUnit(r model.ProductRow, name string) *big.Rat {
	from, known := model.FindUnit(r.Unit)
	to, _ := model.FindUnit(name)
	if !known || from.Dim == model.Area {
		return nil
	}
	factor, err := model.Convert(from, to, r.DensityLbGal)
	if err != nil {
		return nil
	}
	return factor
}

// markBulk finds the products that need no containers: those with any bulk
// stock, and those that are a carrier.
func (d *day) markBulk(in *model.Input) {
	mark := func(name string, bulk bool) {
		if p := d.products[name]; p != nil && bulk {
			p.bulk = true
		}
	}
	for _, r := range in.Stock {
		mark(r.Product, r.Container == "bulk")
	}
	for _, r := range in.Deliveries {
		mark(r.Product, r.Container == "bulk")
	}
	for _, r := range in.Mixes {
		mark(r.Carrier, true)
	}
}

func (p *product) stock(r model.StockRow) {
	if open := decimal(r.Open, new(big.Rat)); open.Sign() > 0 {
		p.onHand = add(p.onHand, open)
		p.hold(open, 0, p.openContainers()+1)
	}
	p.onHand = add(p.onHand, mul(r.Size.Rat(), r.Full.Rat()))
	for range containerCount(r.Full) {
		p.hold(r.Size.Rat(), 0, 0)
	}
}

func (p *product) deliver(r model.DeliveryRow) {
	p.deliveries = append(p.deliveries, delivery{r.At, mul(r.Size.Rat(), r.Count.Rat())})
	for range containerCount(r.Count) {
		p.hold(r.Size.Rat(), r.At, 0)
	}
}

// containerCount turns a count into a whole number that a pad can hold.
func containerCount(d model.Decimal) int64 { return min(int64(d/model.One), 100_000) }

// hold adds a container; bulk and hopper products are watched by their sum
// alone.
func (p *product) hold(amount *big.Rat, from model.Clock, opened int) {
	if p.metered && !p.bulk {
		p.containers = append(p.containers, &container{left: amount, opened: opened, freeAt: from})
	}
}

func (p *product) openContainers() int {
	n := 0
	for _, c := range p.containers {
		n = max(n, c.opened)
	}
	return n
}

// next returns the container that goes on a connection next: of those at the
// pad, on no bay and not empty the one opened first, else the first full one.
func (p *product) next(at model.Clock) *container {
	var best *container
	for _, c := range p.containers {
		if !c.free(at) {
			continue
		}
		if best == nil || c.opened > 0 && (best.opened == 0 || c.opened < best.opened) {
			best = c
		}
	}
	return best
}

// free says whether a container can go on a connection.
func (c *container) free(at model.Clock) bool {
	return c.freeAt <= at && c.on == nil && !c.empty()
}

// empty says whether nothing is left that could be drawn.
func (c *container) empty() bool { return c.left.Cmp(enough) <= 0 }
