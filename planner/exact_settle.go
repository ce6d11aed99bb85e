package planner

import (
	"math"
	"math/bits"
	"slices"

	"padturn/model"
)

// settle makes times as late as they can be without changing what follows: a
// sprayer's to when its next load can start at the soonest, as its waiting until
// then is sure and a label's value does not change with it; a bay's to when
// the set-up for whichever load comes next must begin for that load not to wait.
// Labels that mean the same then look the same. A sprayer that need not come
// again is left alone; so are bays where nothing is left to do.
func (s *stepper) settle(a *arc, times []int32) {
	m := s.m
	for i := range m.graphs {
		if a.again&(1<<i) == 0 {
			times[m.readyAt+i] = 0
		}
	}
	switch callers := s.callers[a.from:a.to]; {
	case m.shutLater(times) || !m.oneBay && m.use == forPlans:
		m.settleRoughly(callers, times)
	case m.oneBay:
		m.settleOneBay(callers, a.allDone, times)
	case !a.allDone && len(callers) > 0:
		m.settleBays(callers, times)
	}
}

// settleRoughly is settle where all that is known is that loads start in order.
func (m *padModel) settleRoughly(callers []caller, times []int32) {
	now := times[m.readyAt-1]
	for k := 0; k < len(callers); {
		c := &callers[k]
		clean := model.Clock(0) // may run meanwhile
		for ; k < len(callers) && callers[k].sprayer == c.sprayer; k++ {
			clean = max(clean, callers[k].clean)
		}
		if x := &times[m.readyAt+c.sprayer]; c.mayWait && *x < now && m.maySettle(*x) {
			*x = max(*x, now-int32(clean))
		}
	}
}

// settleOneBay is settle for one bay, which is set up next for one of the loads that
// sprayers take next.
func (m *padModel) settleOneBay(callers []caller, allDone bool, times []int32) {
	now, begin := times[0], int32(math.MaxInt32)
	for k := 0; k < len(callers); {
		first, later := &callers[k], int32(math.MaxInt32)
		x := &times[m.readyAt+first.sprayer]
		for ; k < len(callers) && callers[k].sprayer == first.sprayer; k++ {
			c := &callers[k]
			begin = min(begin, max(now, c.ready(m.in, *x)-c.nextMost[0]))
			later = min(later, now+c.least[0]-int32(c.clean))
		}
		m.settleSprayer(first, later, x)
	}
	if begin != math.MaxInt32 && !allDone {
		times[0] = max(now, begin)
	}
}

// settleSprayer makes the time of a caller as late as it can be that can't be filled for
// what it comes for if it is at the pad before a moment.
func (m *padModel) settleSprayer(c *caller, later int32, x *int32) {
	if c.mayWait && m.maySettle(*x) {
		*x = max(*x, later)
	}
}

// settleBays is settle for bounds of several bays. The next load of all starts when the
// first of those can that sprayers take next, and no other sooner. A bay's own next load
// may be one that a sprayer has only when it is back from that; and a bay that fills no
// more must not end the day.
func (m *padModel) settleBays(callers []caller, times []int32) {
	first := int32(math.MaxInt32)
	for k := range callers {
		c := &callers[k]
		ready := c.ready(m.in, times[m.readyAt+c.sprayer])
		for b := range m.bays {
			first = min(first, max(ready, times[b]+c.next[b]))
		}
	}
	now := max(times[m.bays], first)
	times[m.bays] = now
	for k := 0; k < len(callers); {
		first, later := &callers[k], int32(math.MaxInt32)
		for ; k < len(callers) && callers[k].sprayer == first.sprayer; k++ {
			for b := range m.bays {
				later = min(later, max(now, times[b]+callers[k].least[b])-int32(callers[k].clean))
			}
		}
		m.settleSprayer(first, later, &times[m.readyAt+first.sprayer])
	}
	for b := range m.bays {
		begin := now + min(m.shortestFill, m.soonestBack-m.mostSetUp)
		for k := range callers {
			c := &callers[k]
			begin = min(begin, max(now, c.ready(m.in, times[m.readyAt+c.sprayer]))-c.nextMost[b])
		}
		times[b] = max(times[b], begin)
	}
}

// maySettle says whether a sprayer that is at the pad at a moment pays for waiting
// from then on, whatever comes next. Before the opening it does not, and a cleanout
// does not begin before now: there its first turn decides.
func (m *padModel) maySettle(at int32) bool {
	return model.Clock(at) >= max(m.in.opens, m.in.cleanFrom)
}

// nextSetUp returns what the set-up takes that is asked of a bay, if it is the next and
// no tote has run dry.
func (s *stepper) nextSetUp(a *ask, pad *padState, b int) int32 {
	t := int32(0)
	if r := s.m.rinse[pad.mix[b]][a.mix]; r != model.None {
		t = int32(s.m.in.rinses[r].time)
	}
	return t + s.changing(a, pad, b)
}

// leastSetUp returns what passes at least until a bay is set up as is asked of it,
// whatever it fills before.
func (s *stepper) leastSetUp(a *ask, pad *padState, b int) int32 {
	return s.m.sureRinse[pad.mix[b]][a.mix] + s.changing(a, pad, b)
}

// changing is how long it takes to put on what is asked of a bay and not on it.
func (s *stepper) changing(a *ask, pad *padState, b int) int32 {
	missing := a.wants &^ (s.m.in.bays[b].plumbed[0] | pad.on[b])
	return int32(s.m.in.change) * int32(bits.OnesCount64(missing))
}

// layOutSettling works out what settle needs to know of the whole day.
func (m *padModel) layOutSettling() {
	m.shortestFill, m.soonestBack = mostDelay, mostDelay
	fill := slices.Repeat([]int32{mostDelay}, len(m.in.p.Mixes))
	for i := range m.graphs {
		for n := range m.graphs[i].stops {
			for k := range m.graphs[i].stops[n].turns {
				t := &m.graphs[i].stops[n].turns[k]
				least := int32(t.l.FillSeconds(0))
				fill[t.l.mix] = min(fill[t.l.mix], least)
				m.shortestFill = min(m.shortestFill, least)
				m.soonestBack = min(m.soonestBack, least+int32(t.back.after))
				m.mostSetUp = max(m.mostSetUp, int32(m.in.change)*int32(bits.OnesCount64(t.l.wants[0])))
			}
		}
	}
	var longest model.Seconds
	for r := range m.in.rinses {
		longest = max(longest, m.in.rinses[r].time)
	}
	m.mostSetUp += int32(longest)
	m.sureRinse = m.sureRinses(fill)
}

// sureRinses lists, by what a bay had last and a mix that follows at some time, how long
// it takes at least until the bay is rinsed for it: what is filled between may save a
// rinse. fill is how long each mix takes to fill at least.
func (m *padModel) sureRinses(fill []int32) [][]int32 {
	sure := make([][]int32, len(m.rinse))
	for last := range m.rinse {
		for _, r := range m.rinse[last] {
			t := int32(0)
			if r != model.None {
				t = int32(m.in.rinses[r].time)
			}
			sure[last] = append(sure[last], t)
		}
	}
	for between := range fill {
		for last := range sure {
			for mix := range fill {
				sure[last][mix] = min(sure[last][mix], sure[last][between]+fill[between]+sure[between][mix])
			}
		}
	}
	return sure
}
