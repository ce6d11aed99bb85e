package planner

import (
	"math/bits"

	"padturn/model"
)

// arc is a step out of a state as far as it is the same for all of its labels.
type arc struct {
	step step
	turn *turn
	live uint64 // products that are still wanted after it
	// What it leads to, once that is known.
	known, lost bool // lost: there are too many pad states to tell its own apart
	key         uint64
	depth       int32
	allDone     bool
	fixed       model.Money // certainly still to be paid besides waiting
	again       uint64      // sprayers that may come again
	from, to    int         // the callers of those
}

// caller is a sprayer that may come next to the pad of a state, with a load that is to have
// a cleanout or not, and how long bays are set up for such loads of it.
type caller struct {
	sprayer          int
	mayWait          bool // it must come: what it waits for at the pad is sure
	clean, cleanFrom model.Clock
	next, nextMost   [mostExactBays]int32 // if it is the next
	least            [mostExactBays]int32 // whatever the bay fills before
}

// noSetUp is longer than any set-up, for bays that do not fill what is asked.
const noSetUp = 1 << 29

// ready returns when a caller that is at the pad at a moment can be filled.
func (c *caller) ready(in *instance, at int32) int32 {
	a := ask{clean: c.clean, cleanFrom: c.cleanFrom}
	return int32(a.ready(in, model.Clock(at)))
}

// listArcs lists the steps out of the state that was read last.
func (s *stepper) listArcs() {
	for i := range s.m.graphs {
		stop := &s.m.graphs[i].stops[s.at.stops[i]]
		for k := range stop.turns {
			if stop.turns[k].takes&s.at.taken != 0 {
				continue
			}
			for b := range s.m.bays {
				if s.m.fills[b][stop.turns[k].l.mix] {
					s.serve(i, k, b)
				}
			}
		}
	}
}

// serve lists the arcs on which a sprayer takes a turn at a bay: one for each choice of
// what comes off.
func (s *stepper) serve(i, k, b int) {
	tu := &s.m.graphs[i].stops[s.at.stops[i]].turns[k]
	live := s.liveAfter(i, tu)
	own := tu.l.wants[0] &^ s.m.in.bays[b].plumbed[0]
	on := s.at.pad.on[b]
	room := max(s.m.in.bays[b].free-bits.OnesCount64(on), 0) + bits.OnesCount64(on&^(live|own))
	excess := bits.OnesCount64(own&^on) - room
	a := arc{step: step{int8(i), int8(b), int16(k), 0}, turn: tu, live: live}
	s.serveEach(a, on&live&^own, excess)
	if s.takesAny {
		for n := max(excess, 0) + 1; n <= bits.OnesCount64(own&^on); n++ {
			s.serveEach(a, on&live&^own, n)
		}
	}
}

// liveAfter returns the products that are still wanted once a turn is taken.
func (s *stepper) liveAfter(i int, tu *turn) uint64 {
	live := s.m.graphs[i].stops[tu.to].live
	for j := range s.m.graphs {
		if j != i {
			live |= s.m.graphs[j].stops[s.at.stops[j]].live
		}
	}
	return live
}

// serveEach lists an arc for each choice of n of a set that comes off besides.
func (s *stepper) serveEach(a arc, set uint64, n int) {
	if n <= 0 {
		s.arcs = append(s.arcs, a)
		return
	}
	off := a.step.off
	for rest := set; bits.OnesCount64(rest) >= n; {
		lowest := rest & -rest
		rest &^= lowest
		a.step.off = off | uint32(lowest)
		s.serveEach(a, rest, n-1)
	}
}

// know works out what an arc leads to.
func (s *stepper) know(a *arc) {
	m, i, b, tu := s.m, int(a.step.sprayer), a.step.bay, a.turn
	a.known = true
	copy(s.stops, s.at.stops)
	s.stops[i] = tu.to
	pad := s.at.pad
	pad.mix[b] = int16(tu.l.mix)
	pad.on[b] = pad.on[b]&^uint64(a.step.off) | tu.l.wants[0]&^m.in.bays[b].plumbed[0]
	for bay := range m.bays {
		pad.on[bay] &= a.live
	}
	id := s.pads.id(&pad)
	if id < 0 {
		a.lost = true
		return
	}
	taken := s.at.taken | tu.takes
	a.key = m.key(s.stops, taken, id)
	a.depth = s.at.depth - m.graphs[i].stops[s.at.stops[i]].depth + m.graphs[i].stops[tu.to].depth
	s.lookOut(a, &pad, taken)
}

// lookOut works out what may come after an arc to the stops of its successor.
func (s *stepper) lookOut(a *arc, pad *padState, taken uint32) {
	a.allDone, a.from = taken == s.m.anyAll, len(s.callers)
	for i, n := range s.stops {
		stop := &s.m.graphs[i].stops[n]
		a.fixed += stop.fixed
		a.allDone = a.allDone && stop.done
		if len(stop.turns) > 0 {
			a.again |= 1 << i
			s.listCallers(i, stop, pad)
		}
	}
	a.fixed += s.m.untaken(s.stops, taken)
	a.to = len(s.callers)
}

// listCallers lists a sprayer's loads that may come next by what they ask of its tank.
func (s *stepper) listCallers(i int, stop *stop, pad *padState) {
	first := len(s.callers)
	for k := range stop.asks {
		a := &stop.asks[k]
		n := first
		for n < len(s.callers) && (s.callers[n].clean != a.clean || s.callers[n].cleanFrom != a.cleanFrom) {
			n++
		}
		if n == len(s.callers) {
			c := caller{sprayer: i, mayWait: !stop.done, clean: a.clean, cleanFrom: a.cleanFrom}
			for b := range c.next {
				c.next[b], c.nextMost[b], c.least[b] = noSetUp, -noSetUp, noSetUp
			}
			s.callers = append(s.callers, c)
		}
		s.callers[n].add(s, a, pad)
	}
}

// add adds an ask to those of a caller.
func (c *caller) add(s *stepper, a *ask, pad *padState) {
	for b := range s.m.bays {
		if s.m.fills[b][a.mix] {
			next := s.nextSetUp(a, pad, b)
			c.next[b] = min(c.next[b], next)
			c.nextMost[b] = max(c.nextMost[b], next+int32(s.m.in.change)*int32(a.totes)) // each may have run dry
			c.least[b] = min(c.least[b], s.leastSetUp(a, pad, b))
		}
	}
}

// plainToGo is padModel.plainToGo for the successor along an arc, and what it costs that
// jobs for any sprayer are still to be done.
func (s *stepper) plainToGo(a *arc, times []int32) model.Money {
	sum := a.fixed
	for again := a.again; again != 0; again &= again - 1 {
		i := bits.TrailingZeros64(again)
		sum += s.m.graphs[i].wait.For(model.Seconds(times[s.m.readyAt+i]))
	}
	return sum
}
