package planner

import (
	"math"
	"slices"

	"padturn/model"
)

// dispatcher says in which order and where the loads of given jobs are filled, by a
// simple rule and in the time of an evaluation or two: the load that can start first
// comes next, at the bay where it can; that a bay must be set up for it counts once more
// than the time it takes. It plays the day nearly as its evaluator does, on whose
// sprayers, money and stock it counts: what comes off a bay it can only guess (roughBay),
// supplies are drawn and deliveries come in the order in which it gives loads out, and
// loads that are left out take their time all the same.
type dispatcher struct {
	e      *evaluator
	comers []comer
	bays   []roughBay
	opened []model.Decimal // by tracked product: what is in opened totes that are on no bay
	fresh  []int           // by tracked product: its next full tote
}

// comer is a sprayer that comes for its next load.
type comer struct {
	next    int
	soonest model.Clock // from when on its waiting is paid
	ready   model.Clock // when it can be filled: it is clean, and supplies are there
	known   bool        // the following are known
	bay     int         // where it had best be filled
	start   model.Clock // when that can start
	after   model.Clock // the same, the set-up counted once more
}

// dispatch gives a candidate a new sequence, and returns about what that costs.
func (d *dispatcher) dispatch(c *candidate) model.Money {
	d.open(c)
	loads := 0
	for _, chain := range c.chains {
		loads += len(chain)
	}
	c.sequence = slices.Grow(c.sequence[:0], loads)
	for len(c.sequence) < loads {
		d.serve(c, d.next())
	}
	d.e.payForTheEnd()
	return d.e.money
}

// open makes all ready for the first load.
func (d *dispatcher) open(c *candidate) {
	d.e.resetCount()
	d.opened, d.fresh = zeros(d.opened, len(d.e.in.tracked)), zeros(d.fresh, len(d.e.in.tracked))
	d.comers = zeros(d.comers, len(d.e.in.sprayers))
	d.bays = slices.Grow(d.bays[:0], len(d.e.in.bays))[:len(d.e.in.bays)]
	for i := range d.bays {
		d.bays[i].open(d.e.in, i)
	}
	for i := range d.comers {
		d.e.resetSprayer(i, c.chains[i])
		d.comers[i].ready = d.e.in.sprayers[i].base
		d.prepare(i)
	}
}

// zeros returns a list of so many zeros, on another's memory where that is enough.
func zeros[T any](list []T, n int) []T {
	list = slices.Grow(list[:0], n)[:n]
	clear(list)
	return list
}

// prepare finds when a sprayer is ready for its next load.
func (d *dispatcher) prepare(i int) {
	who, s := &d.comers[i], &d.e.sprayers[i]
	who.known = false
	if who.next == len(s.chain) {
		return
	}
	l := s.chain[who.next]
	who.soonest = who.ready
	if s.cleanout = d.e.cleanoutFor(s, l); s.cleanout != model.None {
		clean := model.Clock(d.e.in.cleanouts[s.cleanout].time)
		who.soonest, who.ready = who.soonest+clean, max(who.ready, d.e.in.cleanFrom)+clean
	}
	d.e.finishCleanout(s, l)
}

// next returns whose load comes next.
func (d *dispatcher) next() int {
	for {
		s := d.soonest()
		who := &d.comers[s]
		at := d.suppliedAt(d.e.sprayers[s].chain[who.next], who.start)
		if at == who.start {
			return s
		}
		who.ready, who.known = at, false
	}
}

// soonest returns whose load can start first, supplies aside.
func (d *dispatcher) soonest() int {
	least, next := model.Clock(math.MaxInt64), model.None
	for s := range d.comers {
		who := &d.comers[s]
		if who.next == len(d.e.sprayers[s].chain) || who.ready >= least {
			continue
		}
		if !who.known {
			d.choose(s)
		}
		if who.after < least {
			least, next = who.after, s
		}
	}
	return next
}

