package planner

import (
	"context"
	"fmt"
	"math/rand/v2"
	"runtime"
	"slices"
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
	told := in.told
	if s.FromScratch {
		in.told = nil
	}
	e := newEvaluator(in)
	first := e.firstCome()
	search := &search{in: in, shop: e.shop, settings: s, start: []Decisions{e.decisions(first)}, looked: map[string]bool{}}
	result := &model.Result{Baseline: e.settle(first), Seed: s.Seed, Steps: s.Steps, KeepOrder: s.KeepOrder}
	whole := true
	if in.told != nil {
		result.Plan, whole = search.goOn(ctx, e)
	} else {
		var best Decisions
		best, whole = search.run(ctx)
		best = e.drawEarly(best)
		result.Plan = better(e.settle(e.candidateOf(&best)), result.Baseline)
	}
	if told != nil {
		_, _, result.Plan.Disturbance = told.match(result.Plan.Loads, len(in.bays))
	}
	if len(result.Plan.Unsprayed) == 0 { // bounds hold for plans that spray everything
		search.layOutPrices()
		result.Unavoidable = search.unavoidable()
		result.Bound = result.Unavoidable
		whole = search.closeIn(ctx, result) && whole
	}
	result.Status = status(result, whole)
	return result, nil
}

// better returns the second plan only where it is better: the search starts
// from first come, first served with another rule for what comes off, and need
// not find back to it.
func better(plan, other *model.Plan) *model.Plan {
	if (score{other.Left, other.Cost.Total()}).less(score{plan.Left, plan.Cost.Total()}) {
		return other
	}
	return plan
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
	shop     *workshop
	settings Settings
	start    []Decisions     // what to start from
	known    bool            // the exact search knows the day
	ordered  bool            // it knows the day once its routes are given
	looked   map[string]bool // routes among whose plans a beam has looked; "": among all
	prices   *priceSearch    // nil where the day is too large for it
	unpriced *instance       // as in, where moving what was told weighs nothing; nil where nobody was told
	tracker  tracker
}

// whole is the scope of all plans that are looked for. Of a day that is searched for
// few steps, and not to be proved, only so many turns are listed.
func (s *search) whole() scope {
	sc := scope{inOrder: s.settings.KeepOrder}
	if !s.settings.Prove {
		sc.turns = int(min(max(s.settings.Steps/stepsPerTurn, 1), mostTurns))
	}
	return sc
}

// stepsPerTurn is how many steps of a search pay for a turn of a sprayer.
const stepsPerTurn = 4

// beamPlans is how the first plans are built. Where the sprayer that is back first
// is served first, only what it does next and where is chosen; that takes so few
// tries that many plans can be kept, and goes well on days of any size. Where any
// sprayer may be next, small days find what is better.
var beamPlans = []beamPlan{
	{bayPrice: 0.15, comers: 1}, {bayPrice: 0.4, comers: 1}, {bayPrice: 0, comers: 1},
	{bayPrice: 2, comers: anySprayer}, {bayPrice: 4, comers: anySprayer}, {bayPrice: 4, comers: anySprayer, fileOrder: true},
}

// anySprayer leaves it open whose load comes next.
const anySprayer = 1 << 30

// labelShare is the share of the steps that pays for beams of labels, where the exact
// search knows the day once its routes are given.
const labelShare = 4

// beamShare is the share of the steps that the first plans may take.
const beamShare = 8

// run returns the best decisions found, and whether all steps were taken.
func (s *search) run(ctx context.Context) (Decisions, bool) {
	steps := s.settings.Steps
	if steps == 0 || len(s.in.p.Jobs) == 0 {
		return s.start[0], true
	}
	first := s.start[0] // what was told, where a crew was
	s.build(ctx)
	steps -= steps / beamShare
	if s.in.isRest() {
		steps = int64(restSteps * float64(steps))
	} else if s.learnOrder(); s.knownInOrder() && !s.isTight() {
		steps -= int64(inOrderShare * s.beamUse() * float64(steps))
	} else if s.ordered {
		steps -= steps / labelShare
	}
	whole := true
	leads := make([]lead, 0, len(s.start))
	for _, d := range s.start {
		leads = append(leads, lead{d: d})
	}
	walkers := s.walkers(s.inRound(0))
	routeSteps := s.routeSteps(walkers[0], steps)
	steps -= routeSteps
	s.tracker = tracker{watch: s.settings.Progress, of: routeSteps + steps, best: worst}
	if routeSteps > 0 {
		leads = s.findRoutes(ctx, walkers, leads, routeSteps)
	}
	for round := range rounds {
		if in := s.inRound(round); walkers[0].e.in != in {
			for _, w := range walkers {
				w.goOnIn(in)
			}
			leads = append(leads, lead{d: first})
		}
		var group sync.WaitGroup
		for i, w := range walkers {
			start := leads[i%len(leads)].d
			group.Go(func() {
				w.walk(ctx, &start, leg{steps: share64(steps, searchers*rounds, round*searchers+i), from: round, of: rounds})
			})
		}
		group.Wait()
		for _, w := range walkers {
			whole = whole && !w.stopped
		}
		leads = s.meet(ctx, walkers, round)
		leads = leads[:min(len(leads), s.leadsAfter(round))]
	}
	return leads[0].d, whole
}

