package planner

import "padturn/model"

// nextTurn brings a sprayer back to the pad for its next load: it works out
// the cleanout before it (R8), and lets a bay that waits for it go on.
func (e *evaluator) nextTurn(s *sprayerState, back model.Clock) {
	s.base = back
	s.k++
	e.prepare(s)
}

// prepare finds when a sprayer is ready for its next load.
func (e *evaluator) prepare(s *sprayerState) {
	for s.k < len(s.chain) && s.skipped[s.k] {
		s.k++
	}
	if s.k == len(s.chain) {
		return
	}
	s.ready, s.soonest, s.cleanAt = s.base, s.base, model.Never
	s.cleanout = e.cleanoutFor(s, s.chain[s.k])
	if s.cleanout != model.None {
		clean := model.Clock(e.in.cleanouts[s.cleanout].time)
		s.soonest += clean
		if e.in.water != nil {
			s.ready, s.cleanAt = model.Never, max(s.base, e.in.cleanFrom)
			e.toClean++
			e.cleanAt = min(e.cleanAt, s.cleanAt)
			return
		}
		s.cleanAt = max(s.base, e.in.cleanFrom)
		s.ready = s.cleanAt + clean
	}
	e.wake(s)
}

// wake lets the bay that waits for a sprayer's next load look again. Others may
// wait for its later loads.
func (e *evaluator) wake(s *sprayerState) {
	for i := range e.bays {
		bay := &e.bays[i]
		if bay.phase != phaseReady {
			continue
		}
		if q := &bay.queue[bay.pos]; q.k == s.k && &e.sprayers[q.l.sprayer] == s {
			bay.at = bay.free
			return
		}
	}
}

// cleanoutFor returns the cleanout level a sprayer needs before a load: the
// highest that a rule asks after anything sprayed since the last cleanout that
// was at least as thorough.
func (e *evaluator) cleanoutFor(s *sprayerState, l *load) int16 {
	need := int16(model.None)
	for _, c := range s.used {
		if v := e.shop.cleanout[c][l.contents]; v > need && s.tank[c] > s.since[v] {
			need = v
		}
	}
	return need
}

// finishCleanout counts the cleanout before a load that has started, and the
// load itself.
func (e *evaluator) finishCleanout(s *sprayerState, l *load) {
	if s.cleanout != model.None {
		level := &e.in.cleanouts[s.cleanout]
		e.money += l.wait.For(level.time) + level.money
		s.cleanedOut(s.cleanout)
	}
	s.done++
	s.fillWith(l.contents)
}

// fillWith notes what a sprayer has had in its tank last.
func (s *sprayerState) fillWith(contents int) {
	if s.tank[contents] == 0 {
		s.used = append(s.used, contents)
	}
	s.tank[contents] = s.done
}

// nextCleanout returns the sprayer whose cleanout waits and comes first.
func (e *evaluator) nextCleanout() (int, model.Clock) {
	best, at := model.None, model.Never
	for i := range e.sprayers {
		s := &e.sprayers[i]
		if s.ready == model.Never && s.k < len(s.chain) && s.cleanAt < at {
			best, at = i, s.cleanAt
		}
	}
	e.cleanAt = at
	return best, at
}

// clean starts a waiting cleanout if its water is there.
func (e *evaluator) clean(i int) {
	s := &e.sprayers[i]
	level := &e.in.cleanouts[s.cleanout]
	gal := int64(level.gal) * waterScale
	if wait := e.waterWait(s.cleanAt, gal); wait > s.cleanAt {
		s.cleanAt = wait
		if wait == model.Never {
			e.toClean-- // the load that wants it will be found stuck
		}
		return
	}
	e.toClean--
	e.drawWater(s.cleanAt, gal)
	s.ready = s.cleanAt + model.Clock(level.time)
	e.wake(s)
}
