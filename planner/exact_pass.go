package planner

import (
	"context"
	"math"
	"slices"

	"padturn/model"
)

// layer is the labels with equally much behind them. A label is one way to come
// to a state: its value, cost less what sprayers' ready times are worth, and the
// times of bays and sprayers.
type layer struct {
	table keyTable
	head  []int32 // by state: its first label

	labels []label
	times  []int32
	toGo   []model.Money // by label, after the way back: the least that is still to come
	ranks  []model.Money // by label, in a beam: the least that it can come to
	limit  model.Money   // in a beam: labels that come to more are not wanted
}

// label is one of a state's. Its times stand in its layer's times.
type label struct {
	value  model.Money
	next   int32 // of the state, -1 at the end
	parent int32 // in the layer that from names
	from   int32
	step   step
	merged bool // it stands for several ways, and may be none of them
	dead   bool
}

// keepAll is a number of labels that no state has.
const keepAll = 1 << 20

// mostLabels is how many labels a pass may make: about 4 GB.
const mostLabels = 60_000_000

// noWay is more than anything costs.
const noWay = model.Money(math.MaxInt64 / 4)

// pass goes once through the states of a day, layer by layer.
type pass struct {
	m      *padModel
	layers []layer
	before *pass       // tells what is still to come from a state; nil at first
	below  model.Money // only plans that cost less are looked for
	keep   int         // labels kept for each state; the rest is merged
	beam   int         // not 0: labels taken a step further in each layer; nothing is merged, the rest is dropped
	budget int64       // labels that may still be looked at
	spent  int64
	made   int64 // labels that are kept
	out    bool  // the budget ran out, or the day was interrupted
	merged bool  // some label is

	best     model.Money // of the plans that were found, below at first
	bestEnd  [2]int32    // layer and label of the best plan, which is no merged one
	boundEnd model.Money // no plan below it is possible
	stepper  *stepper
	shift    shift
	ctx      context.Context
}

func newPass(ctx context.Context, m *padModel, before *pass, below model.Money, keep int, budget int64) *pass {
	depth := 0
	for i := range m.graphs {
		deepest := int32(0)
		for n := range m.graphs[i].stops {
			deepest = max(deepest, m.graphs[i].stops[n].depth)
		}
		depth += int(deepest)
	}
	layers := make([]layer, depth+1)
	for i := range layers {
		layers[i].limit = noWay
	}
	return &pass{m: m, layers: layers, before: before, below: below, keep: keep, budget: budget,
		best: below, bestEnd: [2]int32{-1, -1}, boundEnd: below, stepper: newStepper(m), ctx: ctx}
}

// forward makes the labels of all layers. It says whether it came to the end.
func (p *pass) forward() bool {
	key, times, value := p.m.first()
	p.insert(0, &successor{key: key, value: value, times: times}, -1, -1, false)
	for depth := range p.layers {
		p.open(int32(depth))
		if p.out || p.ctx.Err() != nil {
			p.out = true
			return false
		}
		if p.beam > 0 || p.keep >= keepAll {
			p.layers[depth].times, p.layers[depth].ranks = nil, nil // only the way is needed from here on
		}
	}
	return true
}

// open takes all labels of a layer a step further.
func (p *pass) open(depth int32) {
	l := &p.layers[depth]
	if p.beam > 0 {
		p.narrow(depth)
	}
	w := p.m.width
	for n, key := range l.table.keys {
		p.m.read(key, p.stepper.at)
		if p.m.isDone(p.stepper.at) {
			p.finish(depth, int32(n))
			continue
		}
		for i := l.head[n]; i >= 0; i = l.labels[i].next {
			if l.labels[i].dead {
				continue
			}
			p.spent++
			p.rankAt(l, i, key)
			for k := range p.stepper.from(l.times[int(i)*w:int(i+1)*w], l.labels[i].value) {
				p.insert(p.stepper.found[k].depth, &p.stepper.found[k], depth, i, l.labels[i].merged)
			}
		}
		if p.spent > p.budget || p.made > mostLabels || p.stepper.full || n%1024 == 1023 && p.ctx.Err() != nil {
			p.out = true
			return
		}
	}
}

