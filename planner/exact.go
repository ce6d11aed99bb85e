package planner

import (
	"context"

	"padturn/model"
)

// prover closes in on the best plan of a day from both sides, pass by pass: each
// keeps more labels of a state apart, or more states, so that its bound is higher, and
// finds its way by what the one before says is still to come.
type prover struct {
	m      *padModel
	before *pass
	bound  model.Money // no plan that sprays everything costs less
	below  model.Money // only plans that cost less are looked for
	stages []stage
	round  int
	done   bool  // no pass says more: the last was exact, or too large
	spent  int64 // labels looked at
	work   *work // of m
}

// guideWidth is how many labels a beam takes further in each layer, at most,
// that looks for a better plan between two passes or between rounds of walkers. A cheaper
// plan leaves the next pass far less to look at.
const guideWidth = 10_000

// fewerStates is how many times fewer states are worth passes of their own.
const fewerStates = 2

// guideShare is how many labels of a pass pay for one of the beam that follows.
const guideShare = 4

// newProver lays a day out; nil where it is too large or has what the exact
// search does not count. Bounds and proofs need a model forBounds, and are about
// the plans in its scope. below is what a known plan costs; so many goroutines look.
func newProver(shop *workshop, use padUse, sc scope, below model.Money, goroutines int) *prover {
	m := newPadModel(shop, use, sc)
	if m == nil {
		return nil
	}
	if use == forBounds && sc.inOrder {
		if c := m.coarsen(); c != nil && c.m.mostStates()*fewerStates <= m.mostStates() {
			m.coarser = c
		}
	}
	return proverOf(m, below, goroutines)
}

// proverOf is newProver for a model.
func proverOf(m *padModel, below model.Money, goroutines int) *prover {
	w := newWork(m, goroutines)
	return &prover{m: m, below: below, stages: stagesOf(m, w), work: w}
}

// pass takes the next pass with so many labels at most, and returns the steps of
// a plan that the model holds for cheaper than any before, or nil.
func (p *prover) pass(ctx context.Context, budget int64) []step {
	now := newPass(ctx, p, &p.stages[p.round], budget)
	now.last = p.round == len(p.stages)-1
	whole := now.forward()
	p.spent += now.spent
	p.bound = max(p.bound, min(now.boundEnd, p.below)-p.m.unpaid)
	if !whole {
		p.done = true
		return nil
	}
	var found []step
	if now.best < p.below && now.m == p.m {
		found = now.way(now.bestEnd)
	}
	for before := &p.stages[p.round]; ; {
		if p.round++; now.merged || p.round == len(p.stages) || p.stages[p.round].saysMore(before) {
			break
		}
	}
	if p.round == len(p.stages) || p.bound >= p.below {
		p.done = true
		return found
	}
	now.backward()
	p.done = now.out
	p.before = now
	if found == nil && !p.done && p.stages[p.round].fine.merges() {
		found = p.guided(ctx, min(budget-now.spent, now.spent/guideShare))
		p.done = p.m.pads.full
	}
	return found
}

// guided looks for a better plan with a beam that knows from the last pass, if
// there was one, what is still to come.
func (p *prover) guided(ctx context.Context, budget int64) []step {
	beam := newPass(ctx, p, &stage{p.m, fineness{asPlanned: len(p.m.holdEnds) > 0}, p.work}, budget)
	beam.last, beam.beam = true, int(min(guideWidth, budget/int64(len(beam.layers))))
	if beam.beam == 0 {
		return nil
	}
	beam.forward()
	p.spent += beam.spent
	if beam.best >= p.below {
		return nil
	}
	return beam.way(beam.bestEnd)
}

// lower tells the prover of a cheaper plan.
func (p *prover) lower(cost model.Money) { p.below = min(p.below, cost) }

// decisions turns steps into decisions.
func (p *prover) decisions(steps []step) Decisions {
	m := p.m
	d := Decisions{Routes: make([][]Run, len(m.graphs))}
	at := make([]int32, len(m.graphs))
	for _, s := range steps {
		t := &m.graphs[s.sprayer].stops[at[s.sprayer]].turns[s.turn]
		if t.run != nil {
			d.Routes[s.sprayer] = append(d.Routes[s.sprayer], t.run)
		}
		at[s.sprayer] = t.to
		d.Sequence = append(d.Sequence, Slot{int(s.sprayer), int(s.bay)})
		d.Off = append(d.Off, m.in.offList(s.off))
	}
	return d
}
