package planner

import (
	"context"
	"math"
	"slices"

	"padturn/model"
)

// mostLabels is how many labels a pass may make: 4 to 7 GB, by the number of sprayers.
const mostLabels = 60_000_000

// noWay is more than anything costs.
const noWay = model.Money(math.MaxInt64 / 4)

// pass goes once through the states of a day, layer by layer.
type pass struct {
	m      *padModel
	layers []layer
	before *pass       // tells what is still to come from a state; nil at first
	below  model.Money // only plans that cost less are looked for
	fine   fineness
	last   bool  // no other goes by what it says
	beam   int   // not 0: labels taken a step further in each layer; nothing is merged, the rest is dropped
	budget int64 // labels that may still be looked at
	spent  int64
	made   int64 // labels that are kept
	out    bool  // the budget ran out, or the day was interrupted
	merged bool  // some label is

	best     model.Money // of the plans that were found, below at first
	bestEnd  spot        // of the best plan, which is no merged one
	boundEnd model.Money // no plan below it is possible
	reach    int32       // the deepest layer with labels
	work     *work
	ctx      context.Context
}

func newPass(ctx context.Context, p *prover, st *stage, budget int64) *pass {
	depth := 0
	for i := range st.m.graphs {
		deepest := int32(0)
		for n := range st.m.graphs[i].stops {
			deepest = max(deepest, st.m.graphs[i].stops[n].depth)
		}
		depth += int(deepest)
	}
	layers := make([]layer, depth+1)
	for i := range layers {
		layers[i].limit = noWay
	}
	return &pass{m: st.m, layers: layers, before: p.before, below: p.below, fine: st.fine, budget: budget,
		best: p.below, boundEnd: p.below, work: st.work, ctx: ctx}
}

// forward makes the labels of all layers. It says whether it came to the end; where it
// did not, the bound is what the labels come to at least that it has not gone on from.
func (p *pass) forward() bool {
	p.begin()
	for depth := range p.layers {
		p.open(int32(depth))
		if p.out || p.ctx.Err() != nil {
			p.out = true
			if p.beam == 0 {
				p.boundFrom(int32(depth))
			}
			return false
		}
		if p.last {
			p.layers[depth].keepWays()
		}
	}
	return true
}

// begin makes the label of the opening.
func (p *pass) begin() {
	key, times, value := p.m.first()
	first := &p.work.chunks[0]
	first.clear()
	p.offer(&p.work.hands[0], first, &successor{key: key, value: value, toGo: p.m.plainToGo(key, times), times: times}, spot{}, false)
	p.insert(1)
}

// open takes all labels of a layer a step further, so many states at a time: the
// steps out of each chunk of them are offered to the shards of the layers behind,
// and each shard takes them in the order of the chunks. So it is all the same how
// many goroutines do it.
func (p *pass) open(depth int32) {
	if p.beam > 0 {
		p.narrow(depth)
	}
	if p.fine.merges() {
		p.work.each(shardCount, func(h *hand, i int) { p.thin(h, &p.layers[depth].shards[i]) })
	}
	for shard, state := int32(0), int32(0); shard < shardCount; {
		var n int
		n, shard, state = p.cut(depth, shard, state)
		p.work.each(n, func(h *hand, i int) { p.expand(h, &p.work.chunks[i]) })
		p.insert(n)
		if p.spent > p.budget || p.made > mostLabels || p.m.pads.full || p.ctx.Err() != nil {
			p.out = true
			return
		}
	}
}

// expand takes the labels of a chunk of states a step further.
func (p *pass) expand(h *hand, c *chunk) {
	sh := p.shardAt(c.shard)
	w := p.m.width
	h.stepper.putsOff, h.stepper.takesAny = !p.fine.asPlanned, p.fine.asPlanned && p.beam == 0
	for n := c.from; n < c.to; n++ {
		key := sh.table.keys[n]
		h.stepper.read(key)
		if p.m.isDone(h.stepper.at) {
			p.finish(h, c, n)
			continue
		}
		for i := sh.head[n]; i >= 0; i = sh.labels[i].next {
			if sh.labels[i].dead {
				continue
			}
			c.spent++
			t := sh.times[int(i)*w : int(i+1)*w]
			p.rankAt(h.stepper, sh.labels[i].value, key, t)
			found := h.stepper.from(t, sh.labels[i].value)
			for k := range found {
				p.offer(h, c, &found[k], spot{c.shard, i}, sh.labels[i].merged)
			}
		}
	}
}

