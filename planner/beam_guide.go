package planner

import (
	"cmp"
	"slices"

	"padturn/model"
)

// arrivalAt is a sprayer that comes to the pad for its next load.
type arrivalAt struct {
	ready model.Clock
	wait  model.HourlyRate
	fill  model.Clock
}

// guide says how promising the evaluator's state is: the cost so far, what the
// sprayers that come next will wait if they are served as they come, and the
// worth of the bays' time that is gone. It also says whether work is left.
func (b *beam) guide(n *node, sprayer int, run Run) (float64, bool) {
	e := b.e
	open := b.isOpen(n, run)
	price := float64(e.money) + undonePrice*e.left.Float()*float64(model.Dollar)
	if !open {
		return price, false
	}
	b.free = b.free[:0]
	for i := range e.bays {
		b.free = append(b.free, e.bays[i].free)
		price += b.bayPrice * float64(e.bays[i].free-e.in.opens)
	}
	b.coming = b.coming[:0]
	for i := range e.sprayers {
		s := &e.sprayers[i]
		wait := e.in.p.Sprayers[i].Wait
		switch {
		case s.k < len(s.chain):
			b.coming = append(b.coming, arrivalAt{s.base, wait, model.Clock(s.chain[s.k].Fill[0])})
		case n.named[i] > 0 && len(s.chain) > 0:
			b.coming = append(b.coming, arrivalAt{s.base, wait, model.Clock(s.chain[len(s.chain)-1].Fill[0])})
		}
	}
	price += b.overrun(n, sprayer, run)
	slices.SortFunc(b.coming, func(x, y arrivalAt) int { return cmp.Compare(x.ready, y.ready) })
	for _, a := range b.coming {
		first := 0
		for i := range b.free {
			if b.free[i] < b.free[first] {
				first = i
			}
		}
		start := max(b.free[first], a.ready)
		price += float64(a.wait.For(model.Seconds(start - a.ready)))
		b.free[first] = start + a.fill
	}
	return price, true
}

// overrun prices the work that will not fit if every sprayer just goes on with
// what names it: each second past the end of its day as acres left undone.
func (b *beam) overrun(n *node, sprayer int, run Run) float64 {
	var over, begun model.Clock
	for _, j := range run {
		begun += b.jobWork[j]
	}
	for i := range b.e.sprayers {
		s := &b.e.sprayers[i]
		end := s.base + n.work[i]
		if i == sprayer {
			end -= begun
		}
		if s.k < len(s.chain) {
			for _, l := range s.chain[s.k:] {
				end += b.turnTime(l)
			}
		}
		over += max(end-b.dayEnd[i], 0)
	}
	const acresPerSecond = 0.015 // about 55 ac/h; published productivity of a whole day
	return float64(over) * acresPerSecond * undonePrice * float64(model.Dollar)
}

// turnTime is a turn without waiting.
func (b *beam) turnTime(l *load) model.Clock {
	return l.sprayedOut(model.Clock(l.Fill[0])+noon) + l.driveBack - noon
}

// noon is in the middle of the spraying hours.
const noon model.Clock = 12 * 3600

// isOpen says whether anything is left to fill after a step.
func (b *beam) isOpen(n *node, run Run) bool {
	if n.jobsLeft > len(run) {
		return true
	}
	for i := range b.e.sprayers {
		if s := &b.e.sprayers[i]; s.k < len(s.chain) {
			return true
		}
	}
	return false
}

// lookAhead tells the evaluator how far off each metered product is wanted
// from a node on: in the run a sprayer is at, or in a job not begun.
func (b *beam) lookAhead(n *node) {
	const far = 1 << 20
	for i := range b.undone {
		b.undone[i] = far
	}
	for i := range n.state.sprayers {
		s := &n.state.sprayers[i]
		for ahead, l := range s.chain[s.k:] {
			for _, d := range l.metered {
				b.undone[d.n] = min(b.undone[d.n], ahead)
			}
		}
	}
	for j, taken := range n.taken {
		if taken {
			continue
		}
		for _, g := range b.e.in.p.Mixes[b.e.in.p.Jobs[j].Mix].Recipe {
			if m := b.e.in.meteredOf[g.Product]; m != model.None {
				b.undone[m] = min(b.undone[m], far/2)
			}
		}
	}
	b.e.ahead = func(metered int) int { return b.undone[metered] }
}
