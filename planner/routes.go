package planner

import (
	"context"
	"math"
	"sync"
)

const (
	// routeShare is which share of a search's steps goes into routes.
	routeShare = 0.4
	// routeStep is how many other steps one of them takes the time of: the loads are
	// laid out anew.
	routeStep = 1.5
	// routePairs is how many steps a search must have for each pair of loads: with
	// fewer, as on vast days, more comes of the first plans.
	routePairs = 2
)

// Temperatures of the annealing of routes: as warmest and coolest.
const (
	warmestRoutes = 1.0
	coolestRoutes = 0.2
)

// routeSteps returns how many steps out of so many the walkers look for routes. Where
// not all can be sprayed they do not: the rule that lays loads out knows of no stock
// that runs short. After news the plans to start from often leave something that others
// need not, so that nothing can be told from them.
func (s *search) routeSteps(w *walker, steps int64) int64 {
	loads := int64(len(s.start[0].Sequence))
	if s.in.told == nil && s.isTight() || len(w.routeMoves) == 0 || steps < routePairs*loads*loads {
		return 0
	}
	return int64(routeShare * float64(steps))
}

// findRoutes lets each walker look for routes from one of the leads, or walk, and
// returns what they found.
func (s *search) findRoutes(ctx context.Context, walkers []*walker, leads []lead, steps int64) []lead {
	found := make([]lead, len(walkers))
	var group sync.WaitGroup
	for i, w := range walkers {
		group.Go(func() {
			start, steps := &leads[i%len(leads)].d, share64(steps, len(walkers), i)
			if i < s.routers() {
				w.findRoutes(ctx, start, steps)
			} else {
				w.walk(ctx, start, leg{steps: steps, of: rounds})
			}
			found[i] = lead{w.e.decisions(w.best), w.bestScore}
		})
	}
	group.Wait()
	return found
}

// findRoutes changes the jobs of sprayers by annealing, with the loads of each try in
// the order that a simple rule gives them. Which sprayer does what and when decides
// most of a plan's cost; from one good way to another most ways through the loads of
// one sprayer at a time are far dearer than both.
func (w *walker) findRoutes(ctx context.Context, start *Decisions, steps int64) {
	w.begin(start)
	w.dispatcher.dispatch(w.current)
	w.settleAt(w.e.score(w.current))
	for i := range steps {
		if w.looks(ctx, i, steps) {
			return
		}
		w.heat = w.scale * warmestRoutes * math.Pow(coolestRoutes/warmestRoutes, float64(i)/float64(steps))
		w.trial.copyFrom(w.current)
		if w.routeMoves[w.rng.IntN(len(w.routeMoves))](w, w.trial) {
			w.dispatcher.dispatch(w.trial)
			w.judge()
		}
	}
}
