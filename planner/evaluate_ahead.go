package planner

import "slices"

// Distances are counted in so many parts of the step from one load to the next:
// products that the same load wants are told apart by their places in it, at one
// place by the load that wants them after it, and so on, three times.
const (
	finely     = 1 << (3 * bitsApart)
	bitsApart  = 10
	mostAfter  = 63 // loads after it
	mostPlaces = 15
)

// distance says how far off a product is wanted on a bay, to be compared with
// others: what is furthest off comes off first. The loads from one place of its
// queue on count.
func (e *evaluator) distance(b int, bay *bayState, n, from int) int {
	if e.ahead != nil {
		return e.ahead(n)
	}
	q, use, never := &bay.queue[bay.pos], bay.nextUse(n, from), len(bay.queue)
	crowded := e.in.bays[b].crowded
	switch listed := q.off>>n&1 != 0; {
	case listed && crowded[q.l.mix]:
		return (never + 1) * finely
	case use == never:
		return never * finely
	case listed:
		return never*finely - 1
	case !crowded[bay.queue[use].l.mix]:
		return use * finely
	}
	return use*finely + within(crowded, n, bay.queue[use:], finely>>bitsApart)
}

// isPlainlyAhead says whether nothing but the next load that wants a product says how
// far off it is wanted on a bay.
func (e *evaluator) isPlainlyAhead(b int, bay *bayState) bool {
	return e.ahead == nil && !e.in.bays[b].crowds && bay.queue[bay.pos].off == 0
}

// furthest returns those of a set of loose products that are wanted furthest ahead, by
// the loads from one place of a bay's queue on. While a bay stands at one load, its
// loose products only get fewer.
func (bay *bayState) furthest(loose mask, from int) mask {
	if bay.lastFrom != from {
		bay.lookAhead(loose, from)
	}
	for {
		end := len(bay.last) - 1
		if set := bay.last[end].both(&loose); end == 0 || !set.isEmpty() {
			return set
		}
		bay.last = bay.last[:end]
	}
}

// lookAhead lists the sets of loose products that are left when those are taken out
// that the next load wants, and the next, and so on.
func (bay *bayState) lookAhead(loose mask, from int) {
	bay.lastFrom, bay.last = from, append(bay.last[:0], loose)
	for i := from; i < len(bay.queue); i++ {
		rest := loose.without(&bay.queue[i].l.wants)
		if rest.isEmpty() {
			return
		}
		if rest != loose {
			bay.last = append(bay.last, rest)
			loose = rest
		}
	}
}

// use remembers that the first load that wants a product, from one place of a queue
// on, stands before until; nothing is known where both are 0.
type use struct{ from, until int }

// nextUse returns where in a bay's queue, from a place on, a product is wanted
// next; the length of the queue where it is not.
func (bay *bayState) nextUse(n, from int) int {
	known := &bay.uses[n]
	if from < known.from || from >= known.until {
		*known = use{from, from + usedAfter(n, bay.queue[from:]) + 1}
	}
	return known.until - 1
}

// usedAfter returns how many loads come before one that wants a product.
func usedAfter(n int, next []queued) int {
	for i := range next {
		if next[i].l.wants.has(n) {
			return i
		}
	}
	return len(next)
}

// within says how far off a product is wanted within the load that is next, as a
// number below part << bitsApart. Where the load is crowded, one with an early place
// is wanted sooner, and at one place what is wanted later after that load: it is
// drawn first there, to make room, and the others last, to stay.
func within(crowded []bool, n int, next []queued, part int) int {
	l := next[0].l
	if part == 0 || !crowded[l.mix] {
		return 0
	}
	i := usedAfter(n, next[1:])
	after := min(i, mostAfter) * part
	if i < min(mostAfter, len(next)-1) {
		after += within(crowded, n, next[1+i:], part>>bitsApart)
	}
	return (min(l.placeOf(n), mostPlaces)+1)*(mostAfter+1)*part - 1 - after
}

// placeOf returns where a metered product stands in a load's adding order: the
// same for all at one place.
func (l *load) placeOf(n int) int {
	i := slices.IndexFunc(l.metered, func(d draw) bool { return d.n == n })
	for _, t := range l.ties {
		if t.from <= i && i < t.to {
			return t.from
		}
	}
	return i
}
