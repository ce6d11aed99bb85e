package planner

import "padturn/model"

// shift says what a second's delay can cost in a state: always, and more while
// a sprayer may still come to a field too early.
type shift struct {
	slope  model.Money
	pauses [pauseSpans]model.Money
	paused bool        // some of them are more than nothing
	over   model.Clock // from then on no hold catches what starts to be filled
	again  uint64      // the sprayers that may come again
	// gain is what a second sooner saves at least, once each sprayer is filled from its
	// steady on: see padModel.isSteady.
	gain   model.Money
	steady [mostExactSprayers]model.Clock
	// asPlanned says that loads start as soon as they can, so that whoever comes
	// sooner may miss a pause.
	asPlanned bool
}

// shiftOf works out the shift of a state, where loads start as planned or where they
// may be put off.
func (m *padModel) shiftOf(key uint64, asPlanned bool, s *shift) {
	*s = shift{slope: m.late, asPlanned: asPlanned}
	for i := range m.graphs {
		stop := &m.graphs[i].stops[m.stopOf(key, i)]
		s.slope += stop.slope
		s.gain += stop.gain
		s.steady[i] = stop.steady
		s.over = max(s.over, stop.over)
		if len(stop.turns) > 0 {
			s.again |= 1 << i
		}
		for k := range stop.pauses {
			if stop.pauses[k] == 0 {
				break
			}
			s.pauses[k] += stop.pauses[k]
			s.paused = true
		}
	}
}

// plainToGo returns a sum that is certainly still to come after a state: what
// sprayers' ready times were credited with, and what their loads cost if nobody
// ever waited.
func (m *padModel) plainToGo(key uint64, times []int32) model.Money {
	var sum model.Money
	for i := range m.graphs {
		stop := &m.graphs[i].stops[m.stopOf(key, i)]
		sum += stop.fixed
		if len(stop.turns) > 0 {
			sum += m.graphs[i].wait.For(model.Seconds(times[m.readyAt+i]))
		}
	}
	return sum
}

// stopOf takes a sprayer's stop out of a key.
func (m *padModel) stopOf(key uint64, i int) uint64 {
	end := m.anyAt
	if i+1 < len(m.shift) {
		end = m.shift[i+1]
	}
	return key >> m.shift[i] & (1<<(end-m.shift[i]) - 1)
}

// covers says whether a label o is as good as another of its state whatever
// follows. Values, cost less the worth of ready times, are compared, as a
// sprayer that is ready sooner pays for the longer wait. Where all is sooner, that also
// makes up for a higher value: in models for plans at any time. There a deadline or a hold
// may be in the way of it, but a beam leaves out what may be best in any case.
func (m *padModel) covers(s *shift, o model.Money, ot []int32, x model.Money, xt []int32) bool {
	if o <= x {
		return m.delayCost(s, ot, xt, x-o) <= x-o
	}
	return s.gain*model.Money(m.lead(s, ot, xt)) >= o-x && (m.use == forPlans || m.isSteady(s, ot))
}

// delayCost returns the most that it can cost to go on from the times o instead
// of x: what follows x can follow o as well, at most the largest delay between
// their times later. Where that is above most, it returns something above it.
func (m *padModel) delayCost(s *shift, o, x []int32, most model.Money) model.Money {
	slope := m.slopeAt(s, o)
	limit := int32(mostDelay)
	if slope > 0 {
		limit = int32(min(most/slope, mostDelay))
	}
	var d int32
	same := true
	x = x[:m.times]
	for k, t := range o[:m.times] {
		same = same && t == x[k]
		if d = max(d, t-x[k]); d > limit {
			return 2 * noWay
		}
	}
	if s.asPlanned && !same {
		return slope*model.Money(d) + m.pausesAfter(s.again, model.Clock(x[m.readyAt-1]))
	}
	return slope * model.Money(d)
}

// mostDelay is a longer delay than any is reckoned with, in seconds: three days.
const mostDelay = 1 << 18

// anySlope is a slope of which nothing is known.
const anySlope = noWay / 2

// slopeAt returns what a second's delay of times o can cost at the most.
func (m *padModel) slopeAt(s *shift, o []int32) model.Money {
	next := model.Clock(o[m.readyAt-1]) // before it nothing starts
	if next < s.over || m.shutLater(o) {
		return anySlope // a short delay may become a long one
	}
	if !s.paused {
		return s.slope
	}
	return s.slope + s.pauses[m.in.pauseSpanOf(next)]
}

// shutLater says whether some bay is shut at or after the time it is free. Its set-up
// begins then, also where the next load starts later.
func (m *padModel) shutLater(o []int32) bool {
	for b := range m.bays {
		if shut := m.in.bays[b].shut; len(shut) > 0 && model.Clock(o[b]) < shut[len(shut)-1].to {
			return true
		}
	}
	return false
}
