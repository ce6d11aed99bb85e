package planner

import "slices"

// orderMixes puts the jobs of one mix before or behind those of another, on all
// sprayers that have both. Bays change over less where sprayers come to a mix at about
// the same time; so one of them alone had better not change the order of its jobs.
func orderMixes(w *walker, c *candidate) bool {
	jobs := w.e.in.p.Jobs
	mix, other := jobs[w.rng.IntN(len(jobs))].Mix, jobs[w.rng.IntN(len(jobs))].Mix
	if mix == other {
		return false
	}
	before, changed := w.rng.IntN(2) == 0, false
	for s := range c.jobs {
		if w.orderOn(c, s, mix, other, before) {
			w.rebuild(c, s)
			changed = true
		}
	}
	return changed
}

// orderOn is orderMixes on one sprayer; it does not make its loads anew.
func (w *walker) orderOn(c *candidate, s, mix, other int, before bool) bool {
	w.were, w.moved = append(w.were[:0], c.jobs[s]...), w.moved[:0]
	rest, at := c.jobs[s][:0], -1 // where the jobs go among the rest
	for _, j := range w.were {
		switch m := w.e.in.p.Jobs[j].Mix; {
		case m == mix:
			w.moved = append(w.moved, j)
			continue
		case m == other && before && at < 0:
			at = len(rest)
		case m == other && !before:
			at = len(rest) + 1
		}
		rest = append(rest, j)
	}
	if at < 0 {
		copy(c.jobs[s], w.were)
		return false
	}
	c.jobs[s] = slices.Insert(rest, at, w.moved...)
	return !slices.Equal(c.jobs[s], w.were)
}
