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
func (s *stepper) settle(pad *padState, taken uint32, times []int32) {
	m := s.m
	for i, n := range s.stops {
		if len(m.graphs[i].stops[n].turns) == 0 {
			times[m.readyAt+i] = 0
		}
	}
	switch {
	case m.shutLater(times) || !m.oneBay && m.use == forPlans:
		s.settleRoughly(times)
	case m.oneBay:
		s.settleOneBay(pad, taken, times)
	default:
		s.settleBays(pad, taken, times)
	}
}

// settleRoughly is settle where all that is known is that loads start in order.
func (s *stepper) settleRoughly(times []int32) {
	m := s.m
	now := times[m.readyAt-1]
	for i, n := range s.stops {
		stop := &m.graphs[i].stops[n]
		if x := &times[m.readyAt+i]; len(stop.turns) > 0 && !stop.done && *x < now && m.maySettle(*x) {
			*x = max(*x, now-mostClean(stop.asks)) // a cleanout may run meanwhile
		}
	}
}

// settleOneBay is settle for one bay, which is set up next for one of the loads that
// sprayers take next.
func (s *stepper) settleOneBay(pad *padState, taken uint32, times []int32) {
	m := s.m
	now, begin := times[0], int32(math.MaxInt32)
	for i, n := range s.stops {
		stop := &m.graphs[i].stops[n]
		x, later := &times[m.readyAt+i], int32(math.MaxInt32)
		for k := range stop.asks {
			a := &stop.asks[k]
			dry := int32(m.in.change) * int32(a.totes) // each of its totes may have run dry
			begin = min(begin, max(now, int32(a.ready(m.in, model.Clock(*x)))-s.nextSetUp(a, pad, 0)-dry))
			later = min(later, now+s.leastSetUp(a, pad, 0)-int32(a.clean))
		}
		if len(stop.asks) > 0 && !stop.done && m.maySettle(*x) {
			*x = max(*x, later)
		}
	}
	if begin != math.MaxInt32 && !s.allDone(taken) {
		times[0] = max(now, begin)
	}
}

// settleBays is settle for bounds of several bays. The next load of all starts when the
// first of those can that sprayers take next, and no other sooner. A bay's own next load
// may be one that a sprayer has only when it is back from that; and a bay that fills no
// more must not end the day.
func (s *stepper) settleBays(pad *padState, taken uint32, times []int32) {
	m := s.m
	first := int32(math.MaxInt32)
	s.eachAsk(func(i, b int, a *ask) {
		first = min(first, max(int32(a.ready(m.in, model.Clock(times[m.readyAt+i]))), times[b]+s.nextSetUp(a, pad, b)))
	})
	if first == math.MaxInt32 || s.allDone(taken) {
		return
	}
	now := max(times[m.bays], first)
	times[m.bays] = now
	for i, n := range s.stops {
		stop := &m.graphs[i].stops[n]
		x, later := &times[m.readyAt+i], int32(math.MaxInt32)
		for k := range stop.asks {
			a := &stop.asks[k]
			for b := range m.bays {
				if m.fills[b][a.mix] {
					later = min(later, max(now, times[b]+s.leastSetUp(a, pad, b))-int32(a.clean))
				}
			}
		}
		if later != math.MaxInt32 && !stop.done && m.maySettle(*x) {
			*x = max(*x, later)
		}
	}
	var begin [mostExactBays]int32
	for b := range m.bays {
		begin[b] = now + min(m.shortestFill, m.soonestBack-m.mostSetUp)
	}
	s.eachAsk(func(i, b int, a *ask) {
		begin[b] = min(begin[b], max(now, int32(a.ready(m.in, model.Clock(times[m.readyAt+i]))))-s.nextSetUp(a, pad, b))
	})
	for b := range m.bays {
		times[b] = max(times[b], begin[b])
	}
}

// eachAsk calls do for what the sprayers' next loads ask of each bay that fills them.
func (s *stepper) eachAsk(do func(i, b int, a *ask)) {
	for i, n := range s.stops {
		asks := s.m.graphs[i].stops[n].asks
		for k := range asks {
			for b := range s.m.bays {
				if s.m.fills[b][asks[k].mix] {
					do(i, b, &asks[k])
				}
			}
		}
	}
}

// allDone says whether everything is sprayed in the successor.
func (s *stepper) allDone(taken uint32) bool {
	for i, n := range s.stops {
		if !s.m.graphs[i].stops[n].done {
			return false
		}
	}
	return taken == s.m.anyAll
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

func mostClean(asks []ask) int32 {
	var most model.Clock
	for i := range asks {
		most = max(most, asks[i].clean)
	}
	return int32(most)
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
