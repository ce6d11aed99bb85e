package planner

import "padturn/model"

// snapshot is the state of an evaluation between two loads, so that a search
// that builds plans load by load can go back to it.
type snapshot struct {
	bays     []bayMark
	conns    []connection // all bays' one after another
	where    []int8
	sprayers []sprayerMark
	tank     []tankMark // all sprayers' one after another
	since    []int
	levels   []model.Decimal
	arrived  []int
	totes    []container
	jobDone  []model.Clock
	jobLost  []bool
	toldSeen []int

	disturbance model.Money
	broken      int

	opened  int32
	water   int64
	waterAt model.Clock
	money   model.Money
	lastEnd model.Clock
	left    model.Decimal
}

// bayMark is what a bay's state is between two loads.
type bayMark struct {
	free   model.Clock
	mix    int
	on     mask
	rinsed int16
	told   int
}

// sprayerMark is what a sprayer's state is between two loads.
type sprayerMark struct {
	chain []*load
	k     int
	base  model.Clock
	done  int
	used  int // how many of the tank marks are its
}

// tankMark says when contents were last in a sprayer's tank.
type tankMark struct{ contents, at int }

// save copies the evaluator's state into a snapshot, whose memory is reused.
func (e *evaluator) save(s *snapshot) {
	s.bays, s.conns, s.where = s.bays[:0], s.conns[:0], s.where[:0]
	for i := range e.bays {
		b := &e.bays[i]
		s.bays = append(s.bays, bayMark{b.free, b.mix, b.on, b.rinsed, b.toldLast})
		s.conns = append(s.conns, b.conns...)
		s.where = append(s.where, b.where...)
	}
	s.sprayers, s.tank, s.since = s.sprayers[:0], s.tank[:0], s.since[:0]
	for i := range e.sprayers {
		x := &e.sprayers[i]
		s.sprayers = append(s.sprayers, sprayerMark{x.chain, x.k, x.base, x.done, len(x.used)})
		for _, c := range x.used {
			s.tank = append(s.tank, tankMark{c, x.tank[c]})
		}
		s.since = append(s.since, x.since...)
	}
	s.levels = append(s.levels[:0], e.levels...)
	s.arrived = append(s.arrived[:0], e.arrived...)
	s.totes = s.totes[:0]
	for i := range e.totes {
		s.totes = append(s.totes, e.totes[i]...)
	}
	s.jobDone = append(s.jobDone[:0], e.jobDone...)
	s.jobLost = append(s.jobLost[:0], e.jobLost...)
	s.toldSeen = append(s.toldSeen[:0], e.toldSeen...)
	s.disturbance, s.broken = e.disturbance, e.broken
	s.opened, s.water, s.waterAt = e.opened, e.water, e.waterAt
	s.money, s.lastEnd, s.left = e.money, e.lastEnd, e.left
}

// restore makes the evaluator's state that of a snapshot.
func (e *evaluator) restore(s *snapshot) {
	conns, where := s.conns, s.where
	for i := range e.bays {
		b := &e.bays[i]
		b.free, b.mix, b.on = s.bays[i].free, s.bays[i].mix, s.bays[i].on
		b.rinsed, b.toldLast = s.bays[i].rinsed, s.bays[i].told
		conns = conns[copy(b.conns, conns):]
		where = where[copy(b.where, where):]
		b.queue, b.pos, b.phase, b.parked, b.lastFrom = b.queue[:0], 0, phaseDone, model.None, model.None
	}
	tank, since := s.tank, s.since
	for i := range e.sprayers {
		x, m := &e.sprayers[i], &s.sprayers[i]
		x.chain, x.k, x.base, x.done = m.chain, m.k, m.base, m.done
		x.emptyTank()
		for _, t := range tank[:m.used] {
			x.tank[t.contents] = t.at
			x.used = append(x.used, t.contents)
		}
		tank = tank[m.used:]
		since = since[copy(x.since, since):]
	}
	copy(e.levels, s.levels)
	copy(e.arrived, s.arrived)
	totes := s.totes
	for i := range e.totes {
		totes = totes[copy(e.totes[i], totes):]
	}
	copy(e.jobDone, s.jobDone)
	copy(e.jobLost, s.jobLost)
	copy(e.toldSeen, s.toldSeen)
	e.disturbance, e.broken = s.disturbance, s.broken
	e.opened, e.water, e.waterAt = s.opened, s.water, s.waterAt
	e.toClean, e.cleanAt = 0, model.Never
	e.money, e.lastEnd, e.left = s.money, s.lastEnd, s.left
}
