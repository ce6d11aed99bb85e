package planner

import (
	"slices"

	"padturn/model"
)

// boundFrom bounds what plans cost from a pass that did not come to the end: each plan
// that is still looked for goes through a label of the layer that it stopped in, or
// has come past it already to one of the layers behind.
func (p *pass) boundFrom(depth int32) {
	if p.m.pads.full { // some labels are missing
		p.boundEnd = -noWay
		return
	}
	for ; depth <= p.reach; depth++ {
		l := &p.layers[depth]
		var least [shardCount]model.Money
		p.work.each(shardCount, func(h *hand, i int) { least[i] = p.leastOf(h, depth, &l.shards[i]) })
		p.boundEnd = min(p.boundEnd, slices.Min(least[:]))
	}
}

// leastOf returns what the labels of a shard come to at least.
func (p *pass) leastOf(h *hand, depth int32, sh *shard) model.Money {
	w := p.m.width
	least := noWay
	for n, key := range sh.table.keys {
		for i := sh.head[n]; i >= 0; i = sh.labels[i].next {
			l, t := &sh.labels[i], sh.times[int(i)*w:int(i+1)*w]
			rank := l.value + p.m.plainToGo(key, t)
			if p.before != nil && rank < least {
				rank = max(rank, l.value+p.leastBefore(h, depth, key, t, least-l.value))
			}
			least = min(least, rank)
		}
	}
	return least
}