// finish counts the plans that end in a state.
func (p *pass) finish(depth, n int32) {
	l := &p.layers[depth]
	w := p.m.width
	for i := l.head[n]; i >= 0; i = l.labels[i].next {
		cost := l.labels[i].value + p.m.end(p.stepper.at, l.times[int(i)*w:int(i+1)*w])
		p.boundEnd = min(p.boundEnd, cost)
		if cost < p.best && !l.labels[i].merged {
			p.best, p.bestEnd = cost, [2]int32{depth, i}
		}
	}
}

// insert puts a successor among the labels of its state, unless it can come to
// nothing better or another is as good in all that follows.
func (p *pass) insert(depth int32, s *successor, fromLayer, parent int32, merged bool) {
	rank := s.value + p.m.plainToGo(s.key, s.times)
	if rank >= p.below || p.beam > 0 && rank > p.layers[depth].limit {
		return
	}
	if p.before != nil {
		if s.value+p.before.leastAfter(depth, s.key, s.times) >= p.below {
			return
		}
	}
	l := &p.layers[depth]
	n, isNew := l.table.add(s.key)
	if isNew {
		l.head = append(l.head, -1)
	}
	fresh := label{value: s.value, next: -1, parent: parent, from: fromLayer, step: s.step, merged: merged}
	if !isNew && !p.makeRoom(l, n, s, &fresh) {
		return
	}
	fresh.next = l.head[n]
	l.head[n] = int32(len(l.labels))
	l.labels = append(l.labels, fresh)
	p.made++
	l.times = append(l.times, s.times...)
	if p.beam > 0 {
		l.ranks = append(l.ranks, rank)
		p.lowerLimit(l)
	}
}

// rankAt tells the stepper, in a beam, what a label comes to at least, so that it
// leaves out steps to labels that are not wanted.
func (p *pass) rankAt(l *layer, i int32, key uint64) {
	if p.beam == 0 {
		return
	}
	w := p.m.width
	p.stepper.rank = l.labels[i].value + p.m.plainToGo(key, l.times[int(i)*w:int(i+1)*w])
	p.stepper.wanted = p.wanted
}

// wanted says whether a label of a layer that comes to so much is.
func (p *pass) wanted(depth int32, rank model.Money) bool {
	return rank < p.below && rank <= p.layers[depth].limit
}

// lowerLimit finds anew, from time to time, what labels may come to that narrow
// would leave. Some of those that are counted have been made needless since.
func (p *pass) lowerLimit(l *layer) {
	n := 2 * p.beam
	if len(l.ranks) < n || len(l.ranks)%n != 0 && len(l.ranks) != n {
		return
	}
	ranks := slices.Clone(l.ranks)
	slices.Sort(ranks)
	l.limit = min(l.limit, ranks[p.beam+p.beam/4])
}

// makeRoom takes the labels that a new one makes needless out of a state, and
// says whether the new one is to be added.
func (p *pass) makeRoom(l *layer, n int32, s *successor, fresh *label) bool {
	w := p.m.width
	p.m.shiftOf(s.key, &p.shift)
	count, nearest, least := 0, int32(-1), noWay
	for link := &l.head[n]; *link >= 0; {
		i := *link
		o := &l.labels[i]
		t := l.times[int(i)*w : int(i+1)*w]
		if p.m.covers(&p.shift, o.value, t, s.value, s.times) {
			return false
		}
		if p.m.covers(&p.shift, s.value, s.times, o.value, t) {
			*link = o.next
			continue
		}
		count++
		if p.beam == 0 && p.keep < keepAll {
			if lost := p.m.lost(s.key, o.value, t, s.value, s.times); lost < least {
				nearest, least = i, lost
			}
		}
		link = &o.next
	}
	if count < p.keep || p.beam > 0 {
		return true
	}
	p.merge(l, nearest, s)
	return false
}

