package planner

import "padturn/model"

// shift says what a second's delay can cost in a state: always, and more while
// a sprayer may still come to a field too early.
type shift struct {
	slope  model.Money
	pauses [pauseSpans]model.Money
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
	d := m.delay(ot, xt)
	return d == 0 || o+s.slope*model.Money(d) <= x && o+m.delayCost(s, ot, xt) <= x
}

// delay returns the most that one of the times o is later than that of x.
func (m *padModel) delay(o, x []int32) int32 {
	o = o[:m.times]
	x = x[:len(o)]
	var d int32
	for k, t := range o {
		d = max(d, t-x[k])
	}
	return d
}

// delayCost returns the most that it can cost to go on from the times o instead
// of x: what follows x can follow o as well, at most the largest delay between
// their times later.
func (m *padModel) delayCost(s *shift, o, x []int32) model.Money {
	d := m.delay(o, x)
	if d == 0 {
		return 0
	}
	if model.Clock(o[0]) < m.shutEnd {
		return noWay / 2 // a bay that is shut may turn a short delay into a long one
	}
	slope := s.slope
	if s.pauses[0] > 0 {
		slope += s.pauses[m.in.pauseSpanOf(model.Clock(o[m.readyAt-1]))]
	}
	return slope * model.Money(d)
}

// lost says about how much a bound loses when two labels of a state are merged.
func (m *padModel) lost(key uint64, o model.Money, ot []int32, x model.Money, xt []int32) model.Money {
	sum := max(o-x, x-o)
	for k := m.readyAt; k < m.times; k++ {
		d := ot[k] - xt[k]
		sum += m.graphs[k-m.readyAt].wait.For(model.Seconds(max(d, -d)))
	}
	d := ot[0] - xt[0]
	return sum + m.graphs[0].wait.For(model.Seconds(max(d, -d)))*2
}
