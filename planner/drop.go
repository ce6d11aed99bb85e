package planner

import (
	"slices"

	"padturn/model"
)

// why says why a load is left out of a plan.
type why uint8

const (
	fits why = iota
	noBay
	noStock
	noTote
	noWater
	padCloses
	hoursEnd
	sprayerLeaves
	tankLife
)

// dropReason is why a load is left out. The rest is set for noStock and noTote
// only, in the product's stock unit.
type dropReason struct {
	why        why
	product    int
	need, have model.Decimal
}

// shortOf is the reason of a load that a tracked product runs short for.
func (e *evaluator) shortOf(need draw) dropReason {
	return dropReason{noStock, e.in.tracked[need.n].product, need.amount, e.levels[need.n]}
}

// hopeless says why a load can't start however long its bay waits, as far as
// that is known before its set-up.
func (e *evaluator) hopeless(b int, l *load) dropReason {
	if !e.in.bays[b].fills[l.mix] {
		return dropReason{why: noBay}
	}
	bay := &e.bays[b]
	t := max(bay.at, e.in.now)
	for _, need := range l.needs {
		if e.levels[need.n] < need.amount && e.stockWait(need.n, need.amount, t) == model.Never {
			return e.shortOf(need)
		}
	}
	if s := &e.sprayers[l.sprayer]; s.k == bay.queue[bay.pos].k && s.ready != model.Never {
		t = max(t, s.ready)
	}
	if fill := l.Fill[0]; t+model.Clock(fill) > l.lastEnd {
		return e.whyNotStart(l, t, fill)
	}
	return dropReason{}
}

// whyNotStart says what keeps a load from starting at or after t.
func (e *evaluator) whyNotStart(l *load, t model.Clock, fill model.Seconds) dropReason {
	out := l.sprayedOut(t + model.Clock(fill))
	switch {
	case t+model.Clock(fill) > e.in.lastEnd:
		return dropReason{why: padCloses}
	case out > e.in.p.Settings.SprayUntil:
		return dropReason{why: hoursEnd}
	case out+l.driveBack > e.in.p.Sprayers[l.sprayer].AvailableUntil:
		return dropReason{why: sprayerLeaves}
	case model.Seconds(out-t) > l.tankLife:
		return dropReason{why: tankLife}
	}
	return dropReason{why: padCloses} // the bay is shut until it closes
}

// stuck says why a bay that waits for ever does.
func (e *evaluator) stuck(b int) dropReason {
	bay := &e.bays[b]
	if bay.parked != model.None {
		return dropReason{why: noTote, product: e.in.tracked[bay.parked].product}
	}
	return dropReason{why: noWater}
}

// drop leaves a bay's next load out of the plan. A set-up already done for it
// stays done and paid for; plans are made again without the loads they drop,
// see evaluator.settle.
func (e *evaluator) drop(b int, reason dropReason) {
	bay := &e.bays[b]
	q := bay.queue[bay.pos]
	e.dropped = append(e.dropped, LoadRef{q.l.sprayer, q.k})
	e.lose(q.l)
	if e.rec != nil {
		e.rec.drop(LoadRef{q.l.sprayer, q.k}, reason)
	}
	if bay.at != model.Never {
		bay.free = max(bay.free, bay.at)
	}
	bay.parked = model.None
	s := &e.sprayers[q.l.sprayer]
	s.skipped[q.k] = true
	if s.k == q.k && s.ready == model.Never && s.cleanAt < model.Never {
		e.toClean--
	}
	e.nextLoad(b, bay)
	if s.k == q.k {
		e.prepare(s)
	}
}

// lose counts a load as left undone.
func (e *evaluator) lose(l *load) {
	e.left += l.left
	for i := range l.parts {
		e.jobLost[l.parts[i].job] = true
	}
}

// omit leaves a sprayer's k-th load out from the beginning.
func (e *evaluator) omit(s *sprayerState) {
	e.lose(s.chain[s.k])
	s.skipped[s.k] = true
}

// reset makes the workspace ready for a candidate.
func (e *evaluator) reset(c *candidate) {
	e.takeOff = c.takeOff
	e.resetCount()
	e.left, e.opened, e.toClean = 0, 0, 0
	e.dropped = e.dropped[:0]
	e.cleanAt = model.Never
	e.disturbance, e.broken = 0, 0
	if told := e.in.told; told != nil {
		e.money, e.disturbance, e.broken = told.price, told.price, told.hard
		clear(e.toldSeen)
	}
	for i := range e.in.tracked {
		copy(e.totes[i], e.in.tracked[i].containers)
	}
	for i := range e.bays {
		e.resetBay(i)
	}
	for i := range e.sprayers {
		e.resetSprayer(i, c.chains[i])
	}
	n := max(len(c.sequence), 1) // a beam, without a sequence, serves one load at a time
	e.times = slices.Grow(e.times[:0], n)[:n]
	clear(e.times)
	for i, slot := range c.sequence {
		s := &e.sprayers[slot.sprayer]
		if c.omits(int(slot.sprayer), s.k) {
			e.omit(s)
		} else {
			bay := &e.bays[slot.bay]
			bay.queue = append(bay.queue, queued{s.chain[s.k], s.k, slot.off, i})
		}
		s.k++
	}
	for i := range e.bays {
		if len(e.bays[i].queue) == 0 {
			e.bays[i].phase = phaseDone
		}
	}
	for i := range e.sprayers {
		e.sprayers[i].k = 0
		e.prepare(&e.sprayers[i])
	}
}

// resetCount begins to count what a day comes to, and what stock and water is left.
func (e *evaluator) resetCount() {
	e.money, e.lastEnd = 0, 0
	clear(e.jobDone)
	clear(e.jobLost)
	for i := range e.in.tracked {
		e.levels[i], e.arrived[i] = e.in.tracked[i].onHand, 0
	}
	if e.in.water != nil {
		e.water, e.waterAt = e.in.water.onHand, e.in.water.from
	}
}

func (e *evaluator) resetBay(i int) {
	bay, data := &e.bays[i], &e.in.bays[i]
	bay.queue, bay.pos, bay.phase = bay.queue[:0], 0, phaseSetup
	bay.at, bay.free, bay.mix, bay.parked = data.freeFrom, data.freeFrom, data.lastMix, model.None
	bay.rinsed, bay.toldLast = data.rinsed, model.None
	bay.on = data.onAtOpening
	copy(bay.conns, data.conns)
	copy(bay.where, data.where)
	clear(bay.uses)
	bay.lastFrom = model.None
}

func (e *evaluator) resetSprayer(i int, chain []*load) {
	s, data := &e.sprayers[i], &e.in.p.Sprayers[i]
	s.chain, s.k, s.base, s.done = chain, 0, e.in.sprayers[i].base, 1
	s.skipped = slices.Grow(s.skipped[:0], len(chain))[:len(chain)]
	clear(s.skipped)
	if n := len(e.shop.contents); len(s.tank) < n {
		s.tank = append(s.tank, make([]int, n-len(s.tank))...)
	}
	s.emptyTank()
	clear(s.since)
	if data.LastMix != model.None {
		s.fillWith(data.LastMix) // its crops unknown: see newWorkshop
	}
	if e.in.sprayers[i].used {
		s.remember(e.shop.history[i], e.in.sprayers[i].cleaned)
	}
}

func (s *sprayerState) emptyTank() {
	for _, c := range s.used {
		s.tank[c] = 0
	}
	s.used = s.used[:0]
}
