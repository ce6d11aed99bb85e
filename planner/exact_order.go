package planner

import (
	"slices"

	"padturn/model"
)

// finish works out what is asked about stops: depths from the first on, the
// rest from the last back.
func (m *graphMaker) finish() {
	order := m.graph.order()
	stops := m.graph.stops
	for n := range stops {
		stops[n].soonest = model.Never
	}
	stops[0].soonest = m.in.sprayers[m.sprayer].base
	for _, n := range order {
		for i := range stops[n].turns {
			t := &stops[n].turns[i]
			to := &stops[t.to]
			to.depth = max(to.depth, stops[n].depth+1)
			_, back := t.afterwards(t.soonestEnd(&stops[n], m.in))
			to.soonest = min(to.soonest, back)
		}
	}
	slices.Reverse(order)
	for _, n := range order {
		m.sumUp(&stops[n])
	}
}

// sumUp works out a stop's slopes, live products and least costs from those of
// the stops after it.
func (m *graphMaker) sumUp(s *stop) {
	s.taking = slices.Repeat([]model.Money{noWay}, mostExactAny)
	for i := range s.turns {
		t := &s.turns[i]
		if a := t.asks(); !slices.Contains(s.asks, a) {
			s.asks = append(s.asks, a)
		}
		to := &m.graph.stops[t.to]
		slope, gain := to.slope, to.gain
		for _, p := range t.timeliness {
			slope, gain = slope+p.rate, gain+p.rate
		}
		for _, p := range t.due {
			slope += p.rate
		}
		for k := range s.pauses {
			pause := to.pauses[k]
			if t.pauseUntil > m.in.opens+model.Clock(k)*pauseSpan {
				pause += m.graph.wait.For(1)
			}
			s.pauses[k] = max(s.pauses[k], pause)
		}
		if len(to.turns) == 0 { // the last wait
			slope, gain = slope+m.graph.wait.For(1), gain+m.graph.wait.For(1)
		}
		s.slope = max(s.slope, slope)
		if i == 0 || gain < s.gain {
			s.gain = gain
		}
		fill := model.Clock(t.l.FillSeconds(0))
		s.steady = max(s.steady, max(t.pauseUntil, t.over, to.steady-t.back.after)-fill)
		if m.use == forBounds {
			s.over = max(s.over, to.over, t.over-model.Clock(t.l.FillSeconds(0)))
		}
		s.live |= to.live | t.l.wants[0]
		inFields, _ := t.afterwards(t.soonestEnd(s, m.in))
		pays := t.fixed + inFields
		if fixed := to.fixed + pays; i == 0 || fixed < s.fixed {
			s.fixed = fixed
		}
		s.take(t, to, pays)
	}
	if s.done {
		s.fixed = min(s.fixed, 0) // it may do no more
		if len(s.turns) > 0 {
			s.slope = max(s.slope, m.graph.wait.For(1))
			s.gain = min(s.gain, m.graph.wait.For(1))
		}
	}
}

// order lists the stops so that each comes before those its turns lead to.
func (g *turnGraph) order() []int32 {
	seen := make([]bool, len(g.stops))
	var order []int32
	var visit func(n int32)
	visit = func(n int32) {
		if seen[n] {
			return
		}
		seen[n] = true
		for i := range g.stops[n].turns {
			visit(g.stops[n].turns[i].to)
		}
		order = append(order, n)
	}
	visit(0)
	slices.Reverse(order)
	return order
}
