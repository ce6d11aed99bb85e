package planner

import (
	"math/big"
	"slices"

	"padturn/model"
)

// toldSlack is how far a load's start may shift before the crew must be told.
const toldSlack model.Clock = 5 * 60

// toldPlan is what the crew was told of the rest of the day, laid out so that a
// new plan can be held against it load by load.
type toldPlan struct {
	loads []toldLoad // by start
	// byJob lists, by job, the told loads that begin with it, in order: the n-th
	// load that begins with a job is held to be the n-th that was told.
	byJob [][]int
	price model.Money // of moving all of them
	hard  int         // how many are frozen
}

// toldLoad is one load that the crew was told.
type toldLoad struct {
	sprayer, bay, mix int
	acres             model.Decimal // 0: not known
	start             model.Clock
	rank              int // its place among all told loads
	price             model.Money
	frozen            bool
}

// layOutTold lays out what the crew was told, if anything.
func (in *instance) layOutTold() {
	u := in.p.Underway
	if u == nil || len(u.Told) == 0 && !u.NoNews {
		return
	}
	told := &toldPlan{byJob: make([][]int, len(in.p.Jobs))}
	for i, l := range u.Told {
		t := toldLoad{sprayer: l.Sprayer, bay: l.Bay, mix: l.Mix, acres: l.Acres, start: l.Start, rank: i, price: in.changePrice(l.Start)}
		told.loads = append(told.loads, t)
		told.byJob[l.Jobs[0]] = append(told.byJob[l.Jobs[0]], i)
		told.price += t.price
	}
	in.told = told
}

// changePrice is what it costs to move a told load: all of change_told if it
// were to start now, half of it if in an hour, a third in two hours.
func (in *instance) changePrice(start model.Clock) model.Money {
	const hour = 3600
	ahead := int64(max(start-in.p.Underway.At, 0))
	share := big.NewRat(hour, hour+ahead)
	return model.MoneyFromRat(share.Mul(share, in.p.Settings.Costs.ChangeTold.Rat()))
}

// found is a load as a plan has it, to be held against what was told.
type found struct {
	sprayer, bay, mix int
	acres             model.Decimal
	start             model.Clock
	last              int // rank of the latest told load that the bay has had
}

// acresSlack is what a told load's acres may be off by rounding.
const acresSlack = model.One / 1000

// place says whether a load is where it was told: on its sprayer and bay, with
// its mix, and not behind one told to come later there.
func (t *toldLoad) place(f *found) bool {
	return t.sprayer == f.sprayer && t.bay == f.bay && t.mix == f.mix && t.rank > f.last
}

// size says whether a load has the acres that were told.
func (t *toldLoad) size(f *found) bool {
	return t.acres == 0 || t.acres-f.acres <= acresSlack && f.acres-t.acres <= acresSlack
}

// time says whether a load's sprayer fills its mix when it was told, give or take
// a little.
func (t *toldLoad) time(f *found) bool {
	shift := f.start - t.start
	return t.sprayer == f.sprayer && t.mix == f.mix && -toldSlack <= shift && shift <= toldSlack
}

// saved is what a load does not cost of its price for being as it was told: three
// quarters for its place and size, a quarter for its time. So what is delayed anyway is
// not thrown about as well.
func (t *toldLoad) saved(f *found) model.Money {
	var sum model.Money
	if t.place(f) && t.size(f) {
		sum = t.price - t.price/4
	}
	if t.time(f) {
		sum += t.price / 4
	}
	return sum
}

// stays says whether a load is where and when it was told. Its acres may be
// others: with even loads they hang on all that comes after it.
func (t *toldLoad) stays(f *found) bool { return t.place(f) && t.time(f) }

