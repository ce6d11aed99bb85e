package planner

import (
	"cmp"
	"slices"

	"padturn/model"
)

// lookAhead is backward for the labels of a shard. It puts those of each state in the
// order of what is still to come, most first.
func (p *pass) lookAhead(h *hand, sh *shard) {
	w := p.m.width
	ahead := shard{table: sh.table, head: sh.head}
	ahead.toGo, ahead.times = make([]model.Money, 0, len(sh.labels)), make([]int32, 0, len(sh.times))
	type place struct {
		toGo model.Money
		at   int32
	}
	var list []place
	for n, key := range sh.table.keys {
		h.stepper.read(key)
		isDone := p.m.isDone(h.stepper.at)
		list = list[:0]
		for i := sh.head[n]; i >= 0; i = sh.labels[i].next {
			t := sh.times[int(i)*w : int(i+1)*w]
			if isDone {
				list = append(list, place{p.m.end(h.stepper.at, t), i})
			} else {
				list = append(list, place{p.leastToGo(h, t), i})
			}
		}
		slices.SortFunc(list, func(a, b place) int { return cmp.Or(cmp.Compare(b.toGo, a.toGo), cmp.Compare(a.at, b.at)) })
		ahead.head[n] = int32(len(ahead.toGo))
		for _, x := range list {
			ahead.toGo = append(ahead.toGo, x.toGo)
			ahead.times = append(ahead.times, sh.times[int(x.at)*w:int(x.at+1)*w]...)
		}
	}
	ahead.head = append(ahead.head, int32(len(ahead.toGo)))
	*sh = ahead
}

// leastToGo returns the least that can follow the state that was read last.
func (p *pass) leastToGo(h *hand, times []int32) model.Money {
	best := noWay
	found := h.stepper.from(times, 0)
	for i := range found {
		s := &found[i]
		if s.value >= best {
			continue
		}
		after, enough := p.m.plainToGo(s.key, s.times), best-s.value
		if p.before != nil && after < enough {
			after = max(after, p.before.mostOf(h, s.depth, s.key, s.times, enough))
		}
		if after < enough {
			after = max(after, p.mostOf(h, s.depth, s.key, s.times, enough))
		}
		best = min(best, s.value+after)
	}
	return best
}

// leastAfter returns the least that can follow a state at the given times: each
// label of the state bounds it, less what the label's times are later.
func (p *pass) leastAfter(h *hand, depth int32, key uint64, times []int32) model.Money {
	return p.mostOf(h, depth, key, times, noWay)
}

// comesTo says whether a successor comes to nothing cheaper than below.
func (p *pass) comesTo(h *hand, s *successor, below model.Money) bool {
	return p.mostOf(h, s.depth, s.key, s.times, below-s.value) >= below-s.value
}

// mostOf is leastAfter, which need not be exact where it is enough or more.
func (p *pass) mostOf(h *hand, depth int32, key uint64, times []int32, enough model.Money) model.Money {
	sh := &p.layers[depth].shards[p.m.shardOf(key)]
	n := sh.table.find(key)
	if n < 0 {
		return noWay
	}
	w := p.m.width
	p.m.shiftOf(key, &h.shift)
	best := -noWay
	for i := sh.head[n]; i < sh.head[n+1] && sh.toGo[i] > best && best < enough; i++ {
		t := sh.times[int(i)*w : int(i+1)*w]
		slope := p.m.slopeAt(&h.shift, t)
		limit := affordable(slope, sh.toGo[i]-best)
		if d := p.m.delay(t, times, limit); d <= limit {
			best = max(best, sh.toGo[i]-slope*model.Money(d))
		}
	}
	return best
}
