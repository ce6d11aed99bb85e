package planner

import (
	"slices"

	"padturn/model"
)

// rankAt tells a stepper, in a beam, what a label comes to at least, so that it
// leaves out steps to labels that are not wanted.
func (p *pass) rankAt(s *stepper, value model.Money, key uint64, times []int32) {
	s.wanted = nil
	if p.beam > 0 {
		s.rank, s.wanted = value+p.m.plainToGo(key, times), p
	}
}

// wanted says whether a label of a layer that comes to so much is.
func (p *pass) wanted(depth int32, rank model.Money) bool {
	return rank < p.below && rank <= p.layers[depth].limit
}

// lowerLimits finds anew, from time to time, what labels of the layers behind may
// come to that narrow would leave. Some of those that are counted have been made
// needless since.
func (p *pass) lowerLimits() {
	if p.beam == 0 {
		return
	}
	for depth := range p.reach + 1 {
		l := &p.layers[depth]
		count := 0
		for i := range l.shards {
			count += len(l.shards[i].ranks)
		}
		if count < l.sorted+2*p.beam {
			continue
		}
		l.sorted = count
		ranks := make([]model.Money, 0, count)
		for i := range l.shards {
			ranks = append(ranks, l.shards[i].ranks...)
		}
		slices.Sort(ranks)
		l.limit = min(l.limit, ranks[p.beam+p.beam/4])
	}
}

// narrow leaves a layer's most promising labels.
func (p *pass) narrow(depth int32) {
	l := &p.layers[depth]
	p.work.each(shardCount, func(h *hand, i int) { p.rankAll(h, depth, &l.shards[i]) })
	var ranks []model.Money
	for i := range l.shards {
		sh := &l.shards[i]
		for _, first := range sh.head {
			for k := first; k >= 0; k = sh.labels[k].next {
				ranks = append(ranks, sh.ranks[k])
			}
		}
	}
	if len(ranks) <= p.beam {
		return
	}
	slices.Sort(ranks)
	limit := ranks[p.beam-1]
	for i := range l.shards {
		sh := &l.shards[i]
		for k := range sh.labels {
			sh.labels[k].dead = sh.ranks[k] > limit
		}
	}
}

// rankAll works out the ranks of a shard's labels by what the pass before says.
func (p *pass) rankAll(h *hand, depth int32, sh *shard) {
	if p.before == nil {
		return
	}
	w := p.m.width
	for n, key := range sh.table.keys {
		for i := sh.head[n]; i >= 0; i = sh.labels[i].next {
			after := p.leastBefore(h, depth, key, sh.times[int(i)*w:int(i+1)*w], noWay)
			sh.ranks[i] = max(sh.ranks[i], sh.labels[i].value+after)
		}
	}
}
