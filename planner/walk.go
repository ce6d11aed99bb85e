package planner

import (
	"context"
	"math"
	"math/rand/v2"

	"padturn/model"
)

// leg is one walker's share of a search: its steps, and which part of the
// cooling they are.
type leg struct {
	steps    int64
	from, of int
}

// walker searches by simulated annealing: it changes its candidate a little,
// keeps what is better and, the warmer it is, now and then what is worse. From
// time to time it is kicked: see walker.kick.
type walker struct {
	e            *evaluator
	rng          *rand.Rand
	best         *candidate
	bestScore    score
	current      *candidate
	priced       float64       // of current
	left         model.Decimal // of current
	rough        float64       // what the dispatcher holds current to cost, or notDispatched
	missed       float64       // by how much candidates cost more than it says, on average
	times        []times       // of current, by slot
	trial        *candidate
	home         *candidate // where a kick that failed goes back to
	homePriced   float64
	scale        float64 // dollars that heat is a share of
	heat         float64 // temperature in dollars
	moves        []move
	kicks        []move // moves of jobs, if there are any
	routeMoves   []move // of jobs, for findRoutes
	redispatches bool   // some steps lay loads out anew
	dispatcher   dispatcher
	stopped      bool
	block        []slot // workspace of exchange
	before       []slot // workspace of redispatch
	were         []int  // workspaces of orderOn
	moved        []int
	kin          *kin // sifts candidates where the order of loads is all there is; else nil
	guess        guess
	pace         pace
	tracker      *tracker
}

// warmest is the temperature of the annealing at the beginning, as a share of what a load
// of the first plan costs: a move changes a few loads, however many a day has. It and
// paces were measured on the example days and generated ones.
const warmest = 0.6

// pace is how a walker goes on.
type pace struct {
	coolest float64 // as warmest, at the end
	kick    int64   // how many steps a kick has to prove itself
}

// Paces of walkers: of a day, and of the rest of one.
var (
	paceOfDay  = pace{coolest: 0.02, kick: 600}
	paceOfRest = pace{coolest: 0.01, kick: 2000}
)

// pace returns how walkers go on in a day.
func (in *instance) pace() pace {
	if in.isRest() {
		return paceOfRest
	}
	return paceOfDay
}

// fewLoads is up to how many loads a search begins at its warmest. With more of them
// there are fewer steps for each, too few to mend what warm ones make worse.
const fewLoads = 80

func newWalker(in *instance, rng *rand.Rand, moves moveSet, t *tracker) *walker {
	e := newEvaluator(in)
	return &walker{e: e, rng: rng, best: e.emptyCandidate(), bestScore: worst,
		current: e.emptyCandidate(), trial: e.emptyCandidate(), home: e.emptyCandidate(), moves: moves.small, kicks: moves.jobs,
		routeMoves: moves.routes, redispatches: moves.redispatches, dispatcher: dispatcher{e: e}, kin: moves.kin, pace: in.pace(), tracker: t}
}

// walk takes one leg from a start.
func (w *walker) walk(ctx context.Context, start *Decisions, l leg) {
	w.begin(start)
	w.goHome()
	first := w.firstHeat()
	for i := range l.steps {
		if w.looks(ctx, i, l.steps) {
			return
		}
		w.heat = w.scale * l.cooled(i, first, w.pace.coolest)
		switch {
		case i%w.pace.kick == w.pace.kick-1 && len(w.kicks) > 0:
			w.kick()
		case w.kin != nil:
			w.tryKin()
		case w.redispatches && w.left == 0 && w.rng.Float64() < redispatchShare:
			w.tryRedispatch()
		default:
			w.try()
		}
	}
}

// firstHeat is the share of the scale that a search begins with.
func (w *walker) firstHeat() float64 {
	if w.kin != nil {
		return warmest // many candidates are sifted in a step
	}
	return math.Max(w.pace.coolest, warmest*math.Min(1, fewLoads/float64(max(len(w.current.sequence), 1))))
}

// begin makes a start the current candidate.
func (w *walker) begin(start *Decisions) {
	w.current.copyFrom(w.e.candidateOf(start))
	w.current.takeOff = TakeOffFurthest
	w.current.leaveWholeJobs()
	w.settleAt(w.e.score(w.current))
	w.scale = math.Max(w.bestScore.cost.Dollars(), 1) / float64(max(len(w.current.sequence), 1))
}

// looks tells from time to time, before step i of so many, how far the walker is, and
// says whether it should stop.
func (w *walker) looks(ctx context.Context, i, steps int64) bool {
	if i%stepsBetweenLooks == 0 {
		w.tracker.tell(min(stepsBetweenLooks, steps-i), w.bestScore)
		w.stopped = ctx.Err() != nil
	}
	return w.stopped
}

// try changes the candidate a little and keeps the change, or not.
func (w *walker) try() {
	w.trial.copyFrom(w.current)
	if !w.moves[w.rng.IntN(len(w.moves))](w, w.trial) {
		return
	}
	w.e.fixBays(w.trial)
	w.judge()
}

// judge keeps the trial, or not.
func (w *walker) judge() {
	s := w.e.scoreUnder(w.trial, w.priced+hopelessHeats*w.heat)
	if w.accepts(price(s), w.priced) {
		w.current, w.trial = w.trial, w.current
		w.settleAt(s)
	}
}

// hopelessHeats is how much dearer, in temperatures, no chance takes a candidate.
const hopelessHeats = 40

// kick looks what became of the last one: if that is not accepted, the walker
// goes back to where it was. Then it changes the jobs of sprayers, whatever
// that costs: only the steps after it can tell whether their loads find better
// places.
func (w *walker) kick() {
	if w.accepts(w.priced, w.homePriced) {
		w.goHome()
	} else {
		w.current.copyFrom(w.home)
	}
	for range 1 + w.rng.IntN(2) {
		w.kicks[w.rng.IntN(len(w.kicks))](w, w.current)
	}
	w.e.fixBays(w.current)
	w.settleAt(w.e.score(w.current))
}

// accepts says whether a price is taken in exchange for another.
func (w *walker) accepts(price, before float64) bool {
	return price <= before || w.rng.Float64() < math.Exp((before-price)/w.heat)
}

// settleAt notes what the current candidate, which was evaluated last, comes to.
func (w *walker) settleAt(s score) {
	w.noteTimes()
	w.priced, w.left, w.rough = price(s), s.left, notDispatched
	if s.less(w.bestScore) {
		w.bestScore = s
		w.best.copyFrom(w.current)
	}
}

// noteTimes notes the times of the candidate that was evaluated last.
func (w *walker) noteTimes() { w.times = append(w.times[:0], w.e.times...) }

// goHome makes the current candidate the one that a failed kick goes back to.
func (w *walker) goHome() {
	w.home.copyFrom(w.current)
	w.homePriced = w.priced
}

// stepsBetweenLooks is how many steps a walker takes before it looks whether it
// should stop, and tells how far it is.
const stepsBetweenLooks = 512

// cooled returns the temperature at step i of a leg where the cooling goes from one to
// another.
func (l *leg) cooled(i int64, first, last float64) float64 {
	done := (float64(l.from) + float64(i)/float64(l.steps)) / float64(l.of)
	return first * math.Pow(last/first, done)
}

// undonePrice is what an acre (of priority 1) left undone weighs against
// dollars while searching. Plans are compared by what is left undone first; a
// finite price lets the search pass through worse ones.
const undonePrice = 50

// price is what a walker compares.
func price(s score) float64 {
	return s.cost.Dollars() + undonePrice*s.left.Float()
}