// learnOrder notes how much of the day the exact search knows.
func (s *search) learnOrder() {
	s.known = newPadModel(s.shop, forPlans, s.whole()) != nil
	s.ordered = s.known || newPadModel(s.shop, forPlans, scope{routes: s.start[0].Routes, fixed: true}) != nil
}

// knownInOrder says whether the exact search knows the day and its jobs keep their order.
// Beams find most there.
func (s *search) knownInOrder() bool { return s.known && s.settings.KeepOrder }

// lead is decisions that walkers go on from.
type lead struct {
	d Decisions
	s score
}

func compareLeads(x, y lead) int {
	switch {
	case x.s.less(y.s):
		return -1
	case y.s.less(x.s):
		return 1
	}
	return 0
}

// From how many plans the walkers go on after each round, and for how many at the most
// beams look for better ones: it takes time to tell which is the most promising.
var (
	leadsAfter = [rounds]int{searchers, 2, 1, 1}
	beamsAfter = [rounds]int{searchers, 2, 2, 2}
)

// walkers makes the walkers of a day.
func (s *search) walkers(in *instance) []*walker {
	moves := s.moves(in)
	walkers := make([]*walker, searchers)
	for i := range walkers {
		walkers[i] = newWalker(in, rand.New(rand.NewPCG(s.settings.Seed, uint64(i))), moves, &s.tracker)
	}
	return walkers
}

// moves are the moves that the walkers of a day make.
func (s *search) moves(in *instance) moveSet {
	tight := s.isTight()
	if !tight {
		if k := newKin(in, newEvaluator(in).candidateOf(&s.start[0])); k != nil {
			return kinMoves(k)
		}
	}
	return movesFor(in, tight, s.settings.KeepOrder)
}

// meet looks with beams for better decisions than those that the walkers found, and
// returns the best of both for each walker, best first. Where the exact search does not
// know the day, or something is left undone, it returns only the best of all. In the rest
// of a day no beams look: no model knows what moving a told load weighs, and walkers find
// as soon what beams find there.
func (s *search) meet(ctx context.Context, walkers []*walker, round int) []lead {
	leads := make([]lead, len(walkers))
	for i, w := range walkers {
		leads[i] = lead{w.e.decisions(w.best), w.bestScore}
	}
	slices.SortStableFunc(leads, compareLeads)
	if s.in.isRest() {
		return leads
	}
	if !s.ordered || leads[0].s.left > 0 {
		return leads[:1]
	}
	targets := s.targets(leads, round)
	var group sync.WaitGroup
	for i, t := range targets {
		group.Go(func() {
			n := int64(len(targets))
			s.reorder(ctx, walkers[i].e, t.sc, s.beamLabels(round)/n, max(runtime.GOMAXPROCS(0)/len(targets), 1), t.lead)
		})
	}
	group.Wait()
	slices.SortStableFunc(leads, compareLeads)
	return leads
}

// target is a lead, and among which plans a beam looks for a better one.
type target struct {
	lead *lead
	sc   scope
}

// targets lists what beams look for after a round: after the first of a whole day for the
// best of all plans that the exact search knows, else for the best with the routes of the
// first leads that leave nothing undone, but where one has looked before; on a day that is
// known, with the same jobs on each sprayer in whatever order and sharing.
func (s *search) targets(leads []lead, round int) []target {
	if s.known && (round == 0 || s.settings.KeepOrder) {
		if s.looked[""] {
			return nil
		}
		s.looked[""] = true
		return []target{{&leads[0], s.whole()}}
	}
	var list []target
	for i := range leads {
		if len(list) == beamsAfter[round] {
			break
		}
		key := fmt.Sprint(leads[i].d.Routes)
		if leads[i].s.left > 0 || s.looked[key] {
			continue
		}
		s.looked[key] = true
		sc := s.whole()
		sc.routes, sc.fixed = leads[i].d.Routes, !s.known
		list = append(list, target{&leads[i], sc})
	}
	return list
}

// reorder looks with a beam, on so many goroutines, for decisions that cost less than
// a lead.
func (s *search) reorder(ctx context.Context, e *evaluator, sc scope, labels int64, goroutines int, l *lead) {
	p := newProver(e.shop, forPlans, sc, l.s.cost, goroutines)
	if p == nil {
		return
	}
	steps := p.guided(ctx, labels)
	if steps == nil {
		return
	}
	d := p.decisions(steps)
	if now := e.score(e.candidateOf(&d)); now.less(l.s) {
		*l = lead{d, now}
	}
}

