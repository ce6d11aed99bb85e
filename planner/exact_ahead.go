package planner

import (
	"cmp"
	"math"
	"math/bits"
	"slices"

	"padturn/model"
)

// ahead is what the way back of a pass says of the states of a shard: the least that
// is still to come at the times of each of their labels. What would say the most comes
// first, were all of a label's times as much later than others as they are on the average.
type ahead struct {
	table  keyTable
	first  []int32       // by state, and one more: where its labels begin
	share  []model.Money // by state: what each second is worth by which one of its times is later
	floors []floor
	times  []int32 // by label; long ago for a sprayer that does not come again
}

// floor is what is said of a label.
type floor struct {
	toGo  model.Money
	slope model.Money // what a second's delay of its times can cost at the most
	rise  model.Money // what each second is worth by which all of them are later
	sum   int32       // of its times that count
}

// longAgo is before whatever time stands in a label.
const longAgo = math.MinInt32 / 2

// backward works out, for each label, the least that is still to come. States that
// only lead to what is no better than below are left out.
func (p *pass) backward() {
	for depth := len(p.layers) - 1; depth >= 0; depth-- {
		l := &p.layers[depth]
		p.work.each(shardCount, func(h *hand, i int) {
			p.lookAhead(h, &l.shards[i])
			l.shards[i] = shard{ahead: l.shards[i].ahead}
		})
		if p.ctx.Err() != nil {
			p.out = true
			return
		}
	}
}

// lookAhead is backward for the labels of a shard.
func (p *pass) lookAhead(h *hand, sh *shard) {
	w := p.m.width
	a := &sh.ahead
	h.stepper.wanted, h.stepper.putsOff, h.stepper.takesAny = nil, true, false // the last pass has no way back
	for n, key := range sh.table.keys {
		h.stepper.read(key)
		isDone := p.m.isDone(h.stepper.at)
		h.list = h.list[:0]
		least := noWay
		for i := sh.head[n]; i >= 0; i = sh.labels[i].next {
			t := sh.times[int(i)*w : int(i+1)*w]
			var toGo model.Money
			if isDone {
				toGo = p.m.end(h.stepper.at, t)
			} else {
				toGo = p.leastToGo(h, t)
			}
			least = min(least, sh.labels[i].value+toGo)
			h.list = append(h.list, labelAhead{toGo, i})
		}
		if least >= p.below {
			continue
		}
		a.table.add(key)
		a.first = append(a.first, int32(len(a.floors)))
		p.m.shiftOf(key, false, &h.shift)
		p.listAhead(h, sh)
	}
	a.first = append(a.first, int32(len(a.floors)))
}

// listAhead adds the labels in a hand's list, and its shift, to what is said of a shard.
func (p *pass) listAhead(h *hand, sh *shard) {
	w, a := p.m.width, &sh.ahead
	count := model.Money(p.m.readyAt + bits.OnesCount64(h.shift.again))
	share := model.Money(0) // where none of them says more of what is later
	for _, l := range h.list {
		if p.m.isSteady(&h.shift, sh.times[int(l.label)*w:][:w]) {
			share = h.shift.gain / count
		}
	}
	rank := func(x labelAhead) model.Money {
		return x.toGo - share*model.Money(sumOf(sh.times[int(x.label)*w:][:p.m.times]))
	}
	slices.SortStableFunc(h.list, func(x, y labelAhead) int { return cmp.Compare(rank(y), rank(x)) })
	a.share = append(a.share, share)
	for _, l := range h.list {
		from, rise := len(a.times), model.Money(0)
		t := sh.times[int(l.label)*w : int(l.label+1)*w]
		if p.m.isSteady(&h.shift, t) {
			rise = share * count
		}
		a.floors = append(a.floors, floor{l.toGo, p.m.slopeAt(&h.shift, t), rise, sumOf(t[:p.m.times])})
		a.times = append(a.times, t...)
		for i := range p.m.graphs {
			if h.shift.again&(1<<i) == 0 {
				a.times[from+p.m.readyAt+i] = longAgo
			}
		}
	}
}

// sumOf adds up times; those of sprayers that do not come again are 0.
func sumOf(times []int32) int32 {
	sum := int32(0)
	for _, t := range times {
		sum += t
	}
	return sum
}

// labelAhead is a label of a state, and the least that follows it.
type labelAhead struct {
	toGo  model.Money
	label int32
}

// leastToGo returns the least that can follow the state that was read last. It begins with
// the step that was best for another label: what is dearer is soon seen to be.
func (p *pass) leastToGo(h *hand, times []int32) model.Money {
	best := noWay
	found := h.stepper.from(times, 0)
	if h.likely < len(found) {
		found[0], found[h.likely] = found[h.likely], found[0]
	}
	for i := range found {
		s := &found[i]
		after := s.toGo
		if s.value+after >= best {
			continue
		}
		after = max(after, p.leastAfter(h, s, best-s.value))
		if p.before != nil && s.value+after < best {
			after = max(after, p.leastBefore(h, s.depth, s.key, s.times, best-s.value))
		}
		if s.value+after < best {
			best = s.value + after
			if i > 0 {
				h.likely = i
			}
		}
	}
	return best
}

// leastAfter returns the least that can follow a successor, or something that is
// enough: each label of the state bounds it, less what the label's times are later, and
// more where they are all sooner.
func (p *pass) leastAfter(h *hand, s *successor, enough model.Money) model.Money {
	return p.leastAt(h, s.depth, s.key, s.times, enough)
}

// leastBefore returns what the pass before says can follow a state at the least.
func (p *pass) leastBefore(h *hand, depth int32, key uint64, times []int32, enough model.Money) model.Money {
	if p.before.m != p.m {
		key, depth = p.m.coarser.state(p.m, key)
	}
	return p.before.leastAt(h, depth, key, times, enough)
}

// leastAt is leastAfter for a state and times.
func (p *pass) leastAt(h *hand, depth int32, key uint64, times []int32, enough model.Money) model.Money {
	a := &p.layers[depth].shards[p.m.shardOf(key)].ahead
	n := a.table.find(key)
	if n < 0 {
		return noWay
	}
	w, sum, share := p.m.width, sumOf(times[:p.m.times]), a.share[n]
	best := -noWay
	from, to := a.first[n], a.first[n+1]
	for i := range a.floors[from:to] {
		x := &a.floors[int(from)+i]
		if best >= enough || x.toGo-share*model.Money(x.sum-sum) <= best {
			break // nor do those behind it say more
		}
		if x.slope >= anySlope && x.sum > sum {
			continue // some of its times is later
		}
		o := a.times[(int(from)+i)*w:][:p.m.times]
		late := lateness(o, times)
		switch {
		case late <= 0:
			best = max(best, x.toGo-x.rise*model.Money(late))
		case x.slope < anySlope:
			best = max(best, x.toGo-x.slope*model.Money(late))
		}
	}
	return best
}

// lateness returns how much later some times are than others at the most: less than
// nothing where all are sooner.
func lateness(o, x []int32) int32 {
	d := int32(math.MinInt32)
	x = x[:len(o)]
	for k, t := range o {
		d = max(d, t-x[k])
	}
	return d
}