// keepTold holds the load that a bay starts against what was told. All told
// loads are paid for as moved from the beginning; one that stays is paid back.
func (e *evaluator) keepTold(b int, bay *bayState, l *load, start model.Clock) {
	job := l.parts[0].job
	list := e.in.told.byJob[job]
	n := e.toldSeen[job]
	e.toldSeen[job]++
	if n >= len(list) {
		return // a load that nobody was told of
	}
	t := &e.in.told.loads[list[n]]
	f := found{l.sprayer, b, l.mix, l.acres, start, bay.toldLast}
	saved := t.saved(&f)
	e.money -= saved
	e.disturbance -= saved
	if t.frozen && t.stays(&f) {
		e.broken--
	}
	if t.bay == b {
		bay.toldLast = max(bay.toldLast, t.rank)
	}
}

// match says which told load each load of a plan is, or None, which of the told
// loads stay, and what the moving of the others weighs.
func (told *toldPlan) match(loads []model.PlannedLoad, bays int) (of []int, stays []bool, weight model.Money) {
	seen, last := make([]int, len(told.byJob)), make([]int, bays)
	for i := range last {
		last[i] = -1
	}
	of, stays, weight = make([]int, len(loads)), make([]bool, len(told.loads)), told.price
	for i := range loads {
		l := &loads[i]
		of[i] = model.None
		job := l.Parts[0].Job
		if n := seen[job]; n < len(told.byJob[job]) {
			of[i] = told.byJob[job][n]
			t := &told.loads[of[i]]
			f := found{l.Sprayer, l.Bay, l.Mix, acresOf(&l.Load), l.Start, last[l.Bay]}
			stays[of[i]] = t.stays(&f)
			weight -= t.saved(&f)
			if t.bay == l.Bay {
				last[l.Bay] = max(last[l.Bay], t.rank)
			}
		}
		seen[job]++
	}
	return of, stays, weight
}

// acresOf is what a load covers.
func acresOf(l *model.Load) model.Decimal {
	var sum model.Decimal
	for i := range l.Parts {
		sum += l.Parts[i].Acres
	}
	return sum
}

// frozenPrice is how many times the price of another load it costs to fill a
// frozen one with other acres.
const frozenPrice = 5

// freeze marks the told loads that start before a moment and stay where they
// are if nobody touches the told plan. What cannot stay is not frozen: a load
// whose sprayer is out must not keep its bay.
func (told *toldPlan) freeze(until model.Clock, kept *model.Plan, bays int) {
	_, stays, _ := told.match(kept.Loads, bays)
	for i := range told.loads {
		t := &told.loads[i]
		if t.frozen = stays[i] && t.start < until; t.frozen {
			told.hard++
			told.price += (frozenPrice - 1) * t.price
			t.price *= frozenPrice
		}
	}
}

// unpriced is the same day with nothing to pay for moving what was told. What is
// frozen is frozen still.
func (in *instance) unpriced() *instance {
	day, told := *in, *in.told
	told.loads, told.price = slices.Clone(told.loads), 0
	for i := range told.loads {
		told.loads[i].price = 0
	}
	day.told = &told
	return &day
}

// standsAsTold says whether a plan does just what was told, to the second, and
// leaves nothing that was to be sprayed or that nobody has told of yet.
func (told *toldPlan) standsAsTold(p *model.Problem, plan *model.Plan, bays int) bool {
	of, stays, _ := told.match(plan.Loads, bays)
	if slices.Contains(stays, false) || len(of) != len(told.loads) {
		return false
	}
	for i := range of {
		l := &plan.Loads[i]
		if of[i] == model.None || l.Start != told.loads[of[i]].start || !told.loads[of[i]].size(&found{acres: acresOf(&l.Load)}) {
			return false
		}
	}
	return !leavesMore(p, plan)
}

// leavesMore says whether a plan leaves a job of which the told plan left nothing.
func leavesMore(p *model.Problem, plan *model.Plan) bool {
	return slices.ContainsFunc(plan.Unsprayed, func(u model.Unsprayed) bool {
		return !slices.Contains(p.Underway.ToldLeft, u.Job)
	})
}
