package planner

// arrange settles in which order a load's metered products go in, and which of
// them are on before it starts (R6).
//
// Products at one place of the adding order go in in any order (R3). Where all of
// a load's products fit on its bay, no order is cheaper than another. Where they
// don't, the order decides which are on already when the first is drawn, and which
// hang there afterwards. The recipe's order stands unless another one needs fewer
// changeovers for the load, or leaves products there that are wanted sooner.
func (e *evaluator) arrange(b int, bay *bayState, l *load) {
	in := &e.in.bays[b]
	own := l.wants.without(&in.plumbed)
	bay.draws, bay.target = l.metered, own
	if !in.crowded[l.mix] {
		return
	}
	bay.target = startSet(bay, l.metered, own, in.free)
	if len(l.ties) == 0 || e.takeOff != TakeOffFurthest {
		return
	}
	for _, d := range l.metered {
		e.far[d.n] = e.distance(b, bay, d.n, bay.pos+1)
	}
	order := append(bay.tied[:0], l.metered...)
	e.sortTies(order, l.ties, &bay.on)
	set := startSet(bay, order, own, in.free)
	e.sortTies(order, l.ties, &set)
	if e.gain(bay, order, &set, &own).beats(e.gain(bay, l.metered, &bay.target, &own)) {
		bay.draws, bay.target = order, set
	}
}

// startSet returns which of a load's own products, those that are not plumbed,
// are on before it starts where not all are free: the first to be drawn, and
// otherwise those that are on already, so that the fewest changes are needed.
func startSet(bay *bayState, order []draw, own mask, free int) mask {
	var set mask
	for _, d := range order {
		if own.has(d.n) {
			set.add(d.n)
			free--
			break
		}
	}
	for _, wantOn := range []bool{true, false} {
		for _, d := range order {
			if free > 0 && own.has(d.n) && !set.has(d.n) && bay.on.has(d.n) == wantOn {
				set.add(d.n)
				free--
			}
		}
	}
	return set
}

// sortTies puts those of first before others at the same place of the adding order,
// and then what is wanted furthest ahead: what is drawn early can make room, and
// what is drawn last stays.
func (e *evaluator) sortTies(order []draw, ties []tie, first *mask) {
	before := func(x, y int) bool {
		if first.has(x) != first.has(y) {
			return first.has(x)
		}
		return e.far[x] > e.far[y]
	}
	for _, t := range ties {
		for i := t.from + 1; i < t.to; i++ {
			for k := i; k > t.from && before(order[k].n, order[k-1].n); k-- {
				order[k], order[k-1] = order[k-1], order[k]
			}
		}
	}
}

// gain is what an order of a load's products is worth.
type gain struct {
	there int // products on already that stay until they are drawn
	far   int // how far off those are wanted, summed up, that make room inside
}

func (g gain) beats(o gain) bool { return g.there > o.there || g.there == o.there && g.far > o.far }

// gain counts what comes of an order when set is on before the load starts, and of
// what is drawn already the product wanted furthest ahead makes room inside.
func (e *evaluator) gain(bay *bayState, order []draw, set, own *mask) gain {
	missing := set.without(&bay.on)
	g := gain{there: -missing.count()}
	var drawn mask
	for i, d := range order {
		if !own.has(d.n) {
			continue
		}
		if !set.has(d.n) {
			off := -1
			for _, x := range order[:i] {
				if drawn.has(x.n) && (off < 0 || e.far[x.n] > e.far[off]) {
					off = x.n
				}
			}
			drawn.drop(off)
			g.far += e.far[off]
		}
		drawn.add(d.n)
	}
	return g
}
