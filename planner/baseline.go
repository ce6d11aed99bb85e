package planner

import (
	"slices"

	"padturn/model"
)

// firstCome makes the decisions of first come, first served (R12). Jobs are
// handed out first, by playing the day: whenever a sprayer is ready it takes,
// in file order, the next job that names it or no sprayer. Then neighbours
// share loads where they may, and the day is played again: the sprayer ready
// first takes the bay free first.
func (e *evaluator) firstCome() *candidate {
	c := e.emptyCandidate()
	c.takeOff = TakeOffLongestUnused
	for i := range c.alone {
		c.alone[i] = true // until all are handed out
	}
	taken := make([]bool, len(e.in.p.Jobs))
	if slices.ContainsFunc(e.in.p.Jobs, func(j model.Job) bool { return j.Sprayer == model.None }) {
		e.playDay(c, func(s int) bool { return e.takeJob(c, s, taken) })
	} else {
		for s := range c.jobs {
			for e.takeJob(c, s, taken) {
			}
		}
	}
	clear(c.alone)
	for s := range c.jobs {
		e.chain(c, s)
	}
	c.sequence = c.sequence[:0]
	e.playDay(c, func(int) bool { return false })
	return c
}

// takeJob gives a sprayer the first job of the file that it may do, as a run
// of its own, and says whether there was one.
func (e *evaluator) takeJob(c *candidate, sprayer int, taken []bool) bool {
	if begun := e.in.sprayers[sprayer].begun; begun != model.None && !taken[begun] {
		taken[begun] = true
		c.jobs[sprayer] = append(c.jobs[sprayer], begun)
		e.chain(c, sprayer)
		return true
	}
	for i, j := range e.in.p.Jobs {
		if !taken[i] && (j.Sprayer == sprayer || j.Sprayer == model.None) {
			taken[i] = true
			c.jobs[sprayer] = append(c.jobs[sprayer], i)
			e.chain(c, sprayer)
			return true
		}
	}
	return false
}

// playDay appends to a candidate's sequence, load by load: the sprayer that is
// ready first goes to the bay that is free first, ties by file order. A sprayer
// whose loads are all given is asked whether there is more for it.
func (e *evaluator) playDay(c *candidate, more func(sprayer int) bool) {
	given := make([]int, len(c.chains))
	done := make([]bool, len(c.chains))
	for {
		e.evaluate(c)
		s := e.firstReady(done)
		if s == model.None {
			return
		}
		if given[s] == len(c.chains[s]) && !more(s) {
			done[s] = true
			continue
		}
		bay := e.firstFree(c.chains[s][given[s]].Mix)
		c.sequence = append(c.sequence, slot{sprayer: int16(s), bay: int16(bay)})
		given[s]++
	}
}

// firstReady returns the sprayer that is ready first after an evaluation, of
// those not done.
func (e *evaluator) firstReady(done []bool) int {
	first := model.None
	for s := range e.sprayers {
		if !done[s] && (first == model.None || e.readyAt(s) < e.readyAt(first)) {
			first = s
		}
	}
	return first
}

// readyAt returns when a sprayer is ready for its next load; for one without a
// next load, when it is back.
func (e *evaluator) readyAt(sprayer int) model.Clock {
	s := &e.sprayers[sprayer]
	if s.k == len(s.chain) {
		return s.base
	}
	return s.ready
}

// firstFree returns the bay that is free first after an evaluation, of those
// that can fill a mix; the first bay where none can.
func (e *evaluator) firstFree(mix int) int {
	first := model.None
	for b := range e.bays {
		if e.in.bays[b].fills[mix] && (first == model.None || e.bays[b].free < e.bays[first].free) {
			first = b
		}
	}
	return max(first, 0)
}
