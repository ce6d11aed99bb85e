package planner

import (
	"context"
	"math"
	"math/rand/v2"
)

// leg is one walker's share of a search: its steps, and which part of the
// cooling they are.
type leg struct {
	steps    int64
	from, of int
}

// walker searches by simulated annealing: it changes its candidate a little,
// keeps what is better and, the warmer it is, now and then what is worse.
type walker struct {
	e         *evaluator
	rng       *rand.Rand
	best      *candidate
	bestScore score
	current   *candidate
	trial     *candidate
	moves     []move
	stopped   bool
	tracker   *tracker
}

// Temperatures of the annealing as shares of the first plan's cost, at the
// beginning and at the end. Measured on the example days and generated ones.
const (
	warmest = 0.05
	coolest = 0.001
)

func newWalker(in *instance, rng *rand.Rand, moves []move, t *tracker) *walker {
	e := newEvaluator(in)
	return &walker{e: e, rng: rng, best: e.emptyCandidate(), bestScore: worst,
		current: e.emptyCandidate(), trial: e.emptyCandidate(), moves: moves, tracker: t}
}

// walk takes one leg from a start.
func (w *walker) walk(ctx context.Context, start *Decisions, l leg) {
	w.current.copyFrom(w.e.candidateOf(start))
	w.current.takeOff = TakeOffFurthest
	w.current.leaveWholeJobs()
	now := w.e.evaluate(w.current)
	w.keepBest(w.current, now)
	priced := w.price(now)
	base := math.Max(now.cost.Dollars(), 1)
	for i := range l.steps {
		if i%stepsBetweenLooks == 0 {
			w.tracker.tell(min(stepsBetweenLooks, l.steps-i), w.bestScore)
			if ctx.Err() != nil {
				w.stopped = true
				return
			}
		}
		w.trial.copyFrom(w.current)
		if !w.moves[w.rng.IntN(len(w.moves))](w, w.trial) {
			continue
		}
		s := w.e.evaluate(w.trial)
		p := w.price(s)
		if p <= priced || w.rng.Float64() < math.Exp((priced-p)/(base*l.heat(i))) {
			w.current, w.trial = w.trial, w.current
			priced = p
			w.keepBest(w.current, s)
		}
	}
}

// stepsBetweenLooks is how many steps a walker takes before it looks whether it
// should stop, and tells how far it is.
const stepsBetweenLooks = 512

// heat returns the temperature at step i of a leg.
func (l *leg) heat(i int64) float64 {
	done := (float64(l.from) + float64(i)/float64(l.steps)) / float64(l.of)
	return warmest * math.Pow(coolest/warmest, done)
}

func (w *walker) keepBest(c *candidate, s score) {
	if s.less(w.bestScore) {
		w.bestScore = s
		w.best.copyFrom(c)
	}
}

// undonePrice is what an acre (of priority 1) left undone weighs against
// dollars while searching. Plans are compared by what is left undone first; a
// finite price lets the search pass through worse ones.
const undonePrice = 200

func (w *walker) price(s score) float64 {
	return s.cost.Dollars() + undonePrice*s.left.Float()
}
