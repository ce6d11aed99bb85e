package planner

import (
	"context"
	"slices"

	"padturn/model"
)

// goOn plans the rest of a day of which the crew was told: it begins with the
// told plan, which stays where nothing has happened that moves it.
func (s *search) goOn(ctx context.Context, e *evaluator) (*model.Plan, bool) {
	told, bays := s.in.told, len(s.in.bays)
	c, reasons := e.keptCandidate()
	d := e.decisions(c)
	kept := e.settleKnowing(c, reasons)
	if s.settings.KeepTold || told.standsAsTold(s.in.p, kept, bays) {
		return kept, true
	}
	freeze := model.Clock(model.CeilMinutes(s.in.p.Settings.FreezeMin))
	told.freeze(s.in.p.Underway.At+freeze, kept, bays)
	s.start = []Decisions{d}
	best, whole := s.run(ctx)
	found := e.candidateOf(&best)
	if e.score(c).less(e.score(found)) {
		return kept, whole
	}
	return e.settle(found), whole
}

// keptCandidate makes the decisions that keep all that was told in its order. What
// the told plan left stays left, but where there is news and it now fits. It also
// says why it does not.
func (e *evaluator) keptCandidate() (*candidate, map[LoadRef]dropReason) {
	reasons := map[LoadRef]dropReason{}
	kept := e.toldCandidate()
	if len(kept.omitted) == 0 {
		e.chooseTakeOff(kept)
		return kept, reasons
	}
	again := e.emptyCandidate()
	again.copyFrom(kept)
	again.omitted = nil
	e.chooseTakeOff(kept)
	e.chooseTakeOff(again)
	if !e.in.p.Underway.NoNews && e.score(again).less(e.score(kept)) {
		return again, reasons
	}
	e.settleKnowing(again, reasons)
	return kept, reasons
}

// chooseTakeOff gives a candidate the rule for what comes off connections under
// which it is better: a told plan does not say by which it was made.
func (e *evaluator) chooseTakeOff(c *candidate) {
	c.takeOff = TakeOffLongestUnused
	other := e.score(c)
	if c.takeOff = TakeOffFurthest; other.less(e.score(c)) {
		c.takeOff = TakeOffLongestUnused
	}
}

// toldCandidate makes the decisions that were told, with the loads that the told
// plan left left out. Jobs that nobody was told of come last on their sprayers;
// those for any sprayer go where there are fewest loads.
func (e *evaluator) toldCandidate() *candidate {
	c := e.emptyCandidate()
	e.placeTold(c)
	for s := range c.jobs {
		// Not begun first: of a job before it in its run there can be a rest, which
		// the told plan left.
		e.layOutChain(c, s)
	}
	u := e.in.p.Underway
	at := e.toldPlaces(c)
	next := make([]int, len(c.chains))
	fill := func(s, upTo, bay int, off uint32) {
		for ; next[s] < upTo; next[s]++ {
			c.sequence = append(c.sequence, slot{sprayer: int16(s), bay: int16(bay), off: off})
		}
	}
	for i, l := range u.Told {
		if at[i] != model.None {
			fill(l.Sprayer, at[i], l.Bay, 0)
			fill(l.Sprayer, at[i]+1, l.Bay, e.in.offSet(l.Off))
		}
	}
	for s, chain := range c.chains {
		for next[s] < len(chain) {
			fill(s, next[s]+1, e.in.anyBay(chain[next[s]]), 0)
		}
	}
	e.fixBays(c)
	return c
}

// placeTold gives sprayers their jobs in the order and the runs that were told.
func (e *evaluator) placeTold(c *candidate) {
	placed := make([]bool, len(e.in.p.Jobs))
	for _, l := range e.in.p.Underway.Told {
		first := true
		for _, j := range l.Run {
			if s := e.in.p.Jobs[j].Sprayer; s != model.None && s != l.Sprayer {
				continue
			}
			if !placed[j] {
				placed[j] = true
				c.jobs[l.Sprayer] = append(c.jobs[l.Sprayer], j)
				c.alone[j] = first
			}
			first = false
		}
	}
	e.placeRest(c, placed)
}

// placeRest gives the jobs that are not placed to their sprayers.
func (e *evaluator) placeRest(c *candidate, placed []bool) {
	for j := range placed {
		if placed[j] {
			continue
		}
		s := e.in.p.Jobs[j].Sprayer
		if s == model.None {
			s = 0
			for other := range c.jobs {
				if len(c.jobs[other]) < len(c.jobs[s]) {
					s = other
				}
			}
		}
		c.jobs[s] = append(c.jobs[s], j)
		c.alone[j] = true
	}
}

// toldPlaces says which load of its sprayer's each told load is, and leaves out
// those that the told plan left. Where a sprayer's loads are not the told ones any
// more, because acres are others, the n-th is held to be the n-th told.
func (e *evaluator) toldPlaces(c *candidate) []int {
	told := e.in.p.Underway.Told
	at := slices.Repeat([]int{model.None}, len(told))
	for s, chain := range c.chains {
		var mine []int
		for i := range told {
			if told[i].Sprayer == s {
				mine = append(mine, i)
			}
		}
		if e.findTold(mine, chain, at) {
			e.leaveUntold(c, s, mine, at)
			continue
		}
		for k, i := range mine {
			if at[i] = k; k >= len(chain) {
				at[i] = model.None
			}
		}
	}
	return at
}

// findTold finds told loads in a chain, in order, and says whether all are there.
func (e *evaluator) findTold(mine []int, chain []*load, at []int) bool {
	k := 0
	for _, i := range mine {
		for k < len(chain) && !isTold(&e.in.p.Underway.Told[i], chain[k]) {
			k++
		}
		if k == len(chain) {
			return false
		}
		at[i] = k
		k++
	}
	return true
}

// isTold says whether a load is for the same acres as one that was told.
func isTold(t *model.StandingLoad, l *load) bool {
	size := toldLoad{acres: t.Acres}
	return size.size(&found{acres: l.acres}) &&
		slices.EqualFunc(t.Jobs, l.parts, func(job int, p part) bool { return job == p.job })
}

// leaveUntold leaves out those loads of a sprayer that nobody was told of, where
// the told plan left acres of their jobs.
func (e *evaluator) leaveUntold(c *candidate, sprayer int, mine, at []int) {
	for k, l := range c.chains[sprayer] {
		told := slices.ContainsFunc(mine, func(i int) bool { return at[i] == k })
		left := !slices.ContainsFunc(l.parts, func(p part) bool { return !slices.Contains(e.in.p.Underway.ToldLeft, p.job) })
		if !told && left {
			c.omitted = append(c.omitted, LoadRef{sprayer, k})
		}
	}
}
