package planner

import (
	"math/bits"
	"slices"
	"sort"

	"padturn/model"
)

// jumps returns when fillings of a load end that a hold is the first to catch: filled
// a second sooner, a part is sprayed out before the hold, and the sprayer is back
// sooner by the whole of it.
func (in *instance) jumps(l *load) []model.Clock {
	var list []model.Clock
	for i := range l.parts {
		for _, hold := range l.parts[i].blocked[1:] {
			caught := in.now + model.Clock(sort.Search(int(max(hold.from-in.now, 0)), func(s int) bool {
				return l.partDone(i, in.now+model.Clock(s)) > hold.from
			}))
			if l.sprayedOut(caught) > l.sprayedOut(caught-1)+1 {
				list = append(list, caught)
			}
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// partDone returns when the i-th part of a load is sprayed whose filling ends at end.
func (l *load) partDone(i int, end model.Clock) model.Clock {
	t := end + l.driveOut
	for k := range i + 1 {
		t = l.parts[k].finish(t + model.Clock(l.parts[k].drive))
	}
	return t
}

// layOutHolds lists the holds that may catch loads of sprayers after a first moment at
// which they can be in the field.
func (m *padModel) layOutHolds(shop *workshop) {
	m.holds = make([][]span, len(m.graphs))
	for i := range m.graphs {
		var list []span
		for job, j := range m.in.p.Jobs {
			if j.Sprayer == i || j.Sprayer == model.None {
				_, later := m.in.blockedFirst(i, job, shop.blockedSpans(i, job))
				list = append(list, later...)
			}
		}
		m.holds[i] = merged(list)
		for _, h := range m.holds[i] {
			m.holdEnds = append(m.holdEnds, h.to)
		}
	}
	slices.Sort(m.holdEnds)
	m.holdEnds = slices.Compact(m.holdEnds)
}

// pausesAfter returns what the time of some sprayers is worth that holds may keep them
// from spraying after a moment.
func (m *padModel) pausesAfter(sprayers uint64, t model.Clock) model.Money {
	var sum model.Money
	for ; sprayers != 0; sprayers &= sprayers - 1 {
		i := bits.TrailingZeros64(sprayers)
		for _, h := range m.holds[i] {
			sum += m.graphs[i].wait.For(model.Seconds(max(h.to-max(h.from, t), 0)))
		}
	}
	return sum
}

// startsAsModelled says whether no load of a plan starts later than in the model, for
// water, a tote or a tank life that it does not know. Else a hold may catch one of a
// plan that the model lets slip through, and the plan may be the cheaper for it: where
// loads may be put off the model has that, where they start as planned it does not.
func (m *padModel) startsAsModelled() bool {
	return m.in.water == nil && m.unpaid == 0 && (m.oneBay || len(m.in.tracked) == 0)
}

// holdsOver counts the holds that are over at a time.
func (m *padModel) holdsOver(t int32) uint64 {
	n := uint64(0)
	for _, end := range m.holdEnds {
		if model.Clock(t) < end {
			break
		}
		n++
	}
	return n
}
