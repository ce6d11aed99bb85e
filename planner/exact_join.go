package planner

import (
	"encoding/binary"
	"slices"
)

// join makes one stop of all that nothing tells apart but what was before them:
// the same turns lead on from them, and as much stock is taken. Most differ only
// in a past that asks for no cleanout any more.
func (g *turnGraph) join() {
	order := g.order()
	slices.Reverse(order)
	same := make([]int32, len(g.stops))
	numbers := map[string]int32{}
	loads := map[*load]uint64{}
	for _, n := range order {
		for k := range g.stops[n].turns {
			t := &g.stops[n].turns[k]
			t.to = same[t.to]
		}
		key := g.stops[n].signature(loads)
		if _, ok := numbers[key]; !ok {
			numbers[key] = n
		}
		same[n] = numbers[key]
	}
	g.keep(same)
}

// signature names what tells a stop apart for all that follows.
func (s *stop) signature(loads map[*load]uint64) string {
	b := []byte{0}
	if s.done {
		b[0] = 1
	}
	for _, amount := range s.need {
		b = binary.AppendVarint(b, int64(amount))
	}
	for k := range s.turns {
		t := &s.turns[k]
		if _, ok := loads[t.l]; !ok {
			loads[t.l] = uint64(len(loads))
		}
		b = binary.AppendUvarint(b, loads[t.l])
		b = binary.AppendUvarint(b, uint64(t.to))
		b = binary.AppendUvarint(b, uint64(t.takes))
		b = binary.AppendVarint(b, int64(t.clean))
		b = binary.AppendVarint(b, int64(t.cleanFrom))
		b = binary.AppendVarint(b, int64(t.fixed))
		b = binary.AppendUvarint(b, uint64(len(t.run)))
	}
	return string(b)
}

// keep drops the stops that others stand for. The first stays the first.
func (g *turnGraph) keep(same []int32) {
	number := make([]int32, len(same))
	var kept []stop
	for n := range same {
		if same[n] == int32(n) || n == 0 {
			number[n] = int32(len(kept))
			kept = append(kept, g.stops[n])
		}
	}
	for n := range kept {
		for k := range kept[n].turns {
			kept[n].turns[k].to = number[kept[n].turns[k].to]
		}
	}
	g.stops = kept
}
