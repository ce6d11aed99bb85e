package planner

import (
	"encoding/binary"
	"slices"

	"padturn/model"
)

// coarser says how the states of a model are those of a model with fewer.
type coarser struct {
	m     *padModel
	stops [][]int32 // by sprayer and stop: its stop there
}

// state returns the state there that a state of m is joined into, and how many loads
// can lie before it.
func (c *coarser) state(m *padModel, key uint64) (uint64, int32) {
	taken := key >> m.anyAt & (1<<(m.padAt-m.anyAt) - 1)
	joined := key>>m.padAt<<c.m.padAt | taken<<c.m.anyAt
	depth := int32(0)
	for i := range m.graphs {
		n := c.stops[i][m.stopOf(key, i)]
		joined |= uint64(n) << c.m.shift[i]
		depth += c.m.graphs[i].stops[n].depth
	}
	return joined, depth
}

// coarsen lays out a model for bounds with fewer states, and says how those of m are
// its own; nil where those have no keys. What may share loads makes most of a day's
// states: there, stops at which one sprayer is as far from its end are joined, so that
// it may go on from loads of a job by itself as from shared ones. No way through m costs
// more there.
func (m *padModel) coarsen() *coarser {
	c := *m
	c.graphs, c.shift = make([]turnGraph, len(m.graphs)), nil
	stops := make([][]int32, len(m.graphs))
	for i := range m.graphs {
		c.graphs[i], stops[i] = m.graphs[i].coarsen(m.in, i)
	}
	if !c.layOutKeys(len(m.any)) {
		return nil
	}
	return &coarser{&c, stops}
}

// coarsen joins stops of a sprayer's graph: those after which as many loads may follow
// at the most, of the same products and the same jobs for any sprayer. It says what
// became of each.
func (g *turnGraph) coarsen(in *instance, sprayer int) (turnGraph, []int32) {
	m := graphMaker{in: in, use: forBounds, sprayer: sprayer, graph: turnGraph{wait: g.wait}}
	to := make([]int32, len(g.stops))
	numbers := map[string]int32{}
	for n, key := range g.distances() {
		s := &g.stops[n]
		if _, ok := numbers[key]; !ok {
			numbers[key] = int32(len(m.graph.stops))
			m.graph.stops = append(m.graph.stops, stop{done: s.done, need: slices.Clone(s.need), unsure: make([]model.Decimal, len(s.need))})
		}
		to[n] = numbers[key]
		m.graph.stops[to[n]].widen(s.need)
	}
	for n := range g.stops {
		for _, t := range g.stops[n].turns {
			t.to = to[t.to]
			m.graph.stops[to[n]].addTurn(t)
		}
	}
	m.finish()
	return m.graph, to
}

// distances names by stop what is still to come.
func (g *turnGraph) distances() []string {
	loads := make([]uint64, len(g.stops)) // the most that may follow
	takes := make([]uint32, len(g.stops))
	names := make([]string, len(g.stops))
	order := g.order()
	slices.Reverse(order)
	for _, n := range order {
		s := &g.stops[n]
		for k := range s.turns {
			t := &s.turns[k]
			loads[n] = max(loads[n], loads[t.to]+1)
			takes[n] |= takes[t.to] | t.takes
		}
		b := binary.AppendUvarint(nil, loads[n])
		b = binary.AppendUvarint(b, uint64(takes[n]))
		b = binary.AppendUvarint(b, s.live)
		if s.done {
			b = append(b, 1)
		}
		names[n] = string(b)
	}
	return names
}

// widen has a stop stand for one more, at which so much stock is taken.
func (s *stop) widen(need []model.Decimal) {
	for t, x := range need {
		most := max(s.need[t]+s.unsure[t], x)
		s.need[t] = min(s.need[t], x)
		s.unsure[t] = most - s.need[t]
	}
}

// addTurn adds a turn to a stop, unless one that is there means the same.
func (s *stop) addTurn(t turn) {
	isSame := func(o turn) bool {
		return o.l == t.l && o.to == t.to && o.takes == t.takes && o.clean == t.clean && o.fixed == t.fixed && slices.Equal(o.due, t.due)
	}
	if !slices.ContainsFunc(s.turns, isSame) {
		s.turns = append(s.turns, t)
	}
}
