package planner

import (
	"slices"
	"sync"
)

// mostPads is how many pad states a search may meet.
const mostPads = 1 << 14

// padNumbers numbers the pad states that a search meets. Goroutines that look at once
// may meet them in any order: the numbers tell states apart, and nothing else may
// follow from them.
type padNumbers struct {
	mutex sync.Mutex
	ids   map[padState]int32
	list  []padState
	full  bool // there are more than can be told apart
}

// id returns the number of a pad state; -1 when there are too many.
func (p *padNumbers) id(s *padState) int32 {
	p.mutex.Lock()
	defer p.mutex.Unlock()
	if id, ok := p.ids[*s]; ok {
		return id
	}
	id := int32(len(p.list))
	if id == mostPads {
		p.full = true
		return -1
	}
	p.ids[*s] = id
	p.list = append(p.list, *s)
	return id
}

// known lists the pad states by number.
func (p *padNumbers) known() []padState {
	p.mutex.Lock()
	defer p.mutex.Unlock()
	return slices.Clip(p.list)
}

// padMemory is what one stepper remembers of the numbers.
type padMemory struct {
	all    *padNumbers
	list   []padState
	recent [256]struct {
		pad padState
		id  int32 // + 1; 0 where nothing is remembered
	}
}

func (p *padMemory) id(s *padState) int32 {
	r := &p.recent[s.hash()%uint64(len(p.recent))]
	if r.id == 0 || r.pad != *s {
		r.pad, r.id = *s, p.all.id(s)+1
	}
	return r.id - 1
}

// pad returns the pad state with a number.
func (p *padMemory) pad(id uint64) padState {
	if id >= uint64(len(p.list)) {
		p.list = p.all.known()
	}
	return p.list[id]
}

func (s *padState) hash() uint64 {
	var h uint64
	for b := range s.mix {
		h = (h ^ uint64(s.mix[b])<<32 ^ s.on[b]) * 0x9E3779B97F4A7C15
	}
	return h >> 40
}
