package planner

import (
	"math"

	"padturn/model"
)

// phase says what a bay does next for the first load of its queue.
type phase uint8

const (
	phaseSetup  phase = iota // rinse, or find that none is needed
	phaseChange              // set-up changeovers, one after the other
	phaseReady               // set up; wait for the sprayer
	phaseStart               // all are there; start unless stock or water is short
	phaseDone                // no load left
)

// queued is a load in a bay's queue.
type queued struct {
	l   *load
	k   int    // it is the sprayer's k-th, from 0
	off uint32 // as in its slot
	at  int    // place of its slot in the sequence
}

// plumbedForever stands for the last use of a plumbed connection: its product
// never comes off.
const plumbedForever = -1 << 30

// connection is a place on a bay's manifold.
type connection struct {
	metered  int // product on it, None where empty
	tote     int // container on it, where the product is kept in totes; else None
	lastUsed int // queue position of the last load that drew from it
}

// bayState is a bay in the middle of an evaluation.
type bayState struct {
	queue []queued
	pos   int
	phase phase
	at    model.Clock // when its next step can be taken; Never while it waits for another's
	free  model.Clock
	mix   int // in the manifold, None where not known
	conns []connection
	on    mask   // products on its connections
	where []int8 // by metered number: its connection, where it is on
	uses  []use  // by metered number: when it is wanted next, as far as known

	last     []mask // sets of loose products, each without what the next load of the queue wants
	lastFrom int    // the place of the queue that last begins at, None where it is not made

	parked     int    // tracked product it waits for another bay to let go, or None
	draws      []draw // what the load takes through the meter, in adding order
	tied       []draw // workspace: draws where they are not as in the recipe
	target     mask   // products to be on before the load starts
	plain      bool   // the load draws without a changeover inside, see isPlain
	setupStart model.Clock
	hasSetup   bool
	rinse      int16
	toldLast   int   // rank of the latest told load that it has had
	rinsed     int16 // rinse level that is done already before its first load
	changes    int   // set-up changeovers done for the load
}

// sprayerState is a sprayer in the middle of an evaluation.
type sprayerState struct {
	chain    []*load
	skipped  []bool      // by load: dropped before its turn came
	k        int         // next load
	base     model.Clock // back at the pad, or available from
	ready    model.Clock // Never while its cleanout waits for water
	soonest  model.Clock // ready, had its cleanout waited for nothing
	cleanAt  model.Clock
	cleanout int16
	// tank[c] is one more than the number of loads done when contents c were
	// last sprayed; 0: not. since[v] is how many loads were done at the last
	// cleanout of at least level v.
	tank  []int
	used  []int // the contents with an entry in tank
	since []int
	done  int
}

// evaluator turns decisions into a timed, costed plan under R5-R11. It keeps
// its own workspace and is not for use by two goroutines at once.
type evaluator struct {
	in       *instance
	shop     *workshop
	takeOff  TakeOff
	bays     []bayState
	sprayers []sprayerState
	levels   []model.Decimal // tracked stock at the pad
	arrived  []int           // by tracked product: deliveries that are in
	totes    [][]container   // by tracked product
	opened   int32           // totes opened so far
	counted  []int           // workspace of furtherTotes
	far      []int           // workspace of arrange: by metered number
	given    []int           // workspace of runInOrder: loads taken, by sprayer
	water    int64
	waterAt  model.Clock
	toClean  int         // sprayers whose cleanout waits for its water
	cleanAt  model.Clock // not later than the first of those cleanouts

	jobDone []model.Clock // by job: when its last part was sprayed
	jobLost []bool        // by job: some of it stays undone

	toldSeen    []int       // by job: loads begun that begin with it, where a crew was told
	disturbance model.Money // what moving told loads weighs; a part of money
	broken      int         // frozen loads that do not stay

	times []times // by slot

	money   model.Money
	lastEnd model.Clock
	left    model.Decimal
	dropped []LoadRef             // loads that did not fit
	ahead   func(metered int) int // how far off a product is wanted, where no queue says it
	rec     *recorder             // nil: only the score is wanted
}

