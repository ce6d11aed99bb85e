package planner

import (
	"math/bits"

	"padturn/model"
)

// toChange returns the metered number of the next product to put on in set-up,
// in adding order, or None.
func (e *evaluator) toChange(b int, bay *bayState) int {
	l := bay.queue[bay.pos].l
	missing := bay.target.without(&bay.on)
	if missing.isEmpty() && !e.anyEmpty(bay, l) {
		return model.None
	}
	plain := len(l.totes) == 0
	for i := range bay.draws {
		n := bay.draws[i].n
		if missing.has(n) {
			return n
		}
		if !plain && bay.on.has(n) && e.isEmpty(bay, n) && (bay.target.has(n) || e.in.bays[b].plumbed.has(n)) {
			return n
		}
	}
	return model.None
}

// anyEmpty says whether a product that a load wants hangs on its bay in an
// empty tote.
func (e *evaluator) anyEmpty(bay *bayState, l *load) bool {
	for i := range l.totes {
		if n := l.totes[i].n; bay.on.has(n) && e.isEmpty(bay, n) {
			return true
		}
	}
	return false
}

// isEmpty says whether a product that is on a bay hangs there in an empty tote.
func (e *evaluator) isEmpty(bay *bayState, n int) bool {
	t := e.in.toteOf[n]
	if t == model.None {
		return false
	}
	c := bay.conns[bay.where[n]].tote
	return c == model.None || e.totes[t][c].left == 0
}

// connectionFor returns where a product goes: where it is already (a fresh
// tote), an empty connection, or the place of the product to be taken off.
func (e *evaluator) connectionFor(b int, bay *bayState, n int) int {
	if bay.on.has(n) {
		return int(bay.where[n])
	}
	if bay.on.count() < len(bay.conns) {
		for i := range bay.conns {
			if c := &bay.conns[i]; c.metered == model.None && c.lastUsed != plumbedForever {
				return i
			}
		}
	}
	return e.victim(b, bay, bay.target, bay.pos)
}

// victim chooses the connection whose product comes off; those in keep stay.
// The loads from one place of the bay's queue on say which is wanted furthest ahead.
func (e *evaluator) victim(b int, bay *bayState, keep mask, from int) int {
	best, bestRank := model.None, -1
	loose := bay.on.without(&keep)
	loose = loose.without(&e.in.bays[b].plumbed)
	plainly := e.takeOff == TakeOffFurthest && e.isPlainlyAhead(b, bay)
	if plainly {
		loose = bay.furthest(loose, from)
	}
	for word, set := range loose {
		for ; set != 0; set &= set - 1 {
			n := word*64 + bits.TrailingZeros64(set)
			where := int(bay.where[n])
			rank := 0
			switch {
			case plainly:
			case e.takeOff == TakeOffFurthest:
				rank = e.distance(b, bay, n, from)
			default:
				rank = len(bay.queue) - bay.conns[where].lastUsed
			}
			if rank > bestRank || rank == bestRank && where < best {
				best, bestRank = where, rank
			}
		}
	}
	return best
}

// hook puts a product on a connection at t, if a tote of it is at the pad and
// off every bay; else it says when to look again.
func (e *evaluator) hook(b int, bay *bayState, where, n int, t model.Clock) bool {
	tote := model.None
	if k := e.in.toteOf[n]; k != model.None {
		tote = nextContainer(e.totes[k], t)
		if tote == model.None {
			bay.at, bay.parked = e.nextToteAt(k, t), k
			return false
		}
		e.totes[k][tote].onBay = true
	}
	e.unhook(bay, where, t+model.Clock(e.in.change))
	if e.rec != nil {
		e.rec.changeover(b, where, n, t)
	}
	c := &bay.conns[where]
	c.metered, c.tote = n, tote
	bay.put(n, where)
	bay.use(where)
	return true
}

// put notes on which connection a product is.
func (bay *bayState) put(n, where int) {
	bay.on.add(n)
	bay.where[n] = int8(where)
}

// unhook takes what is on a connection off, at t.
func (e *evaluator) unhook(bay *bayState, where int, t model.Clock) {
	c := &bay.conns[where]
	if c.metered == model.None {
		return
	}
	bay.on.drop(c.metered)
	if k := e.in.toteOf[c.metered]; k != model.None && c.tote != model.None {
		tote := &e.totes[k][c.tote]
		tote.onBay, tote.from = false, max(tote.from, t)
		if tote.left > 0 {
			e.wakeParked(k, t)
		}
	}
}

// nextToteAt returns when a tote that is not on a bay comes to the pad next.
func (e *evaluator) nextToteAt(k int, t model.Clock) model.Clock {
	next := model.Never
	for i := range e.totes[k] {
		if c := &e.totes[k][i]; !c.onBay && c.left > 0 && c.from > t {
			next = min(next, c.from)
		}
	}
	return next
}

// totesWait returns when the totes that a draw needs are at the pad and off
// every other bay: t, later, or Never as long as no bay lets go of one. A
// product that goes on inside the load needs one however little it draws.
func (e *evaluator) totesWait(bay *bayState, d *draw, t model.Clock) model.Clock {
	k := e.in.toteOf[d.n]
	for {
		there := bay.on.has(d.n) || nextContainer(e.totes[k], t) != model.None
		if there && e.totesLeft(bay, d.n, k, t)+stockSlack >= d.amount {
			return t
		}
		bay.parked = k
		if t = e.nextToteAt(k, t); t == model.Never {
			return t
		}
	}
}

