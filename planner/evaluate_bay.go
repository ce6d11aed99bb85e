package planner

import "padturn/model"

// step takes a bay's next step, at its time.
func (e *evaluator) step(b int) {
	bay := &e.bays[b]
	bay.parked = model.None
	switch bay.phase {
	case phaseSetup:
		e.setUp(b, bay)
	case phaseChange:
		e.change(b, bay)
	case phaseReady:
		e.meet(bay)
	case phaseStart:
		e.start(b, bay)
	}
}

// setUp begins the set-up for the bay's next load with the rinse it needs.
func (e *evaluator) setUp(b int, bay *bayState) {
	l := bay.queue[bay.pos].l
	if reason := e.hopeless(b, l); reason.why != fits {
		e.drop(b, reason)
		return
	}
	bay.hasSetup, bay.changes, bay.rinse = false, 0, model.None
	if bay.mix != model.None {
		bay.rinse = e.in.rinse[bay.mix][l.mix]
	}
	if bay.rinse <= bay.rinsed {
		bay.rinse = model.None
	}
	if bay.rinse != model.None {
		rinse := &e.in.rinses[bay.rinse]
		t := afterShut(e.in.bays[b].shut, bay.at, rinse.time)
		if wait := e.waterWait(t, int64(rinse.gal)*waterScale); wait > bay.at {
			bay.at = wait
			if wait == model.Never {
				e.drop(b, dropReason{why: noWater})
			}
			return
		}
		e.drawWater(t, int64(rinse.gal)*waterScale)
		bay.hasSetup, bay.setupStart = true, t
		bay.at = t + model.Clock(rinse.time)
		e.money += rinse.money
	}
	e.arrange(b, bay, l)
	bay.phase = phaseChange
	if e.toChange(b, bay) == model.None {
		e.meet(bay)
	}
}

// change does the next set-up changeover.
func (e *evaluator) change(b int, bay *bayState) {
	n := e.toChange(b, bay)
	t := afterShut(e.in.bays[b].shut, bay.at, e.in.change)
	if t > bay.at && e.in.contended() {
		bay.at = t
		return
	}
	where := e.connectionFor(b, bay, n)
	if !e.hook(b, bay, where, n, t) {
		return
	}
	if !bay.hasSetup {
		bay.hasSetup, bay.setupStart = true, t
	}
	bay.changes++
	e.money += e.in.changeMoney
	bay.at = t + model.Clock(e.in.change)
	if e.toChange(b, bay) == model.None {
		e.meet(bay)
	}
}

// meet finds when the load can start, once its sprayer's time is known.
func (e *evaluator) meet(bay *bayState) {
	bay.phase = phaseReady
	q := &bay.queue[bay.pos]
	s := &e.sprayers[q.l.sprayer]
	if s.k != q.k || s.ready == model.Never {
		bay.at, bay.free = model.Never, bay.at
		return
	}
	bay.free = max(bay.free, bay.at) // the set-up is done
	bay.phase = phaseStart
	bay.at = max(bay.free, s.ready, e.in.now)
}

// start starts the load, or finds when it can.
func (e *evaluator) start(b int, bay *bayState) {
	l := bay.queue[bay.pos].l
	bay.plain = e.isPlain(bay, l)
	t, reason := e.suppliesAt(bay, l, bay.at)
	if reason.why != fits {
		e.drop(b, reason)
		return
	}
	if t > bay.at {
		bay.at = t
		return
	}
	inside := 0
	if !bay.plain {
		inside = e.insideChanges(bay, l, t)
	}
	fill := l.FillSeconds(inside)
	start := e.in.bayStart(l, t, fill, e.in.bays[b].shut)
	if start == model.Never {
		e.drop(b, e.whyNotStart(l, t, fill))
		return
	}
	if start > t && e.in.contended() {
		bay.at = start
		return
	}
	e.commit(b, bay, start, fill, inside)
}

// commit starts the load for good and works out what follows from it. Waiting is
// paid from when the sprayer could have been clean, the opening and tank life
// aside: so what keeps a cleanout waiting is paid like what keeps a load.
func (e *evaluator) commit(b int, bay *bayState, start model.Clock, fill model.Seconds, inside int) {
	l := bay.queue[bay.pos].l
	s := &e.sprayers[l.sprayer]
	end := start + model.Clock(fill)
	e.times[bay.queue[bay.pos].at] = times{s.soonest, bay.free, start}
	earliest := e.payForLoad(l, s.soonest, start, fill, inside)
	e.lastEnd = max(e.lastEnd, end)
	if e.rec != nil {
		e.rec.load(e, b, start, end, earliest, inside)
	}
	if e.in.told != nil {
		e.keepTold(b, bay, l, start)
	}
	e.drawSupplies(b, bay, l, start, end)
	back := e.spray(l, end) + l.driveBack
	bay.mix, bay.free, bay.rinsed = l.mix, end, model.None
	e.finishCleanout(s, l)
	e.nextLoad(b, bay)
	e.nextTurn(s, back)
}

// payForLoad pays for a load's waiting, from when its sprayer could have been clean,
// and for the changeovers inside it. It returns from when on the waiting is paid.
func (e *evaluator) payForLoad(l *load, soonest, start model.Clock, fill model.Seconds, inside int) model.Clock {
	earliest := max(soonest, e.in.opens)
	if start > earliest && l.tankLife < model.Seconds(model.Never) {
		earliest = min(e.in.fieldStart(l, earliest, fill), start)
	}
	e.money += l.wait.For(model.Seconds(start-earliest)+l.anyTime) + model.Money(inside)*e.in.changeMoney
	return earliest
}

// spray works out when each part of a load is sprayed and what that costs.
func (e *evaluator) spray(l *load, t model.Clock) model.Clock {
	t += l.driveOut
	for i := range l.parts {
		p := &l.parts[i]
		t = p.finish(t + model.Clock(p.drive))
		e.money += p.timeliness * model.Money(t-e.in.opens)
		e.jobDone[p.job] = max(e.jobDone[p.job], t)
	}
	return t
}

// nextLoad turns a bay to the next load of its queue.
func (e *evaluator) nextLoad(b int, bay *bayState) {
	bay.pos++
	bay.phase = phaseSetup
	bay.at = max(bay.free, e.in.now)
	if bay.pos == len(bay.queue) {
		bay.phase = phaseDone
	}
}
