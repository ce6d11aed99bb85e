package planner

import (
	"context"
	"fmt"
	"math/rand/v2"
	"sync"

	"padturn/model"
)

// Plan searches for the best plan of a day: least left undone, then least
// cost. When ctx ends before the steps do, it returns the best plan so far
// with the status interrupted. It fails only on a problem that it cannot lay
// out.
func Plan(ctx context.Context, p *model.Problem, s Settings) (*model.Result, error) {
	in := newInstance(p)
	if len(in.products) > maxMetered {
		return nil, fmt.Errorf("the jobs need %d metered products; at most %d can be planned", len(in.products), maxMetered)
	}
	e := newEvaluator(in)
	first := e.firstCome()
	search := &search{in: in, settings: s, start: e.decisions(first)}
	result := &model.Result{Baseline: e.settle(first), Seed: s.Seed, Steps: s.Steps}
	best, whole := search.run(ctx)
	result.Plan = e.settle(e.candidateOf(&best))
	result.Bound = in.lowerBound()
	result.Status = status(result, whole)
	return result, nil
}

func status(r *model.Result, whole bool) model.Status {
	switch {
	case r.Plan.Left == 0 && r.Plan.Cost.Total() <= r.Bound:
		return model.StatusProved
	case !whole:
		return model.StatusInterrupted
	}
	return model.StatusBounded
}

// Evaluate works out what decisions come to, as a plan. Its error says what
// makes the decisions unfit for the problem.
func Evaluate(p *model.Problem, d Decisions) (*model.Plan, error) {
	if err := d.check(p); err != nil {
		return nil, err
	}
	e := newEvaluator(newInstance(p))
	return e.settle(e.candidateOf(&d)), nil
}

// searchers is how many searches run side by side, whatever the number of
// cores: each goes its own way from its own seed.
const searchers = 4

// rounds is how often the searchers meet and go on from the best of them.
const rounds = 4

// search runs the searchers.
type search struct {
	in       *instance
	settings Settings
	start    Decisions
}

// run returns the best decisions found, and whether all steps were taken.
func (s *search) run(ctx context.Context) (Decisions, bool) {
	best, bestScore := s.start, worst
	walkers := make([]*walker, searchers)
	for i := range walkers {
		walkers[i] = newWalker(s.in, rand.New(rand.NewPCG(s.settings.Seed, uint64(i))))
	}
	whole := true
	for round := range rounds {
		var group sync.WaitGroup
		for i, w := range walkers {
			group.Go(func() {
				leg := leg{steps: share64(s.settings.Steps, searchers*rounds, round*searchers+i), from: round, of: rounds}
				w.walk(ctx, &best, leg)
			})
		}
		group.Wait()
		for _, w := range walkers {
			whole = whole && !w.stopped
			if w.bestScore.less(bestScore) {
				bestScore, best = w.bestScore, w.e.decisions(w.best)
			}
		}
		s.report(round, bestScore)
	}
	return best, whole
}

func (s *search) report(round int, best score) {
	if s.settings.Progress != nil {
		s.settings.Progress(Progress{
			Steps: s.settings.Steps * int64(round+1) / rounds, Of: s.settings.Steps,
			Left: best.left.Float(), Dollars: best.cost.Dollars(),
		})
	}
}

// share64 returns the i-th of n nearly equal shares of a total.
func share64(total int64, n, i int) int64 {
	return total*int64(i+1)/int64(n) - total*int64(i)/int64(n)
}
