package planner

import "math"

// joinKin brings a load right behind one that it is cheap behind: two blocks of loads
// that follow one another change places, so that the end of one comes to stand before
// the other's beginning. All else keeps its order.
func joinKin(w *walker, c *candidate) bool {
	n := len(c.sequence)
	at := w.rng.IntN(n)
	near := w.kin.near[c.sequence[at].sprayer]
	other := near[w.rng.IntN(1+w.rng.IntN(len(near)))]
	before := 0
	for c.sequence[before].sprayer != other {
		before++
	}
	switch {
	case before == at-1:
		return false
	case before > at:
		w.exchange(c, at, w.drawBetween(at+1, before), before+1)
	case w.rng.IntN(2) == 0:
		w.exchange(c, before+1, at, w.drawBetween(at+1, n))
	default:
		w.exchange(c, w.drawBetween(0, before), before+1, at)
	}
	return true
}

// drawBetween draws a place from one to another, those near either more often.
func (w *walker) drawBetween(from, to int) int {
	d := w.rng.IntN(1 + w.rng.IntN(to-from+1))
	if w.rng.IntN(2) == 0 {
		return from + d
	}
	return to - d
}

// exchange lets the block of loads from i to k change places with the one from k to j.
func (w *walker) exchange(c *candidate, i, k, j int) {
	w.block = append(w.block[:0], c.sequence[i:k]...)
	copy(c.sequence[i:], c.sequence[k:j])
	copy(c.sequence[i+j-k:], w.block)
}

// tryKin is try where the order of loads is all there is. It draws first how dear a
// candidate may be, and evaluates none that kin says will be dearer.
func (w *walker) tryKin() {
	w.trial.copyFrom(w.current)
	limit := w.priced - w.heat*math.Log(1-w.rng.Float64())
	for range mostDrawn {
		if !w.moves[w.rng.IntN(len(w.moves))](w, w.trial) {
			continue
		}
		said := w.kin.added(w.trial.sequence, w.current.sequence)
		if w.priced+w.guess.least(said, 1) > limit {
			copy(w.trial.sequence, w.current.sequence)
			continue
		}
		w.weigh(said, limit)
		return
	}
}

// weigh evaluates the trial, which is said to add so much, and keeps it if it is not dearer
// than a limit.
func (w *walker) weigh(said, limit float64) (score, bool) {
	s := w.e.scoreUnder(w.trial, limit)
	if s.left == 0 && w.left == 0 {
		w.guess.learn(said, price(s)-w.priced)
	}
	if price(s) > limit {
		return s, false
	}
	w.current, w.trial = w.trial, w.current
	w.settleAt(s)
	return s, true
}

// mostDrawn is how many candidates are drawn for one to evaluate: that takes about as
// long as an evaluation.
const mostDrawn = 64
