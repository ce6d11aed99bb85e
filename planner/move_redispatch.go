package planner

import (
	"slices"

	"padturn/model"
)

// redispatchShare is the share of a walker's steps that lay loads out anew: in the rest of a
// day, and where jobs keep their order or have none. Elsewhere routes decide, and the search
// for them lays all loads out anew. No walker does so while something is left undone: a
// dispatcher does not know what had best be left.
const redispatchShare = 0.4

// tryRedispatch lays some of the current candidate's loads out anew, and keeps that or not.
func (w *walker) tryRedispatch() {
	w.trial.copyFrom(w.current)
	if said, ok := w.redispatch(w.trial); ok {
		w.judgeDispatched(said)
	}
}

// redispatch has a load come next at some place of the sequence whose sprayer comes soon
// there, at the bay of its slot or another. The dispatcher lays out some of those that
// follow or all, and the rest stays in its order. A load that comes sooner or elsewhere
// changes when everybody is back, so that most are better in another order from there on;
// there are few ways through single loads to that which are not far dearer. It returns how
// many dollars the dispatcher holds that to cost, and whether anything changed.
func (w *walker) redispatch(c *candidate) (float64, bool) {
	n := len(c.sequence)
	if n < 3 {
		return 0, false
	}
	w.before = append(w.before[:0], c.sequence...)
	at := w.rng.IntN(n - 1)
	next := w.before[min(at+w.rng.IntN(soon), n-1)]
	if bays := len(w.e.in.bays); bays > 1 && (next == w.before[at] || w.rng.IntN(3) == 0) {
		next.bay = int16(w.rng.IntN(bays))
	}
	next.off = 0
	w.dispatcher.begin(c, w.before[:at], next)
	said := w.dispatcher.goOn(c, w.drawStretch(n-at), w.before)
	return said.Dollars(), !slices.Equal(c.sequence, w.before)
}

// soon is among how many slots, from a place on, the one that comes next there is drawn, and
// few how many loads are laid out anew at the most where it is to be few.
const (
	soon = 8
	few  = 12
)

// drawStretch draws how many of so many loads are laid out anew: any number, few or all.
func (w *walker) drawStretch(n int) int {
	switch w.rng.IntN(3) {
	case 0:
		return w.rng.IntN(n)
	case 1:
		return w.rng.IntN(min(n, few))
	}
	return n
}

// begin gives a candidate a sequence that begins with some slots and one more.
func (d *dispatcher) begin(c *candidate, first []slot, next slot) {
	d.open(c)
	c.sequence = c.sequence[:0]
	for _, x := range first {
		d.give(c, x)
	}
	d.give(c, next)
}

// goOn completes a sequence: so many loads as they had best come, the rest in the order of
// a list of slots. It returns about what the sequence costs.
func (d *dispatcher) goOn(c *candidate, loads int, then []slot) model.Money {
	for ; loads > 0 && len(c.sequence) < len(then); loads-- {
		d.serve(c, d.next())
	}
	clear(d.e.given)
	for _, x := range c.sequence {
		d.e.given[x.sprayer]++
	}
	for _, x := range then {
		if d.e.given[x.sprayer]--; d.e.given[x.sprayer] < 0 {
			d.give(c, x)
		}
	}
	d.e.payForTheEnd()
	return d.e.money
}