// totesLeft returns what a bay can draw of a product at t: from the tote on
// its connection and from those at the pad on no bay.
func (e *evaluator) totesLeft(bay *bayState, n, k int, t model.Clock) model.Decimal {
	var sum model.Decimal
	if bay.on.has(n) {
		if c := bay.conns[bay.where[n]].tote; c != model.None {
			sum = e.totes[k][c].left
		}
	}
	for i := range e.totes[k] {
		if c := &e.totes[k][i]; !c.onBay && c.from <= t {
			sum += c.left
		}
	}
	return sum
}

// wakeParked lets bays that wait for a tote of a product look again at t, when
// one is let go.
func (e *evaluator) wakeParked(k int, t model.Clock) {
	for i := range e.bays {
		if b := &e.bays[i]; b.parked == k && b.phase != phaseDone {
			b.at = min(b.at, t)
		}
	}
}

// insideChanges returns how many changeovers fall inside a load that starts at
// t: one for each product that did not fit before it, one for each further tote.
func (e *evaluator) insideChanges(bay *bayState, l *load, t model.Clock) int {
	count := 0
	for _, d := range l.metered {
		if !bay.on.has(d.n) {
			count++
		}
		if k := e.in.toteOf[d.n]; k != model.None {
			count += e.furtherTotes(bay, d, k, t)
		}
	}
	return count
}

// furtherTotes returns how many totes a draw takes after its first.
func (e *evaluator) furtherTotes(bay *bayState, d draw, k int, t model.Clock) int {
	rest, count := d.amount-stockSlack, 0
	list := e.totes[k]
	if bay.on.has(d.n) {
		if c := bay.conns[bay.where[d.n]].tote; c != model.None {
			rest -= list[c].left
		}
	} else {
		count = -1 // its first tote is the changeover that puts it on
	}
	for rest > 0 {
		c := nextContainer(list, t)
		if c < 0 {
			break
		}
		rest -= list[c].left
		list[c].onBay = true // while counting
		count++
		e.counted = append(e.counted, c)
	}
	for _, c := range e.counted {
		list[c].onBay = false
	}
	e.counted = e.counted[:0]
	return max(count, 0)
}

// isPlain says whether a load draws all it wants from what is on the
// connections, without a changeover inside.
func (e *evaluator) isPlain(bay *bayState, l *load) bool {
	missing := l.wants.without(&bay.on)
	if !missing.isEmpty() {
		return false
	}
	for i := range l.totes {
		d := &l.totes[i]
		tote := bay.conns[bay.where[d.n]].tote
		if tote == model.None || e.totes[e.in.toteOf[d.n]][tote].left < d.amount {
			return false
		}
	}
	return true
}

// drawPlain draws a load's metered products when isPlain.
func (e *evaluator) drawPlain(bay *bayState, l *load) {
	for i := range l.totes {
		d := &l.totes[i]
		e.drawFrom(&e.totes[e.in.toteOf[d.n]][bay.conns[bay.where[d.n]].tote], d.amount)
	}
	if e.takeOff == TakeOffLongestUnused {
		for _, d := range l.metered {
			bay.use(int(bay.where[d.n]))
		}
	}
}

// use notes that the bay's next load draws from a connection.
func (bay *bayState) use(where int) {
	if bay.conns[where].lastUsed != plumbedForever {
		bay.conns[where].lastUsed = bay.pos
	}
}

// drawFrom takes an amount out of a tote and counts it opened.
func (e *evaluator) drawFrom(tote *container, amount model.Decimal) {
	if tote.opened == neverOpened {
		tote.opened = e.opened
		e.opened++
	}
	if tote.left -= amount; tote.left <= stockSlack {
		tote.left = 0 // as good as empty
	}
}

// drawMetered draws the metered products of the load at hand in adding order, with
// the changeovers inside it. end is when it is filled.
func (e *evaluator) drawMetered(b int, bay *bayState, start, end model.Clock) {
	waiting := bay.target // on their connections, not drawn yet
	for i, d := range bay.draws {
		where := model.None
		if bay.on.has(d.n) {
			where = int(bay.where[d.n])
		} else {
			where = e.victim(b, bay, waiting, bay.pos+1)
			e.swapInside(b, bay, where, i, start, end)
		}
		waiting.drop(d.n)
		bay.use(where)
		e.drain(b, bay, where, i, start, end)
	}
}

// swapInside puts the i-th metered product of the load at hand on a connection while
// it is being filled.
func (e *evaluator) swapInside(b int, bay *bayState, where, i int, start, end model.Clock) {
	n := bay.draws[i].n
	tote := model.None
	if k := e.in.toteOf[n]; k != model.None {
		tote = nextContainer(e.totes[k], start)
		e.totes[k][tote].onBay = true
	}
	if e.rec != nil {
		e.rec.insideChange(b, where, n)
	}
	e.unhook(bay, where, end)
	bay.conns[where].metered, bay.conns[where].tote = n, tote
	bay.put(n, where)
}

// drain takes the i-th metered product of the load at hand out of the totes on a
// connection, changing to fresh ones as they run dry.
func (e *evaluator) drain(b int, bay *bayState, where, i int, start, end model.Clock) {
	d := bay.draws[i]
	k := e.in.toteOf[d.n]
	if k == model.None {
		return
	}
	rest := d.amount
	for {
		tote := &e.totes[k][bay.conns[where].tote]
		taken := min(rest, tote.left)
		e.drawFrom(tote, taken)
		if rest -= taken; rest <= stockSlack {
			return
		}
		fresh := nextContainer(e.totes[k], start)
		if e.rec != nil {
			e.rec.insideChange(b, where, d.n)
		}
		tote.onBay, tote.from = false, max(tote.from, end)
		e.totes[k][fresh].onBay = true
		bay.conns[where].tote = fresh
	}
}
