package model

import "slices"

// Limits of stock and deliveries. The total keeps the sums of a product inside
// what a Decimal holds.
var (
	countLimit = limits{0, WholeDecimal(100_000), "containers", false}
	stockLimit = limits{0, WholeDecimal(10_000_000), "of the stock unit", false}
	totalLimit = WholeDecimal(1_000_000_000)
)

// maxContainers is how many totes or drums of one product are told apart.
const maxContainers = 10_000

// containerKinds are what stock comes in, from the largest.
var containerKinds = []string{"bulk", "tote", "drum", "jug", "bag"}

// buildStock reads the stock and the deliveries.
func (b *builder) buildStock() {
	b.markBulk()
	b.maybeStocked = make([]bool, len(b.p.Products))
	b.listed = make([]bool, len(b.p.Products))
	opened := make([][]Container, len(b.p.Products))
	full := make([][]Container, len(b.p.Products))
	totals := make([]Decimal, len(b.p.Products))
	b.buildTotes(opened, totals)
	for i, r := range b.in.Stock {
		j, ok := b.checkStock(i, &r)
		if j == None {
			continue
		}
		b.listed[j] = true
		if !ok || !b.addTotal(StockTable, i, "full", &totals[j], r.Size, r.Full, orDefault(r.Open, 0)) {
			b.maybeStocked[j] = true
			continue
		}
		if open := orDefault(r.Open, 0); open > 0 {
			opened[j] = append(opened[j], Container{r.Container, r.Size, open, true, 0})
		}
		full[j] = b.addFull(i, full[j], &r, b.p.Products[j].toldApart())
	}
	for j := range b.p.Products {
		b.p.Products[j].Containers = append(opened[j], full[j]...)
	}
	b.buildDeliveries(totals)
}

// markBulk finds the products that are bulk: any stock or delivery of them is,
// or they are a carrier. Faulty rows are reported where they are read.
func (b *builder) markBulk() {
	mark := func(name string) {
		if j := b.products.find(name); j != None {
			b.p.Products[j].Bulk = true
		}
	}
	for _, r := range b.in.Stock {
		if r.Container == "bulk" {
			mark(r.Product)
		}
	}
	for _, r := range b.in.Deliveries {
		if r.Container == "bulk" {
			mark(r.Product)
		}
	}
	for _, r := range b.in.Mixes {
		mark(r.Carrier)
	}
}

// toldApart says whether each container of a product counts by itself: those
// that are put on a connection one by one.
func (p *Product) toldApart() bool { return p.Metered && !p.Bulk }

// checkStock checks a row of stock.csv alone and looks up its product.
func (b *builder) checkStock(row int, r *StockRow) (product int, ok bool) {
	product = b.lookUp(&b.products, "products.csv", StockTable, row, "product", r.Product)
	ok = b.checkContainer(StockTable, row, r.Container, r.Size)
	ok = b.wholeCount(StockTable, row, "full", r.Full) && ok
	if ok && r.Open != nil {
		ok = b.within(StockTable, row, "open", *r.Open, limits{0, r.Size, "(the container's size)", false})
	}
	return product, ok
}

// addFull appends the full containers of a row: each of them where they are
// told apart, else all of them as one lot.
func (b *builder) addFull(row int, list []Container, r *StockRow, toldApart bool) []Container {
	n := int(r.Full / One)
	switch {
	case n == 0:
		return list
	case !toldApart:
		lot := r.Size * Decimal(n)
		return append(list, Container{r.Container, lot, lot, false, 0})
	case len(list)+n > maxContainers:
		b.fail(StockTable, row, "full", r.Full.String(), "makes more than %d containers of %s; give it as bulk", maxContainers, r.Product)
		b.maybeStocked[b.products.find(r.Product)] = true
		return list
	}
	for range n {
		list = append(list, Container{r.Container, r.Size, r.Size, false, 0})
	}
	return list
}

// addTotal adds count × size and what is open to a product's total, and reports
// a total that no pad has.
func (b *builder) addTotal(t Table, row int, column string, total *Decimal, size, count, open Decimal) bool {
	n := count / One
	if n > (totalLimit-*total-open)/size {
		b.fail(t, row, column, count.String(), "makes more than %s of the stock unit in all", totalLimit)
		return false
	}
	*total += size*n + open
	return true
}

// checkContainer checks what a container is.
func (b *builder) checkContainer(t Table, row int, kind string, size Decimal) bool {
	known := b.oneOf(t, row, "container", kind, containerKinds...)
	sized := b.within(t, row, "size", size, limits{0, stockLimit.most, "of the stock unit", true})
	return known && sized
}

// wholeCount checks a number of containers.
func (b *builder) wholeCount(t Table, row int, column string, count Decimal) bool {
	whole := count%One == 0
	if !whole {
		b.fail(t, row, column, count.String(), "expected a whole number of containers")
	}
	return b.within(t, row, column, count, countLimit) && whole
}

// buildDeliveries reads the deliveries; totals is the stock of each product.
func (b *builder) buildDeliveries(totals []Decimal) {
	for i, r := range b.in.Deliveries {
		j := b.lookUp(&b.products, "products.csv", DeliveriesTable, i, "product", r.Product)
		ok := b.checkContainer(DeliveriesTable, i, r.Container, r.Size)
		ok = b.wholeCount(DeliveriesTable, i, "count", r.Count) && ok
		if j == None {
			continue
		}
		if !ok || !b.addTotal(DeliveriesTable, i, "count", &totals[j], r.Size, r.Count, 0) {
			b.maybeStocked[j] = true
			continue
		}
		if r.Count == 0 {
			continue
		}
		b.p.Deliveries = append(b.p.Deliveries, Delivery{
			At: r.At, Product: j, Container: Container{r.Container, r.Size, r.Size, false, 0}, Count: int(r.Count / One),
		})
	}
	sortDeliveries(b.p.Deliveries)
}

// sortDeliveries puts deliveries in the order they come, file order at ties.
func sortDeliveries(list []Delivery) {
	slices.SortStableFunc(list, func(x, y Delivery) int { return int(x.At - y.At) })
}