// beamLabels returns how many labels the beams after a round may look at together.
func (s *search) beamLabels(round int) int64 {
	labels := s.labels(stepsPerLabel)
	switch {
	case s.knownInOrder():
		labels *= inOrderBeams / int64(len(s.in.bays))
	case round == 0:
		labels *= firstBeams
	}
	return labels
}

// stepsPerLabel is how many steps of a search pay for one label of a beam between its
// rounds. Those after the first round may look at so many times as many; the one beam where
// jobs keep their order, on one bay, at more by far.
const (
	stepsPerLabel = 12
	firstBeams    = 4
	inOrderBeams  = 32
)

// inOrderShare is the share of the steps that pays for the one beam where jobs keep their
// order, if it can look at as many labels as it may.
const inOrderShare = 0.55

// beamUse is which share of the labels that a beam may look at guideWidth leaves it.
func (s *search) beamUse() float64 {
	most := guideWidth * len(s.start[0].Sequence)
	return min(1, float64(most)/float64(max(s.beamLabels(0), 1)))
}

// labels is how many labels a search may look at where so many steps pay for one, of
// a day with few sprayers: the more there are, the more ways go on from each label.
func (s *search) labels(steps int64) int64 {
	return s.settings.Steps * fewSprayers / steps / int64(max(len(s.in.p.Sprayers), fewSprayers))
}

// fewSprayers is how many sprayers a label is paid for as one.
const fewSprayers = 8

// isTight says whether no plan to start from sprays everything.
func (s *search) isTight() bool {
	e := newEvaluator(s.in)
	for i := range s.start {
		if e.score(e.candidateOf(&s.start[i])).left == 0 {
			return false
		}
	}
	return true
}

// build adds plans built load by load to what the search starts from, the best of
// all to the front.
func (s *search) build(ctx context.Context) {
	made := make([]*Decisions, len(beamPlans))
	var group sync.WaitGroup
	for i, plan := range beamPlans {
		width := s.beamWidth(&plan)
		if width == 0 {
			continue // too large a day for so few steps
		}
		plan.fileOrder = plan.fileOrder || s.settings.KeepOrder
		group.Go(func() {
			e := newEvaluator(s.inRound(0))
			if c := newBeam(e, width, plan).search(ctx); c != nil {
				d := e.decisions(c)
				made[i] = &d
			}
		})
	}
	group.Wait()
	e := newEvaluator(s.inRound(0))
	for _, d := range made {
		if d == nil {
			continue
		}
		if e.score(e.candidateOf(d)); e.broken == 0 {
			s.start = append(s.start, *d)
		}
	}
	s.sortStart()
}

// sortStart puts the best of what the search starts from first.
func (s *search) sortStart() {
	type start struct {
		decisions Decisions
		score     score
	}
	e := newEvaluator(s.inRound(0))
	list := make([]start, len(s.start))
	for i, d := range s.start {
		list[i] = start{d, e.score(e.candidateOf(&d))}
	}
	slices.SortStableFunc(list, func(x, y start) int { return x.score.compare(y.score) })
	for i := range list {
		s.start[i] = list[i].decisions
	}
}

// beamWidth is the width whose beam takes about its share of the steps; 0 where
// even the narrowest takes more.
func (s *search) beamWidth(plan *beamPlan) int {
	loads := max(len(s.start[0].Sequence), 1)
	perLayer := min(plan.comers, len(s.in.p.Sprayers)) * len(s.in.bays) * 2
	share := int(s.settings.Steps) / beamShare / len(beamPlans)
	return min(share*max(loads, loadsPerTry)/loadsPerTry/(loads*perLayer), 1000)
}

// loadsPerTry is how many loads are evaluated in the time that a beam takes to try
// one.
const loadsPerTry = 16

// tracker counts the steps of all walkers for whoever watches. It changes
// nothing in the search.
type tracker struct {
	watch func(Progress)
	of    int64
	mutex sync.Mutex
	steps int64
	best  score

	quiet bool // of bounds
}

func (t *tracker) tell(steps int64, best score) {
	if t.watch == nil {
		return
	}
	t.mutex.Lock()
	defer t.mutex.Unlock()
	t.steps += steps
	if best.less(t.best) {
		t.best = best
	}
	t.watch(Progress{Steps: t.steps, Of: t.of, Left: t.best.left.Float(), Dollars: t.best.cost.Dollars()})
}

// tellBound tells whoever watches how close plan and bound are.
func (t *tracker) tellBound(r *model.Result) {
	if t.watch == nil {
		return
	}
	now := Progress{Steps: t.steps, Of: t.of, Dollars: r.Plan.Cost.Total().Dollars(), Proving: true}
	if !t.quiet {
		now.Bound = r.Bound.Dollars()
	}
	t.watch(now)
}

// share64 returns the i-th of n nearly equal shares of a total.
func share64(total int64, n, i int) int64 {
	return total*int64(i+1)/int64(n) - total*int64(i)/int64(n)
}
