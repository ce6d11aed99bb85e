package standing

import (
	"cmp"
	"slices"

	"padturn/model"
)

// pad is what hangs where and what is left, replayed from the opening.
type pad struct {
	s      *Standing
	stores []*store // by product
	bays   []manifold
	water  waterTank
	doing  *Load // that the step of the replay is for
	inside bool  // the step is its filling
	done   []change
}

// manifold is a bay's connections and what ran through it.
type manifold struct {
	on      []hook
	used    []int // by connection: number of the load that drew from it last, or that it went on for; -1: none
	loads   int   // filled or being filled
	lastMix string
	rinsed  string
	busy    model.Clock // end of the set-up step or load begun last
	load    string      // that it fills at the moment
}

// hook is what is on a connection: a product and, where its containers are
// told apart, which one.
type hook struct {
	product int // None: nothing
	tote    *container
}

// action is a step of the replay.
type action struct {
	at   model.Clock
	rank int // at one moment: deliveries, counts, set-ups, fillings
	told int // and of set-ups: the changeovers as they were told, one tote after the other
	do   func()
}

// replayPad works out the connections, the stock and the water.
func (s *Standing) replayPad() {
	p := &pad{s: s}
	s.pad = p
	p.open()
	var list []action
	list = p.supplies(list)
	for i := range s.Loads {
		if l := &s.Loads[i]; l.Begun {
			list = p.setup(list, l, l.Start)
			list = append(list, action{at: l.Start, rank: 3, do: func() { p.fill(l) }})
		}
	}
	for _, l := range s.nextOnBays() {
		list = p.setup(list, l, s.At)
	}
	list = p.cleanouts(list)
	slices.SortStableFunc(list, func(a, b action) int {
		return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.rank, b.rank), cmp.Compare(a.told, b.told))
	})
	for _, a := range list {
		a.do()
	}
	p.report()
}

// open puts the pad as it was at the opening.
func (p *pad) open() {
	for i := range p.s.Problem.Products {
		product := &p.s.Problem.Products[i]
		p.stores = append(p.stores, &store{apart: product.Metered && !product.Bulk})
		p.stock(i)
	}
	for i := range p.s.Problem.Bays {
		bay := &p.s.Problem.Bays[i]
		m := manifold{on: make([]hook, bay.Connections), used: make([]int, bay.Connections)}
		for k := range m.on {
			m.on[k].product, m.used[k] = model.None, -1
		}
		for k, product := range slices.Concat(bay.Plumbed, bay.Hooked) {
			m.on[k] = p.hang(product, 0)
		}
		if bay.LastMix != model.None {
			m.lastMix = p.s.Problem.Mixes[bay.LastMix].Name
		}
		p.bays = append(p.bays, m)
	}
	p.water = p.s.waterAtOpening()
}

// stock fills a store by the rows of stock.csv: opened containers, then full
// ones, each in file order.
func (p *pad) stock(product int) {
	t := p.stores[product]
	t.kind, t.size = p.s.Day.KeptIn(p.s.Problem.Products[product].Name)
	for _, r := range p.s.Day.Stock {
		if p.s.product(r.Product) == product && valueOr(r.Open, 0) > 0 {
			t.receiveOpened(r.Container, r.Size, *r.Open)
		}
	}
	for _, r := range p.s.Day.Stock {
		if p.s.product(r.Product) == product && r.Full > 0 {
			t.receive(r.Container, r.Size, r.Full)
		}
	}
}

// hang takes the container that goes on a connection next.
func (p *pad) hang(product int, at model.Clock) hook {
	h := hook{product: product}
	if t := p.stores[product]; t.apart {
		if h.tote = t.next(at); h.tote != nil {
			h.tote.hanging = true
		}
	}
	return h
}

// supplies lists the deliveries that came and the counts.
func (p *pad) supplies(list []action) []action {
	order := slices.SortedStableFunc(slices.Values(p.s.Deliveries), func(a, b Delivery) int {
		return cmp.Compare(a.Row.At, b.Row.At)
	})
	for _, d := range order {
		if d.Arrived {
			product := p.s.product(d.Row.Product) // its store is another one after a count
			list = append(list, action{at: d.Row.At, do: func() { p.stores[product].receive(d.Row.Container, d.Row.Size, d.Row.Count) }})
		}
	}
	for _, f := range p.s.facts {
		if c, ok := f.News.(StockCount); ok && p.s.product(c.Product) >= 0 {
			list = append(list, action{at: f.At, rank: 1, do: func() { p.count(&c) }})
		}
	}
	return list
}

// count puts what was counted in place of what was reckoned: what hangs on the
// connections first, in the order of the bays.
func (p *pad) count(c *StockCount) {
	product := p.s.product(c.Product)
	t := &store{apart: p.stores[product].apart, kind: c.Container, size: c.Size}
	p.stores[product] = t
	var opened []*container
	for _, left := range c.Open {
		opened = append(opened, t.receiveOpened(c.Container, c.Size, left))
	}
	t.receive(c.Container, c.Size, c.Full)
	if !t.apart {
		return
	}
	for b := range p.bays {
		for k := range p.bays[b].on {
			h := &p.bays[b].on[k]
			if h.product != product {
				continue
			}
			if len(opened) > 0 {
				h.tote, opened = opened[0], opened[1:]
				h.tote.hanging = true
			} else {
				*h = p.hang(product, model.Never)
			}
		}
	}
}

// nextOnBays lists the load that each bay fills next: its set-up may have
// begun.
func (s *Standing) nextOnBays() []*Load {
	var list []*Load
	for _, bay := range s.Problem.Bays {
		next := slices.IndexFunc(s.Loads, func(l Load) bool {
			return l.Told.Bay == bay.Name && !l.Begun && l.State != Dropped
		})
		if next >= 0 {
			list = append(list, &s.Loads[next])
		}
	}
	return list
}

// setup lists the steps of a load's set-up that were begun before a moment.
func (p *pad) setup(list []action, l *Load, until model.Clock) []action {
	bay := &p.bays[p.s.bay(l.Told.Bay)]
	shift := l.SetupStart - l.Told.SetupStart
	step := func(at, length model.Clock, told int, do func()) {
		at += shift
		if l.Begun {
			at = min(at, until)
		} else if at >= until {
			return
		}
		list = append(list, action{at, 2, told, func() {
			p.doing, p.inside = l, false
			do()
			bay.busy = max(bay.busy, at+length)
		}})
	}
	if l.Told.Rinse != "" {
		step(l.Told.SetupStart, p.s.rinseTime(l.Told.Rinse), 0, func() {
			bay.rinsed = l.Told.Rinse
			p.draw(l.SetupStart, l.Told.Rinse, p.s.Problem.Settings.RinseLevels)
		})
	}
	for i, c := range p.s.told.Changes {
		if c.Load == l.Told.ID && !c.Inside {
			step(c.At, p.s.changeTime(), 1+i, func() { p.change(bay, c, c.At+shift) })
		}
	}
	return list
}
