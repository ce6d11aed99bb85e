package planner

import (
	"cmp"
	"slices"

	"padturn/model"
)

// fineness says which labels of a state a pass merges: on one bay those that it costs
// little to merge, so many seconds of waiting at most; on several, where many times of
// labels mean nothing, those whose times lie in the same cells of 1 << cellBits seconds.
// Without either it merges none.
type fineness struct {
	alike    model.Seconds
	cellBits uint
	// asPlanned says that loads start as soon as they can. Elsewhere they may also be
	// put off until a hold catches them.
	asPlanned bool
}

func (f fineness) merges() bool { return f.alike > 0 || f.cellBits > 0 }

// How fine the passes are, one after the other. The last but one merges nothing; the
// last is only for days with holds.
var (
	oneBayPasses   = []fineness{{alike: 1500}, {alike: 700}, {alike: 250}, {alike: 80}, {}, {asPlanned: true}}
	manyBaysPasses = []fineness{{cellBits: 31}, {cellBits: 11}, {cellBits: 9}, {cellBits: 7}, {}, {asPlanned: true}}
)

// passes lists how fine the passes of a day are.
func (m *padModel) passes() []fineness {
	list := manyBaysPasses
	if m.oneBay {
		list = oneBayPasses
	}
	if len(m.holdEnds) == 0 {
		return list[:len(list)-1]
	}
	return list
}

// partner returns the label of a state that another is to be merged with; none where
// there is no such label.
func (p *pass) partner(sh *shard, state int32, x *label, times []int32) int32 {
	if p.fine.cellBits == 0 {
		return p.alike(sh, state, x, times)
	}
	if i, isFirst := sh.cells.add(p.cellOf(state, times)); !isFirst {
		return i
	}
	return -1
}

// alike returns the label of a state that costs least to merge with another; none
// where that is too much. Merged labels stand for something cheaper than either: what
// the one that is cheaper so far loses by it weighs more, as the way of a plan that
// ends the cheapest is more likely to be its.
func (p *pass) alike(sh *shard, state int32, x *label, times []int32) int32 {
	w := p.m.width
	times = times[:len(p.worth)]
	best, at := p.alikeness, int32(-1)
	for i := sh.head[state]; i >= 0; i = sh.labels[i].next {
		if !p.m.samePhases(times, sh.times[int(i)*w:]) {
			continue
		}
		if cost := p.mergeCost(x.value-sh.labels[i].value, times, sh.times[int(i)*w:], best); cost < best {
			best, at = cost, i
		}
	}
	return at
}

// mergeCost returns what merging two labels costs that differ by so much in value, or
// something that is at least enough.
func (p *pass) mergeCost(value model.Money, x, o []int32, enough model.Money) model.Money {
	loses, otherLoses := max(value, 0), max(-value, 0)
	o, worth := o[:len(x)], p.worth[:len(x)]
	for k, t := range x {
		if d := model.Money(t-o[k]) * worth[k]; d > 0 {
			loses += d
		} else {
			otherLoses -= d
		}
		if lessWeight*min(loses, otherLoses)+max(loses, otherLoses) >= enough {
			return enough
		}
	}
	return lessWeight*min(loses, otherLoses) + max(loses, otherLoses)
}

// lessWeight is how many times as much the less that two labels lose weighs as the more.
const lessWeight = 7

// worthOf returns what a second of each of a label's times is about worth: what it
// costs to wait for. Nothing is worth less than a little, so that labels are told
// apart by their times also where waiting costs nothing.
func (m *padModel) worthOf() []model.Money {
	worth := make([]model.Money, m.times)
	mean := model.Money(0)
	for i := range m.graphs {
		rate := max(m.graphs[i].wait.For(1), leastWorth)
		worth[m.readyAt+i] = rate
		mean += rate / model.Money(len(m.graphs))
	}
	for k := range worth[:m.readyAt] {
		worth[k] = mean
	}
	return worth
}

// leastWorth is what a second is worth at least.
const leastWorth = model.Dollar / 3600

// thin takes the labels out of a shard that others of their states make needless, and
// puts the rest in the order of their states, cheapest first.
func (p *pass) thin(h *hand, sh *shard) {
	w := p.m.width
	kept := shard{table: sh.table, head: sh.head}
	var list []int32
	for n, key := range sh.table.keys {
		list = list[:0]
		for i := sh.head[n]; i >= 0; i = sh.labels[i].next {
			list = append(list, i)
		}
		slices.SortFunc(list, func(a, b int32) int {
			return cmp.Or(cmp.Compare(sh.labels[a].value, sh.labels[b].value), cmp.Compare(a, b))
		})
		p.m.shiftOf(key, &h.shift)
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