// suppliedAt returns when a load's stock and water are there, from t on; t where they
// never are: the load will be left out.
func (d *dispatcher) suppliedAt(l *load, t model.Clock) model.Clock {
	at := t
	for _, need := range l.needs {
		if d.e.levels[need.n] < need.amount {
			at = max(at, d.e.stockWait(need.n, need.amount, t))
		}
	}
	if at = max(at, d.e.waterWait(t, l.water)); at == model.Never {
		return t
	}
	return at
}

// choose finds the best bay for a sprayer's next load.
func (d *dispatcher) choose(s int) {
	who := &d.comers[s]
	who.known, who.after = true, math.MaxInt64
	for b := range d.bays {
		if d.mayFill(b, d.e.sprayers[s].chain[who.next]) {
			d.consider(s, b)
		}
	}
}

// mayFill says whether a bay may be given a load: it can fill it, or none can.
func (d *dispatcher) mayFill(b int, l *load) bool {
	return d.e.in.bays[b].fills[l.mix] || b == d.e.in.anyBay(l)
}

// consider takes a bay for a sprayer's next load if it is better than the one so far.
func (d *dispatcher) consider(s, b int) {
	who, bay := &d.comers[s], &d.bays[b]
	if bay.free > who.after {
		return
	}
	l := d.e.sprayers[s].chain[who.next]
	setUp, _ := bay.setUp(d.e.in, l)
	start := afterShut(bay.data.shut, max(who.ready, bay.free+setUp), l.FillSeconds(0))
	if after := start + setUp; after < who.after || after == who.after && b < who.bay {
		who.bay, who.start, who.after = b, start, after
	}
}

// reconsider looks again at what sprayers had best choose, after a bay was given a load.
func (d *dispatcher) reconsider(b int) {
	for s := range d.comers {
		switch who := &d.comers[s]; {
		case !who.known:
		case who.bay == b:
			who.known = false
		case d.mayFill(b, d.e.sprayers[s].chain[who.next]):
			d.consider(s, b)
		}
	}
}

// draw takes a load's stock and water, as far as they are there.
func (d *dispatcher) draw(l *load, t model.Clock) {
	for _, need := range l.needs {
		d.e.levels[need.n] -= min(need.amount, d.e.levels[need.n])
	}
	if d.e.in.water != nil {
		d.e.drawWater(t, min(l.water, d.e.waterLevel(t)))
	}
}

// serve has a sprayer's next load filled where it had best be, and brings it back.
func (d *dispatcher) serve(c *candidate, s int) {
	who := &d.comers[s]
	bay, l, start := &d.bays[who.bay], c.chains[s][who.next], who.start
	c.sequence = append(c.sequence, slot{sprayer: int16(s), bay: int16(who.bay)})
	_, money := bay.setUp(d.e.in, l)
	d.e.money += money
	inside := bay.take(d, l)
	fill := l.FillSeconds(inside)
	if t := d.e.in.bayStart(l, start, fill, bay.data.shut); t != model.Never {
		start = t
	}
	d.e.payForLoad(l, who.soonest, start, fill, inside)
	bay.free = start + model.Clock(fill)
	d.e.lastEnd = max(d.e.lastEnd, bay.free)
	d.draw(l, start)
	who.ready = d.e.spray(l, bay.free) + l.driveBack
	who.next++
	d.prepare(s)
	d.reconsider(who.bay)
}

// give has the next load of a slot's sprayer filled once its supplies are there, at the
// slot's bay, or where it had best be if that may not fill it.
func (d *dispatcher) give(c *candidate, x slot) {
	s, b := int(x.sprayer), int(x.bay)
	who := &d.comers[s]
	l := d.e.sprayers[s].chain[who.next]
	if !d.mayFill(b, l) {
		d.choose(s)
		b = who.bay
	}
	for {
		who.after = math.MaxInt64 // so that no other bay counts
		d.consider(s, b)
		at := d.suppliedAt(l, who.start)
		if at == who.start {
			break
		}
		who.ready = at
	}
	d.serve(c, s)
	c.sequence[len(c.sequence)-1].off = x.off
}
