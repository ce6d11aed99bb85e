package standing

import (
	"slices"

	"padturn/model"
)

// change does a changeover of a set-up, where it still makes sense.
func (p *pad) change(bay *manifold, c Changeover, at model.Clock) {
	product := p.s.product(c.On)
	where := slices.IndexFunc(bay.on, func(h hook) bool { return h.product == product })
	switch {
	case where >= 0 && !p.isEmpty(bay.on[where]):
		return // it is on already, or the tote is not empty after all
	case where < 0:
		where = min(c.Connection, len(bay.on)-1)
	}
	p.put(bay, where, product, at, at+p.s.changeTime())
}

// isEmpty says whether a connection has no tote of its product, or one with nothing
// left. What is bulk is never empty.
func (p *pad) isEmpty(h hook) bool {
	return p.stores[h.product].apart && (h.tote == nil || h.tote.left <= slack)
}

// put hangs a product on a connection at t; what hung there is free at until.
func (p *pad) put(bay *manifold, where, product int, t, until model.Clock) {
	if where < 0 {
		return // a bay without connections
	}
	p.note(bay, where, product, t)
	old := bay.on[where].tote
	bay.on[where], bay.used[where] = p.hang(product, t), bay.loads
	if old != nil {
		old.hanging, old.freeFrom = false, until
	}
}

// fill draws what a load takes.
func (p *pad) fill(l *Load) {
	p.doing, p.inside = l, true
	bay := &p.bays[p.s.bay(l.Told.Bay)]
	if l.Told.CarrierGal > 0 && !slices.ContainsFunc(l.Doses, func(d Dose) bool { return p.s.isCarrier(&l.Told, d.Product) }) {
		p.water.draw(l.Start, l.Told.CarrierGal)
	}
	waiting := map[int]bool{} // looked up, never listed
	for _, d := range l.Doses {
		waiting[p.s.product(d.Product)] = d.Metered
	}
	for _, d := range l.Doses {
		product := p.s.product(d.Product)
		switch t := p.stores[product]; {
		case d.Metered && t.apart:
			p.drain(bay, l, product, d.Amount, waiting)
		default:
			if d.Metered {
				p.connected(bay, l, product, waiting)
			}
			if short := t.takeLots(d.Amount); short > slack {
				p.short(l, product, short)
			}
		}
		delete(waiting, product)
	}
	bay.lastMix, bay.rinsed, bay.busy = l.Told.Mix, "", max(bay.busy, l.End)
	bay.loads++
	if l.End > p.s.At {
		bay.load = l.Told.ID
	}
}

// connected returns where a load draws a product on a bay. Where it is not on
// the bay it goes on inside the load, as planned or in place of one that is not
// waited for.
func (p *pad) connected(bay *manifold, l *Load, product int, waiting map[int]bool) int {
	where := slices.IndexFunc(bay.on, func(h hook) bool { return h.product == product })
	if where >= 0 {
		bay.used[where] = bay.loads
		return where
	}
	for _, c := range p.s.told.Changes {
		if c.Load == l.Told.ID && c.Inside && p.s.product(c.On) == product && c.Connection < len(bay.on) {
			where = c.Connection
		}
	}
	plumbed := len(p.s.Problem.Bays[p.s.bay(l.Told.Bay)].Plumbed)
	for k := plumbed; where < 0 && k < len(bay.on); k++ {
		if bay.on[k].product == model.None || !waiting[bay.on[k].product] {
			where = k
		}
	}
	p.put(bay, where, product, l.Start, l.End)
	return where
}

// drain takes an amount out of the totes on a connection, one after the other.
func (p *pad) drain(bay *manifold, l *Load, product int, rest model.Decimal, waiting map[int]bool) {
	t := p.stores[product]
	where := p.connected(bay, l, product, waiting)
	if where < 0 {
		p.short(l, product, rest)
		return
	}
	for rest > slack {
		tote := bay.on[where].tote
		if tote == nil {
			p.short(l, product, rest)
			return
		}
		taken := min(rest, tote.left)
		t.take(tote, taken)
		if rest -= taken; rest <= slack {
			return
		}
		fresh := t.next(max(l.Start, l.End))
		if fresh == nil {
			p.short(l, product, rest)
			return
		}
		p.put(bay, where, product, l.Start, l.End)
		if bay.on[where].tote == nil { // the fresh one is only free by the end
			fresh.hanging = true
			bay.on[where].tote = fresh
		}
	}
}

// short notes a draw of more than there was.
func (p *pad) short(l *Load, product int, short model.Decimal) {
	what := &p.s.Problem.Products[product]
	p.s.oddity("load %s took %s %s of %s more than is reckoned to have been there; count it", l.Told.ID,
		short.Fixed(2), what.Unit.Name, what.Name)
}
