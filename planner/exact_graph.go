package planner

import "padturn/model"

// turnGraph is all that one sprayer can do on a day: stops at the pad, and the
// turns that lead from one to the next.
type turnGraph struct {
	stops []stop
	wait  model.HourlyRate
}

// stop is a sprayer at the pad between two loads.
type stop struct {
	turns []turn
	asks  []ask           // what its turns ask of a bay and of the sprayer
	done  bool            // its own jobs are done, and it is in the middle of no run
	depth int32           // the most loads that can lie before it
	need  []model.Decimal // tracked stock taken by then, by tracked index
	// unsure is how much more may have been taken, where stops of several ways are
	// joined; else nil.
	unsure []model.Decimal
	live   uint64 // metered products that a later load may want
	// slope is the most that a second's delay of all that is still to be done
	// can cost, in money. Before a sprayer comes to a field too early, and waits
	// there unpaid, a delay costs that much more: pauses is this by the time of
	// day.
	slope  model.Money
	pauses [pauseSpans]model.Money
	over   model.Clock // no hold catches what starts to be filled from then on
	// gain is the least that is saved by each second that all that is still to be done
	// comes sooner: see padModel.isSteady. For that the sprayer is not to be filled before
	// steady, lest it waits in a field or for a hold.
	gain   model.Money
	steady model.Clock
	// fixed is the least that is still to be paid besides waiting, rinses and
	// changeovers; soonest is before when the sprayer can't be there.
	fixed   model.Money
	soonest model.Clock
	taking  []model.Money // by any-sprayer job: fixed where it is done here; noWay where it can't be
}

// ask is what a turn asks of a bay and of its sprayer before it can start. Most turns at a
// stop ask the same.
type ask struct {
	mix       int
	wants     uint64
	totes     int // of its products are kept in totes
	clean     model.Clock
	cleanFrom model.Clock
}

func (t *turn) asks() ask { return ask{t.l.mix, t.l.wants[0], len(t.l.totes), t.clean, t.cleanFrom} }

// ready returns when a sprayer that is at the pad at a moment can be filled.
func (a *ask) ready(in *instance, at model.Clock) model.Clock {
	return max(max(at, a.cleanFrom)+a.clean, in.opens)
}

// Times of day that pauses are told apart by, counted from the opening.
const (
	pauseSpans = 16
	pauseSpan  = 1800 // seconds
)

// pauseSpanOf returns the span that a time is in; later ones have no pauses
// that are not bounded by the last.
func (in *instance) pauseSpanOf(t model.Clock) int {
	return int(min(max(t-in.opens, 0)/pauseSpan, pauseSpans-1))
}

// turn is one load and what follows until the sprayer is back. Times are
// counted from the end of the filling: what ends at max(end + after, until).
type turn struct {
	l          *load
	to         int32
	run        Run // that it begins, nil in the middle of one
	takes      uint32
	clean      model.Clock
	cleanFrom  model.Clock // when its cleanout can begin
	fixed      model.Money // cleanout, any-sprayer work
	back       afterFill
	pauseUntil model.Clock // filled later, it does not come to a field too early
	timeliness []priced
	due        []priced
	// over is from when on no hold catches a load that is filled then: before, its
	// parts must be gone through. jumps are when a filling ends that is the first to be
	// caught by one: for bounds, since it may then be worth waiting for.
	over  model.Clock
	jumps []model.Clock
}

// afterFill is a moment that follows from the end of a filling.
type afterFill struct{ after, until model.Clock }

func (a afterFill) at(end model.Clock) model.Clock { return max(end+a.after, a.until) }

// priced is a moment that costs money for each second after another.
type priced struct {
	afterFill
	from model.Clock
	rate model.Money // for each second
	part int         // of the load
}

// soonestEnd returns before when a turn's load can't be filled.
func (t *turn) soonestEnd(s *stop, in *instance) model.Clock {
	return max(t.ready(in, s.soonest), in.now) + model.Clock(t.l.FillSeconds(0))
}

// paidFrom returns from when on a sprayer pays for waiting for a turn that is at the
// pad at a moment.
func (t *turn) paidFrom(in *instance, at model.Clock) model.Clock {
	return max(at+t.clean, in.opens)
}

// ready returns when a sprayer that is at the pad at a moment can be filled for a
// turn.
func (t *turn) ready(in *instance, at model.Clock) model.Clock {
	a := t.asks()
	return a.ready(in, at)
}

// afterwards returns the timeliness and lateness of a turn filled at end, and when
// the sprayer is back.
func (t *turn) afterwards(end model.Clock) (sum model.Money, back model.Clock) {
	if end < t.over {
		return t.throughHolds(end)
	}
	for _, p := range t.timeliness {
		sum += p.rate * model.Money(p.at(end)-p.from)
	}
	for _, p := range t.due {
		sum += p.rate * model.Money(max(p.at(end)-p.from, 0))
	}
	return sum, t.back.at(end)
}

// throughHolds is afterwards for a load that a hold may catch.
func (t *turn) throughHolds(at model.Clock) (sum model.Money, back model.Clock) {
	at += t.l.driveOut
	for i := range t.l.parts {
		p := &t.l.parts[i]
		at = p.finish(at + model.Clock(p.drive))
		for _, list := range [2][]priced{t.timeliness, t.due} {
			for _, c := range list {
				if c.part == i {
					sum += c.rate * model.Money(max(at-c.from, 0))
				}
			}
		}
	}
	return sum, at + t.l.driveBack
}
