package planner

import "padturn/model"

// times are those of a load: when its sprayer was ready, when its bay was, and when
// it started. A load that was left out has none.
type times struct{ ready, free, start model.Clock }

// waited is how long sprayer and bay waited for one another or for something else.
func (t *times) waited() model.Clock { return t.start - min(t.ready, t.free) }

// fitSlot puts a load where its sprayer is ready for it: at its bay or another, a
// place or two before or behind those that start there about then. Loads that are
// waited for, or wait, are moved more often.
func fitSlot(w *walker, c *candidate) bool {
	n := len(c.sequence)
	if n < 2 {
		return false
	}
	i := w.drawWaiting(n)
	bay := c.sequence[i].bay
	if len(w.e.in.bays) > 1 && w.rng.IntN(2) == 0 {
		bay = int16(w.rng.IntN(len(w.e.in.bays)))
	}
	to := c.hop(w.placeFor(c, i, bay), bay, w.rng.IntN(5)-2)
	if to > i {
		to--
	}
	if bay == c.sequence[i].bay && !c.matters(i, to) {
		return false
	}
	c.sequence[i].bay = bay
	moveItem(c.sequence, i, to)
	return true
}

// drawWaiting draws a slot: of up to three, the one whose load waited longest.
func (w *walker) drawWaiting(n int) int {
	best := w.rng.IntN(n)
	for range w.rng.IntN(3) {
		if k := w.rng.IntN(n); w.times[k].waited() > w.times[best].waited() {
			best = k
		}
	}
	return best
}

// placeFor returns the place in the sequence behind the last load that a bay starts
// before the sprayer of slot i is ready.
func (w *walker) placeFor(c *candidate, i int, bay int16) int {
	to := 0
	for k := range c.sequence {
		if k != i && c.sequence[k].bay == bay && w.times[k].start < w.times[i].ready {
			to = k + 1
		}
	}
	return to
}

// hop moves a place in the sequence over so many slots of a bay, back where hops is
// negative.
func (c *candidate) hop(to int, bay int16, hops int) int {
	for ; hops < 0 && to > 0; hops++ {
		for to--; to > 0 && c.sequence[to].bay != bay; to-- {
		}
	}
	for ; hops > 0 && to < len(c.sequence); hops-- {
		for to++; to < len(c.sequence) && c.sequence[to-1].bay != bay; to++ {
		}
	}
	return to
}

// beside returns a random place in a list of n, not i: one next to it more often than
// one further away.
func (w *walker) beside(i, n int) int {
	d := 1 + w.rng.IntN(1+w.rng.IntN(nearby))
	if w.rng.IntN(2) == 0 {
		d = -d
	}
	if j := min(max(i+d, 0), n-1); j != i {
		return j
	}
	return min(max(i-d, 0), n-1)
}

// matters says whether a plan may change when a slot moves from i to j: not where it
// passes only other sprayers at other bays.
func (c *candidate) matters(i, j int) bool {
	x := &c.sequence[i]
	for k := min(i, j); k <= max(i, j); k++ {
		y := &c.sequence[k]
		if (y.bay == x.bay) != (y.sprayer == x.sprayer) {
			return true
		}
	}
	return false
}
