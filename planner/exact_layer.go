package planner

import "padturn/model"

// layer is the labels with equally much behind them, in shards.
type layer struct {
	shards [shardCount]shard
	limit  model.Money // in a beam: labels that come to more are not wanted
	sorted int         // labels that its limit is of
}

// shardCount is how many shards there are: a power of two, whatever the cores.
const shardCount = 16

// shard is the labels of some states. A label is one way to come to a state: its
// value, cost less what sprayers' ready times are worth, and the times of bays and
// sprayers.
type shard struct {
	table keyTable
	head  []int32  // by state: its first label
	cells keyTable // in a pass that merges: names of cells, numbered as their labels

	labels []label
	times  []int32
	ranks  []model.Money // by label, in a beam: the least that it can come to

	ahead ahead // after the way back, and nothing else
}

// label is one of a state's. Its times stand in its shard's times.
type label struct {
	value  model.Money
	next   int32 // of the state, -1 at the end
	from   spot
	step   step
	merged bool // it stands for several ways, and may be none of them
	dead   bool
}

// spot is where a label stands: shards are counted through all layers.
type spot struct{ shard, label int32 }

func (p *pass) shardAt(n int32) *shard {
	return &p.layers[n/shardCount].shards[n%shardCount]
}

// shardOf says which shard a state belongs to. It does not depend on the number of
// what is on the pad, as that may differ from run to run.
func (m *padModel) shardOf(key uint64) int32 {
	key &= 1<<m.padAt - 1
	return int32(key * 0xD6E8FEB86659FD93 >> 32 % shardCount)
}

// keepWays keeps of a layer only what the steps to its labels follow from.
func (l *layer) keepWays() {
	for i := range l.shards {
		l.shards[i] = shard{labels: l.shards[i].labels}
	}
}

// merge makes a label stand for another of its cell too: for whatever comes after
// either, it costs no more. Where all times of one are sooner it is that one, but no
// cheaper than the other would be so soon. Where one of them makes the other needless it
// is that one, and merge says no.
func (sh *shard) merge(m *padModel, s *shift, i int32, x *label, times []int32) bool {
	o := &sh.labels[i]
	old := sh.times[int(i)*len(times):][:len(times)]
	if m.covers(s, o.value, old, x.value, times) {
		return false
	}
	if m.covers(s, x.value, times, o.value, old) {
		x.next = o.next
		*o = *x
		copy(old, times)
		return false
	}
	ahead, behind := m.lead(s, old, times), m.lead(s, times, old)
	for k, t := range times {
		old[k] = min(old[k], t)
	}
	own, other := o.value, x.value
	if m.isSteady(s, old) {
		own, other = own+s.gain*model.Money(behind), other+s.gain*model.Money(ahead)
	}
	o.value, o.merged = min(own, other), true
	return true
}
