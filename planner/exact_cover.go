package planner

import "padturn/model"

// shift says what a second's delay can cost in a state: always, and more while
// a sprayer may still come to a field too early.
type shift struct {
	slope  model.Money
	pauses [pauseSpans]model.Money
	paused bool // some of them are more than nothing
}

// shiftOf works out the shift of a state.
func (m *padModel) shiftOf(key uint64, s *shift) {
	*s = shift{slope: m.late}
	for i := range m.graphs {
		stop := &m.graphs[i].stops[m.stopOf(key, i)]
		s.slope += stop.slope
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
// sprayer that is ready sooner pays for the longer wait.
func (m *padModel) covers(s *shift, o model.Money, ot []int32, x model.Money, xt []int32) bool {
	if o > x {
		return false
	}
	limit := affordable(m.slopeAt(s, ot), x-o)
	return m.delay(ot, xt, limit) <= limit
}

// delayCost returns the most that it can cost to go on from the times o instead
// of x: what follows x can follow o as well, at most the largest delay between
// their times later.
func (m *padModel) delayCost(s *shift, o, x []int32) model.Money {
	return m.slopeAt(s, o) * model.Money(min(m.delay(o, x, mostDelay), mostDelay))
}

// delay returns the largest delay of times o over times x, or some delay above the
// limit where it is more than that.
func (m *padModel) delay(o, x []int32, limit int32) int32 {
	var d int32
	x = x[:m.times]
	for k, t := range o[:m.times] {
		if d = max(d, t-x[k]); d > limit {
			break
		}
	}
	return d
}

// slopeAt returns what a second's delay of times o can cost at the most.
func (m *padModel) slopeAt(s *shift, o []int32) model.Money {
	if model.Clock(o[0]) < m.shutEnd {
		return shutSlope // a bay that is shut may turn a short delay into a long one
	}
	if !s.paused {
		return s.slope
	}
	return s.slope + s.pauses[m.in.pauseSpanOf(model.Clock(o[m.readyAt-1]))]
}

// mostDelay is a longer delay than any day has, in seconds; shutSlope a slope that no
// second is worth.
const (
	mostDelay = 1 << 18
	shutSlope = noWay >> 18
)

// affordable returns the most seconds of delay that cost no more than so much.
func affordable(slope, gain model.Money) int32 {
	if slope == 0 {
		return mostDelay
	}
	return int32(min(gain/slope, mostDelay))
}