// narrow leaves a layer's most promising labels.
func (p *pass) narrow(depth int32) {
	l := &p.layers[depth]
	var ranks []model.Money
	rank := make([]model.Money, len(l.labels))
	w := p.m.width
	for n, key := range l.table.keys {
		for i := l.head[n]; i >= 0; i = l.labels[i].next {
			t := l.times[int(i)*w : int(i+1)*w]
			toGo := p.m.plainToGo(key, t)
			if p.before != nil {
				toGo = max(toGo, p.before.leastAfter(depth, key, t))
			}
			rank[i] = l.labels[i].value + toGo
			ranks = append(ranks, rank[i])
		}
	}
	if len(ranks) <= p.beam {
		return
	}
	slices.Sort(ranks)
	limit := ranks[p.beam-1]
	for i := range l.labels {
		l.labels[i].dead = rank[i] > limit
	}
}

// merge makes a label stand for a new one too: for whatever comes after either,
// it costs no more.
func (p *pass) merge(l *layer, i int32, s *successor) {
	p.merged = true
	w := p.m.width
	o := &l.labels[i]
	o.merged = true
	o.value = min(o.value, s.value)
	for k, t := range l.times[int(i)*w : int(i+1)*w] {
		l.times[int(i)*w+k] = min(t, s.times[k])
	}
}

// backward works out, for each label, the least that is still to come. What
// leads to a state without labels comes to nothing better than below.
func (p *pass) backward() {
	w := p.m.width
	for depth := len(p.layers) - 1; depth >= 0; depth-- {
		l := &p.layers[depth]
		l.toGo = make([]model.Money, len(l.labels))
		for n, key := range l.table.keys {
			p.m.read(key, p.stepper.at)
			isDone := p.m.isDone(p.stepper.at)
			for i := l.head[n]; i >= 0; i = l.labels[i].next {
				t := l.times[int(i)*w : int(i+1)*w]
				if isDone {
					l.toGo[i] = p.m.end(p.stepper.at, t)
				} else {
					l.toGo[i] = p.leastToGo(t)
				}
			}
		}
		if p.ctx.Err() != nil {
			p.out = true
			return
		}
	}
}

// leastToGo returns the least that can follow the state that was read last.
func (p *pass) leastToGo(times []int32) model.Money {
	best := noWay
	for i := range p.stepper.from(times, 0) {
		s := &p.stepper.found[i]
		if s.value >= best {
			continue
		}
		after := max(p.leastAfter(s.depth, s.key, s.times), p.m.plainToGo(s.key, s.times))
		if p.before != nil && after < noWay {
			after = max(after, p.before.leastAfter(s.depth, s.key, s.times))
		}
		best = min(best, s.value+after)
	}
	return best
}

// leastAfter returns the least that can follow a state at the given times: each
// label of the state bounds it, less what the label's times are later.
func (p *pass) leastAfter(depth int32, key uint64, times []int32) model.Money {
	l := &p.layers[depth]
	n := l.table.find(key)
	if n < 0 {
		return noWay
	}
	w := p.m.width
	p.m.shiftOf(key, &p.shift)
	best := -noWay
	for i := l.head[n]; i >= 0; i = l.labels[i].next {
		if l.toGo[i] > best {
			best = max(best, l.toGo[i]-p.m.delayCost(&p.shift, l.times[int(i)*w:int(i+1)*w], times))
		}
	}
	return best
}

// way returns the steps to a label.
func (p *pass) way(end [2]int32) []step {
	var steps []step
	for depth, i := end[0], end[1]; depth > 0; {
		l := &p.layers[depth].labels[i]
		steps = append(steps, l.step)
		depth, i = l.from, l.parent
	}
	slices.Reverse(steps)
	return steps
}
