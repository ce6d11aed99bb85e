package planner

import (
	"cmp"
	"math"
	"slices"

	"padturn/model"
)

// ahead is what the way back of a pass says of the states of a shard: the least that
// is still to come at the times of each of their labels. What would say the most at one
// time of day comes first, were they all moved to it for a state's gain.
type ahead struct {
	table keyTable
	first []int32       // by state, and one more: where its labels begin
	gain  []model.Money // by state: see shift
	toGo  []model.Money
	slope []model.Money // what a second's delay of its times can cost at the most
	rise  []model.Money // what each second is worth by which all of them are later
	times []int32       // long ago for a sprayer that does not come again
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
		a.first = append(a.first, int32(len(a.toGo)))
		p.m.shiftOf(key, false, &h.shift)
		p.listAhead(h, sh)
	}
	a.first = append(a.first, int32(len(a.toGo)))
}

// listAhead adds the labels in a hand's list, and its shift, to what is said of a shard.
func (p *pass) listAhead(h *hand, sh *shard) {
	w, now, a := p.m.width, p.m.readyAt-1, &sh.ahead
	atMidnight := func(x labelAhead) model.Money {
		return x.toGo - h.shift.gain*model.Money(sh.times[int(x.label)*w+now])
	}
	slices.SortStableFunc(h.list, func(x, y labelAhead) int { return cmp.Compare(atMidnight(y), atMidnight(x)) })
	a.gain = append(a.gain, h.shift.gain)
	for _, l := range h.list {
		from, rise := len(a.times), model.Money(0)
		t := sh.times[int(l.label)*w : int(l.label+1)*w]
		if p.m.isSteady(&h.shift, t) {
			rise = h.shift.gain
		}
		a.toGo, a.rise = append(a.toGo, l.toGo), append(a.rise, rise)
		a.slope = append(a.slope, p.m.slopeAt(&h.shift, t))
		a.times = append(a.times, t...)
		for i := range p.m.graphs {
			if h.shift.again&(1<<i) == 0 {
				a.times[from+p.m.readyAt+i] = longAgo
			}
		}
	}
}

// labelAhead is a label of a state, and the least that follows it.
type labelAhead struct {
	toGo  model.Money
	label int32
}

// leastToGo returns the least that can follow the state that was read last.
func (p *pass) leastToGo(h *hand, times []int32) model.Money {
	best := noWay
	found := h.stepper.from(times, 0)
	for i := range found {
		s := &found[i]
		after := p.m.plainToGo(s.key, s.times)
		if s.value+after >= best {
			continue
		}
		after = max(after, p.leastAfter(h, s, best-s.value))
		if p.before != nil && s.value+after < best {
			after = max(after, p.leastBefore(h, s.depth, s.key, s.times, best-s.value))
		}
		best = min(best, s.value+after)
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
	w, now := p.m.width, p.m.readyAt-1
	best := -noWay
	for i := a.first[n]; i < a.first[n+1] && best < enough; i++ {
		o := a.times[int(i)*w : int(i)*w+p.m.times]
		if a.toGo[i]+a.gain[n]*model.Money(times[now]-o[now]) <= best {
			break // nor do those behind it say more
		}
		late := lateness(o, times)
		switch {
		case late <= 0:
			best = max(best, a.toGo[i]-a.rise[i]*model.Money(late))
		case a.slope[i] < anySlope:
			best = max(best, a.toGo[i]-a.slope[i]*model.Money(late))
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
