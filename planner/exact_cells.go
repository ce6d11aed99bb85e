package planner

import (
	"cmp"
	"math/bits"
	"slices"

	"padturn/model"
)

// fineness says how finely a pass tells times apart: labels of a state are merged whose
// times all lie in the same cells of 1 << cellBits seconds; 0 merges none.
type fineness struct {
	cellBits uint
	// asPlanned says that loads start as soon as they can. Elsewhere they may also be
	// put off until a hold catches them.
	asPlanned bool
}

func (f fineness) merges() bool { return f.cellBits > 0 }

// passFineness is how fine the passes are, one after the other. The last but one merges
// nothing; the last is only for days with holds, and only where nothing starts later
// than the model has it. A first pass that merges all labels of a state says so little
// that it costs more time than it saves.
var passFineness = []fineness{{cellBits: 11}, {cellBits: 9}, {cellBits: 7}, {}, {asPlanned: true}}

// passes lists how fine the passes of a day are.
func (m *padModel) passes() []fineness {
	if len(m.holdEnds) == 0 || !m.startsAsModelled() {
		return passFineness[:len(passFineness)-1]
	}
	return passFineness
}

// cellOf names the cell of a state that times lie in. Cells of other states have other
// names. Two of one state that get the same by chance are merged as if they were one,
// which only makes a bound weaker.
func (p *pass) cellOf(state int32, times []int32) uint64 {
	var h uint64
	for _, t := range times[:p.m.times] {
		h = (h ^ h>>32 ^ uint64(t>>p.fine.cellBits) ^ p.m.holdsOver(t)<<32) * 0x9E3779B97F4A7C15
	}
	return uint64(state)<<32 | h>>32
}

// thin takes the labels out of a shard that others of their states make needless, and
// puts the rest in the order of their states. What may make a label needless comes before
// it: it is cheaper when what it saves that all is sooner counts, by the average of times; of
// those that then are as cheap, the sooner comes first.
func (p *pass) thin(h *hand, sh *shard) {
	w := p.m.width
	kept := shard{table: sh.table, head: sh.head}
	var list []int32
	for n, key := range sh.table.keys {
		list = list[:0]
		for i := sh.head[n]; i >= 0; i = sh.labels[i].next {
			list = append(list, i)
		}
		p.m.shiftOf(key, false, &h.shift)
		count := model.Money(p.m.readyAt + bits.OnesCount64(h.shift.again))
		rank := func(i int32) model.Money {
			return sh.labels[i].value*count + h.shift.gain*model.Money(sumOf(sh.times[int(i)*w:][:p.m.times]))
		}
		slices.SortFunc(list, func(a, b int32) int {
			return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(sh.labels[b].value, sh.labels[a].value), cmp.Compare(a, b))
		})
		first := len(kept.labels)
		kept.head[n] = int32(first)
		for _, i := range list {
			t := sh.times[int(i)*w : int(i+1)*w]
			if !p.coveredBy(h, &kept, first, sh.labels[i].value, t) {
				kept.labels = append(kept.labels, sh.labels[i])
				kept.labels[len(kept.labels)-1].next = int32(len(kept.labels))
				kept.times = append(kept.times, t...)
			}
		}
		kept.labels[len(kept.labels)-1].next = -1
	}
	*sh = kept
}

// coveredBy says whether some label of a shard from one on makes another needless.
func (p *pass) coveredBy(h *hand, sh *shard, from int, value model.Money, times []int32) bool {
	w := p.m.width
	for i := from; i < len(sh.labels); i++ {
		if p.m.covers(&h.shift, sh.labels[i].value, sh.times[i*w:(i+1)*w], value, times) {
			return true
		}
	}
	return false
}