// finish counts the plans that end in a state.
func (p *pass) finish(h *hand, c *chunk, n int32) {
	sh := p.shardAt(c.shard)
	w := p.m.width
	for i := sh.head[n]; i >= 0; i = sh.labels[i].next {
		cost := sh.labels[i].value + p.m.end(h.stepper.at, sh.times[int(i)*w:int(i+1)*w])
		c.boundEnd = min(c.boundEnd, cost)
		if cost < c.best && !sh.labels[i].merged {
			c.best, c.bestEnd = cost, spot{c.shard, i}
		}
	}
}

// offer offers a successor to the shard that its state belongs to, unless it can
// come to nothing better.
func (p *pass) offer(h *hand, c *chunk, s *successor, from spot, merged bool) {
	rank := s.value + s.toGo
	if !p.wanted(s.depth, rank) {
		return
	}
	if p.before != nil && p.leastBefore(h, s.depth, s.key, s.times, p.below-s.value) >= p.below-s.value {
		return
	}
	o := &c.offers[p.m.shardOf(s.key)]
	o.list = append(o.list, offer{s.key, rank, s.depth, label{value: s.value, next: -1, from: from, step: s.step, merged: merged}})
	o.times = append(o.times, s.times...)
	c.reach = max(c.reach, s.depth)
}

// insert has the shards take what the first n chunks offer, and sums up.
func (p *pass) insert(n int) {
	p.work.each(shardCount, func(h *hand, shard int) {
		for i := range n {
			o := &p.work.chunks[i].offers[shard]
			for k := range o.list {
				p.take(h, int32(shard), &o.list[k], o.times[k*p.m.width:(k+1)*p.m.width])
			}
		}
	})
	offered := 0
	for i := range n {
		c := &p.work.chunks[i]
		for k := range c.offers {
			offered += len(c.offers[k].list)
		}
		p.spent += c.spent
		p.reach = max(p.reach, c.reach)
		p.boundEnd = min(p.boundEnd, c.boundEnd)
		if c.best < p.best {
			p.best, p.bestEnd = c.best, c.bestEnd
		}
	}
	for i := range p.work.hands {
		h := &p.work.hands[i]
		p.made += h.made
		p.merged = p.merged || h.merged
		h.made, h.merged = 0, false
	}
	p.work.pace(offered)
	p.lowerLimits()
}

// take puts an offer among the labels of its state, unless another is as good in
// all that follows.
func (p *pass) take(h *hand, shard int32, o *offer, times []int32) {
	sh := &p.layers[o.depth].shards[shard]
	n, isNew := sh.table.add(o.key)
	if isNew {
		sh.head = append(sh.head, -1)
	}
	if p.fine.merges() {
		if i, isFirst := sh.cells.add(p.cellOf(n, times)); !isFirst {
			p.m.shiftOf(o.key, false, &h.shift)
			h.merged = sh.merge(p.m, &h.shift, i, &o.label, times) || h.merged
			return
		}
	} else if !isNew && !p.makeRoom(h, sh, n, o, times) {
		return
	}
	o.label.next = sh.head[n]
	sh.head[n] = int32(len(sh.labels))
	sh.labels = append(sh.labels, o.label)
	sh.times = append(sh.times, times...)
	if p.beam > 0 {
		sh.ranks = append(sh.ranks, o.rank)
	}
	h.made++
}

// makeRoom takes the labels that a new one makes needless out of a state, and
// says whether the new one is to be added.
func (p *pass) makeRoom(h *hand, sh *shard, n int32, o *offer, times []int32) bool {
	w := p.m.width
	p.m.shiftOf(o.key, p.fine.asPlanned, &h.shift)
	for link := &sh.head[n]; *link >= 0; {
		i := *link
		old := &sh.labels[i]
		t := sh.times[int(i)*w : int(i+1)*w]
		if p.m.covers(&h.shift, old.value, t, o.label.value, times) {
			return false
		}
		if p.m.covers(&h.shift, o.label.value, times, old.value, t) {
			*link = old.next
			continue
		}
		link = &old.next
	}
	return true
}

// way returns the steps to a label.
func (p *pass) way(end spot) []step {
	var steps []step
	for at := end; at.shard >= shardCount; {
		l := &p.shardAt(at.shard).labels[at.label]
		steps = append(steps, l.step)
		at = l.from
	}
	slices.Reverse(steps)
	return steps
}
