package planner

import "padturn/model"

// brokenPrice is what a frozen load that does not stay weighs in a model for
// plans: more than any plan costs.
const brokenPrice = 1_000_000 * model.Dollar

// toldOf returns the told load that the k-th load of a run is held to be, or nil.
// A job is in one run only, so that it does not depend on other loads.
func (m *graphMaker) toldOf(loads []*load, k int) *toldLoad {
	if m.told == nil {
		return nil
	}
	job := loads[k].parts[0].job
	n := 0
	for _, l := range loads[:k] {
		if l.parts[0].job == job {
			n++
		}
	}
	if list := m.told.byJob[job]; n < len(list) {
		return &m.told.loads[list[n]]
	}
	return nil
}

// mostKept is the most that a turn is paid back for being as it was told.
func (t *turn) mostKept() model.Money {
	if t.told == nil || t.told.sprayer != t.l.sprayer || t.told.mix != t.l.mix {
		return 0
	}
	return t.told.paidBack(t.told.price, true)
}

// keepTold returns what a turn is paid back that starts on a bay as evaluator.keepTold
// does, and notes in the numbers of its label what the bay has had.
func (m *padModel) keepTold(t *turn, bay int, start model.Clock, numbers []int32) model.Money {
	last := &numbers[m.times+bay]
	f := found{t.l.sprayer, bay, t.l.mix, t.l.acres, start, int(*last)}
	if t.told.bay == bay {
		*last = max(*last, int32(t.told.rank))
	}
	return t.told.paidBack(t.told.saved(&f), t.told.stays(&f))
}

// paidBack is what a load is paid back that saves so much, and maybe stays.
func (t *toldLoad) paidBack(saved model.Money, stays bool) model.Money {
	if t.frozen && stays {
		saved += brokenPrice
	}
	return saved
}
