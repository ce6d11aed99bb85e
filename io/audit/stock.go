package audit

import (
	"cmp"
	"math/big"
	"slices"

	"padturn/model"
)

// stockEvent is a change of a product's stock.
type stockEvent struct {
	at     model.Clock
	name   string   // as stock.csv has it
	change *big.Rat // stock unit
	level  *big.Rat // after it
	load   *load    // nil for the opening and deliveries
	used   bool     // a row of stock.csv has it
}

// draws returns what a load takes of a product, in the stock unit; nothing
// where it takes none.
func (l *load) draws(p *product) *big.Rat {
	sum := new(big.Rat)
	if l.mix.carrier == p.Product && p.gal != nil {
		sum = quo(l.carrier, p.gal)
	}
	if g := l.mix.find(p.Product); g != nil {
		sum = add(sum, l.dose(g))
	}
	return sum
}

// listStock works out what happens to the stock of all products.
func (a *audit) listStock() {
	a.stock = map[*product][]*stockEvent{}
	for _, p := range a.d.productOrder {
		level := new(big.Rat)
		for _, e := range a.stockEvents(p) {
			level = add(level, e.change)
			e.level = level
			a.stock[p] = append(a.stock[p], e)
		}
	}
}

// stockEvents lists what happens to a product's stock: the opening, then by
// time, deliveries before loads.
func (a *audit) stockEvents(p *product) []*stockEvent {
	var list []*stockEvent
	for _, d := range p.deliveries {
		list = append(list, &stockEvent{at: d.at, name: "delivery", change: d.amount})
	}
	for _, l := range a.loads {
		if l.mix.has(p.Product) {
			list = append(list, &stockEvent{at: l.start, name: "load " + l.id, change: sub(new(big.Rat), l.draws(p)), load: l})
		}
	}
	slices.SortStableFunc(list, func(x, y *stockEvent) int { return cmp.Compare(x.at, y.at) })
	return append([]*stockEvent{{name: "opening", change: p.onHand}}, list...)
}

// stockFrom returns the earliest moment from t on from which, until the load
// really started, there was always enough of all that it draws.
func (a *audit) stockFrom(l *load, t model.Clock) model.Clock {
	for _, name := range l.mix.contents {
		p := a.d.products[name]
		if p == nil {
			continue
		}
		need := sub(l.draws(p), enough)
		short := false
		for _, e := range a.stock[p] {
			if e.at > l.start || e.load != nil && e.at == l.start {
				break
			}
			if short {
				t = max(t, e.at)
			}
			short = less(e.level, need)
		}
		if short {
			t = max(t, l.start)
		}
	}
	return t
}

// checkStock works out every level again, checks that none falls below
// nothing, and compares stock.csv with it.
func (a *audit) checkStock() {
	rows := map[string][]*stockRow{}
	for _, r := range a.stockRows {
		rows[r.product] = append(rows[r.product], r)
	}
	for _, p := range a.d.productOrder {
		for _, e := range a.stock[p] {
			if lack := sub(new(big.Rat), e.level); e.load != nil && less(enough, lack) {
				a.breach("R10", e.load.where(), "starts %s with %s %s of %s too little", e.at, fixed(lack), p.Unit, p.Product)
			}
		}
		a.checkStockRows(p, a.stock[p], rows[p.Product])
	}
}

// checkStockRows compares the rows of one product with what happens to it, in
// the order of the rows.
func (a *audit) checkStockRows(p *product, events []*stockEvent, rows []*stockRow) {
	level, last := new(big.Rat), model.Clock(0)
	for i, r := range rows {
		e := takeEvent(events, r)
		if e == nil {
			a.breach("R10", r.where(), "%s of %s at %s, expected no such event", r.event, p.Product, r.at)
			continue
		}
		if (e.name == "opening") != (i == 0) || r.at < last || e.name == "delivery" && afterLoad(rows[:i], r.at) {
			a.breach("R10", r.where(), "%s at %s is out of order: the opening first, then by time, deliveries before loads", r.event, r.at)
		}
		last = r.at
		level = add(level, e.change)
		a.checkStockRow(p, r, e, level)
	}
	for _, e := range events {
		opening := e.name == "opening"
		if !e.used && !(opening && len(events) == 1) {
			a.breach("R10", "stock.csv", "has no row for %s of %s at %s", e.name, p.Product, e.at)
		}
	}
}

// afterLoad says whether a row of a load at that moment is there already.
func afterLoad(rows []*stockRow, at model.Clock) bool {
	return slices.ContainsFunc(rows, func(r *stockRow) bool { return r.at == at && r.event != "delivery" && r.event != "opening" })
}

// takeEvent finds what a row speaks of. The moment of the opening is the
// file's own affair, as long as it comes first.
func takeEvent(events []*stockEvent, r *stockRow) *stockEvent {
	for _, e := range events {
		if !e.used && e.name == r.event && (e.at == r.at || e.name == "opening") {
			e.used = true
			return e
		}
	}
	return nil
}

func (a *audit) checkStockRow(p *product, r *stockRow, e *stockEvent, level *big.Rat) {
	opening := e.name == "opening" && (r.change == nil || r.change.Sign() == 0)
	if !opening && (r.change == nil || !near(r.change, e.change, halfPlace)) {
		a.breach("R10", r.where(), "change of %s is %s, expected %s", p.Product, orBlank(r.change), fixed(e.change))
	}
	if !near(r.level, level, halfPlace) {
		a.breach("R10", r.where(), "level of %s is %s, expected %s", p.Product, fixed(r.level), fixed(level))
	}
	if p.ReorderAt == nil {
		a.differs("R10", r.where(), "low without a reorder_at", r.low, false)
	} else if low := less(level, p.ReorderAt.Rat()); r.low != low && !near(level, p.ReorderAt.Rat(), enough) {
		a.breach("R10", r.where(), "low is %t at %s of %s, expected %t (reorder_at %s)", r.low, fixed(level), p.Product, low, p.ReorderAt)
	}
}

func orBlank(r *big.Rat) string {
	if r == nil {
		return "blank"
	}
	return fixed(r)
}
