package planner

import (
	"context"
	"runtime"

	"padturn/model"
)

// layOutPrices lays the day out for a bound by prices.
func (s *search) layOutPrices() {
	if s.in.p.Underway != nil {
		return
	}
	if graphs := boundGraphs(s.shop, s.whole()); graphs != nil {
		if p := newPricing(s.in, graphs, s.priceCells()); p != nil {
			s.prices = newPriceSearch(p)
			s.prices.byKinds = s.settings.Prove
		}
	}
}

// priceCells is through how many slots of turns it may take to evaluate prices.
func (s *search) priceCells() int {
	if s.settings.Prove {
		return mostCells
	}
	return int(min(max(s.settings.Steps*slotsPerStep, fewestCells), mostCells))
}

// unavoidable returns what no plan that sprays everything can do without, whatever
// the order of loads on the bays: where it is known in which order sprayers may do
// their jobs, what each pays if the pad is its own, and what the pad pays if no
// sprayer ever waits.
func (s *search) unavoidable() model.Money {
	least := s.in.lowerBound()
	if s.prices != nil {
		least = max(least, s.prices.p.bound+s.in.changeoverBound()+s.in.overtimeBound())
	}
	return least
}

// closeIn proves how far from the best a plan can be, and improves it where that
// finds a better one. It says whether it was not stopped.
func (s *search) closeIn(ctx context.Context, r *model.Result) bool {
	budget := s.labels(proofShare)
	if s.in.p.Underway != nil {
		budget /= restProof
	}
	if s.settings.Prove {
		budget = 1 << 40
	}
	if budget == 0 {
		return true
	}
	p := newProver(s.shop, forBounds, s.whole(), r.Plan.Cost.Total(), runtime.GOMAXPROCS(0))
	steps := s.priceSteps(p)
	s.tracker.quiet = true
	s.tracker.tellBound(r)
	s.tracker.quiet = steps < s.settings.Steps // on purpose this bound is lower than a plan gets without a proof
	more := s.raise(ctx, r, steps)
	s.tracker.quiet = false
	e := newEvaluator(s.in)
	for p != nil && !p.done && p.spent < budget {
		// A bound leaves out what was told, so that what it finds cheap may not be better.
		if steps := p.pass(ctx, budget-p.spent); steps != nil && s.in.told == nil {
			d := p.decisions(steps)
			r.Plan = better(e.settle(e.candidateOf(&d)), r.Plan)
			p.lower(r.Plan.Cost.Total())
		}
		r.Bound = max(r.Bound, p.bound)
		s.tracker.tellBound(r)
	}
	for more && s.settings.Prove && s.pricesMayPass(r) {
		more = s.raise(ctx, r, NormalSteps)
	}
	return ctx.Err() == nil
}

// pricesMayPass says whether better prices may come to a higher bound than there is. Far
// below that of passes they hardly ever do, and take long until there are no better ones.
func (s *search) pricesMayPass(r *model.Result) bool {
	return s.prices.p.bound.Dollars() >= closePrices*r.Bound.Dollars()
}

// closePrices is which share of a bound those of prices come to at least that may pass it.
const closePrices = 0.8

// raise looks for prices with a higher bound, for as long as so many steps of a
// search pay for. It says whether there may be more to find.
func (s *search) raise(ctx context.Context, r *model.Result, steps int64) bool {
	if s.prices == nil || r.Bound >= r.Plan.Cost.Total() {
		return false
	}
	more := s.prices.improve(ctx, r.Plan.Cost.Total(), steps*cellsPerStep/s.prices.p.cells())
	r.Bound = max(r.Bound, s.prices.p.bound)
	s.tracker.tellBound(r)
	return more
}

// cellsPerStep is for how many slots of turns a step of a search pays when prices
// are looked for.
const cellsPerStep = 300

// priceSteps is how many steps pay for prices before a proof. On one bay, where its passes
// have few enough states to come far, they say more in the same time; on several bays most
// are stopped before they do.
func (s *search) priceSteps(p *prover) int64 {
	switch steps := s.settings.Steps; {
	case !s.settings.Prove || p == nil:
		return steps
	case !p.m.oneBay:
		return steps * morePrices
	case p.stages[0].m.mostStates() > manyStates:
		return steps
	default:
		return steps / fewerPrices
	}
}

// With manyStates a first pass takes a minute and more.
const (
	manyStates  = 10_000_000
	fewerPrices = 10
	morePrices  = 8
)

// mostStates is how many states a day could have, were what is on the pad all the
// same: the product of its sprayers' stops.
func (m *padModel) mostStates() float64 {
	n := 1.0
	for i := range m.graphs {
		n *= float64(len(m.graphs[i].stops))
	}
	return n
}

// proofShare is how many steps of a search pay for one label of its proof.
const proofShare = 2

// restProof is how many times fewer labels are looked at for a bound of the rest of a
// day: somebody waits for the plan.
const restProof = 6
