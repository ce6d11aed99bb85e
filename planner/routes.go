package planner

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sync"

	"padturn/model"
)

// routeShare is which share of a search's steps goes into routes.
const routeShare = 0.5

// Temperatures of the annealing of routes: as warmest and coolest.
const (
	warmestRoutes = 3.0
	coolestRoutes = 0.2
)

// tracksIn is along how many tracks a walker looks for routes in each part of the
// cooling, the parts taking equally many steps. One long look often ends far from the
// best, and where it will end shows early.
var tracksIn = [...]int{4, 3, 2, 2, 1, 1}

// track is a way through routes that goes on or is given up.
type track struct {
	at     *candidate
	priced float64
	left   model.Decimal
	rough  float64 // what the dispatcher holds it to cost, in dollars
}

// routeSteps returns how many steps out of so many the walkers look for routes. Where
// not all can be sprayed they do not: the rule that lays loads out does not know what
// had best be left. After news the plans to start from often leave something that others
// need not, so that nothing can be told from them.
func (s *search) routeSteps(w *walker, steps int64) int64 {
	if !s.in.isRest() && s.isTight() || len(w.routeMoves) == 0 {
		return 0
	}
	return int64(routeShare * float64(steps))
}

// findRoutes lets walkers look for routes from the leads, and returns what they found.
// In the rest of a day they walk from the leads instead: few jobs go well together in few
// ways, so that all that look for routes find much the same ones, and what is best by a
// simple rule need not be best.
func (s *search) findRoutes(ctx context.Context, walkers []*walker, leads []lead, steps int64) []lead {
	found := make([]lead, len(walkers))
	var group sync.WaitGroup
	for i, w := range walkers {
		group.Go(func() {
			if steps := share64(steps, len(walkers), i); !s.in.isRest() {
				w.findRoutes(ctx, leads, steps)
			} else {
				w.walk(ctx, &leads[i%len(leads)].d, leg{steps: steps, of: rounds})
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
// one sprayer at a time are far dearer than both. It begins along several tracks and
// goes on along the best of them.
func (w *walker) findRoutes(ctx context.Context, leads []lead, steps int64) {
	tracks := make([]track, tracksIn[0])
	for i := range tracks {
		w.begin(&leads[i%len(leads)].d)
		rough := w.dispatcher.dispatch(w.current).Dollars()
		w.settleAt(w.e.score(w.current))
		w.rough = rough
		tracks[i].at = w.e.emptyCandidate()
		w.leave(&tracks[i])
	}
	for part, n := range tracksIn {
		slices.SortStableFunc(tracks, func(x, y track) int { return cmp.Compare(x.priced, y.priced) })
		tracks = tracks[:n]
		for i := range tracks {
			l := leg{steps: share64(steps, n*len(tracksIn), part*n+i), from: part, of: len(tracksIn)}
			w.follow(ctx, &tracks[i], l)
		}
	}
}

// follow goes on along a track.
func (w *walker) follow(ctx context.Context, t *track, l leg) {
	w.current.copyFrom(t.at)
	w.priced, w.left, w.rough = t.priced, t.left, t.rough
	for i := range l.steps {
		if w.looks(ctx, i, l.steps) {
			return
		}
		w.heat = w.scale * l.cooled(i, warmestRoutes, coolestRoutes)
		w.tryRoutes()
	}
	w.leave(t)
}

// tryRoutes changes the jobs of sprayers a little, lays their loads out anew, and keeps
// the change or not.
func (w *walker) tryRoutes() {
	w.trial.copyFrom(w.current)
	if w.routeMoves[w.rng.IntN(len(w.routeMoves))](w, w.trial) {
		w.judgeDispatched(w.dispatcher.dispatch(w.trial).Dollars())
	}
}

// judgeDispatched keeps the trial, which a dispatcher holds to cost so many dollars, or not. It
// draws first how dear a candidate may be, and evaluates none that will be dearer by what
// the dispatcher says: more than for the current one, where it knows that, and more than
// it usually misses.
func (w *walker) judgeDispatched(rough float64) {
	limit := w.priced - w.heat*math.Log(1-w.rng.Float64())
	said := rough + w.missed - w.priced
	if w.rough != notDispatched {
		said = min(said, rough-w.rough)
	}
	if w.priced+w.guess.least(said, dispatchErrors) > limit {
		return
	}
	s, kept := w.weigh(said, limit)
	if s.left == 0 {
		w.missed += (price(s) - rough - w.missed) / missedOver
	}
	if kept {
		w.rough = rough
	}
}

// notDispatched stands for what a dispatcher holds a candidate to cost that it did not
// lay out: no cost is negative.
const notDispatched = -1

// dispatchErrors is by how many usual errors a candidate must be too dear not to be
// evaluated. A plan that a dispatcher holds for far too cheap would else never be left.
const dispatchErrors = 2

// missedOver is over how many evaluations what a dispatcher misses is averaged.
const missedOver = 200

// leave notes how far a track was followed.
func (w *walker) leave(t *track) {
	t.at.copyFrom(w.current)
	t.priced, t.left, t.rough = w.priced, w.left, w.rough
}