func newEvaluator(in *instance) *evaluator {
	e := &evaluator{in: in, shop: newWorkshop(in)}
	e.bays = make([]bayState, len(in.bays))
	for i := range e.bays {
		e.bays[i].conns = make([]connection, in.p.Bays[i].Connections)
		e.bays[i].where = make([]int8, len(in.products))
		e.bays[i].uses = make([]use, len(in.products))
		e.bays[i].last = make([]mask, 0, len(in.products)+1)
		e.bays[i].tied = make([]draw, 0, len(in.products))
	}
	e.far = make([]int, len(in.products))
	e.sprayers, e.given = make([]sprayerState, len(in.p.Sprayers)), make([]int, len(in.p.Sprayers))
	for i := range e.sprayers {
		e.sprayers[i].since = make([]int, len(in.cleanouts))
	}
	e.levels = make([]model.Decimal, len(in.tracked))
	e.arrived = make([]int, len(in.tracked))
	e.totes = make([][]container, len(in.tracked))
	for i := range e.totes {
		e.totes[i] = make([]container, len(in.tracked[i].containers))
	}
	n := len(in.p.Jobs)
	e.jobDone, e.jobLost, e.toldSeen = make([]model.Clock, n), make([]bool, n), make([]int, n)
	return e
}

// score works out what a candidate comes to when it is settled: without the
// set-ups that evaluate does for loads it then drops. See settle.
func (e *evaluator) score(c *candidate) score { return e.scoreUnder(c, math.Inf(1)) }

// scoreUnder is score, but what comes to more than a limit by what is left undone
// alone may come to still more: nobody wants to know.
func (e *evaluator) scoreUnder(c *candidate, limit float64) score {
	s := e.evaluate(c)
	kept := len(c.omitted)
	for len(e.dropped) > 0 && undonePrice*e.left.Float() <= limit {
		c.omitted = append(c.omitted, e.dropped...)
		s = e.evaluate(c)
	}
	c.omitted = c.omitted[:kept]
	return s
}

// evaluate works out what decisions come to. The decisions must be fit, see
// Decisions.check.
func (e *evaluator) evaluate(c *candidate) score {
	e.reset(c)
	if e.in.contended() {
		e.runByTime()
	} else {
		e.runInOrder(c)
	}
	e.payForTheEnd()
	return score{e.left + model.Decimal(e.broken)*brokenLeft, e.money}
}

// payForTheEnd pays for overtime and for what is late.
func (e *evaluator) payForTheEnd() {
	e.money += e.in.overtime.For(model.Seconds(max(e.lastEnd-e.in.closes, 0)))
	for i := range e.in.due {
		e.money += e.in.due[i].rate.For(e.lateness(i))
	}
}

// contended says whether bays can want the same stock, totes or water, so that
// work must be taken in the order of time. Otherwise the order of the sequence
// gives the same plan.
func (in *instance) contended() bool {
	return in.water != nil || len(in.tracked) > 0 && len(in.bays) > 1
}

// runInOrder takes the loads in the order of the sequence, in which every
// load comes after the sprayer's load before.
func (e *evaluator) runInOrder(c *candidate) {
	clear(e.given)
	for _, slot := range c.sequence {
		k := e.given[slot.sprayer]
		e.given[slot.sprayer]++
		if c.omits(int(slot.sprayer), k) {
			continue
		}
		b := int(slot.bay)
		for before := e.bays[b].pos; e.bays[b].pos == before; {
			e.step(b)
			if e.bays[b].at == model.Never {
				e.drop(b, e.stuck(b))
			}
		}
	}
}

// runByTime takes steps in the order of time until no bay has one. A bay that
// then still waits, waits for what never comes: its load is dropped.
func (e *evaluator) runByTime() {
	for {
		b, at := e.nextBay()
		if e.toClean > 0 && e.cleanAt <= at {
			if s, cleanAt := e.nextCleanout(); s != model.None && cleanAt <= at {
				e.clean(s)
				continue
			}
		}
		switch {
		case b == model.None:
			return
		case at == model.Never:
			e.drop(b, e.stuck(b))
		default:
			e.step(b)
		}
	}
}

// nextBay returns the bay whose next step is earliest, None when all are done.
// At one moment set-ups come before loads start, so that a tote is put on
// before it is looked for inside a load. Of bays that wait for ever it returns
// one that waits for stock, not one that only waits for a sprayer held up there.
func (e *evaluator) nextBay() (int, model.Clock) {
	best, at := model.None, model.Never+1
	for i := range e.bays {
		b := &e.bays[i]
		if b.phase == phaseDone {
			continue
		}
		if b.at < at || b.at == at && e.bays[best].yieldsTo(b) {
			best, at = i, b.at
		}
	}
	return best, at
}

// yieldsTo says whether another bay's step at the same time comes first.
func (bay *bayState) yieldsTo(o *bayState) bool {
	if bay.at == model.Never {
		return bay.phase == phaseReady
	}
	return bay.phase == phaseStart && o.phase != phaseStart
}

// lateness returns how late a job with a due time was finished.
func (e *evaluator) lateness(due int) model.Seconds {
	d := &e.in.due[due]
	if e.jobLost[d.job] {
		return 0
	}
	return model.Seconds(max(e.jobDone[d.job]-d.at, 0))
}
