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
	c, again := e.keptCandidates()
	if !s.in.p.Underway.NoNews && e.score(again).less(e.score(c)) {
		c = again
	}
	reasons := map[LoadRef]dropReason{}
	e.settleKnowing(again, reasons)
	d := e.decisions(again)
	kept := e.settleKnowing(c, reasons)
	if s.settings.KeepTold || told.standsAsTold(s.in.p, kept, bays) || s.in.p.Underway.NoNews && !leavesMore(s.in.p, kept) {
		return kept, true
	}
	freeze := model.Clock(model.CeilMinutes(s.in.p.Settings.FreezeMin))
	told.freeze(s.in.p.Underway.At+freeze, kept, bays)
	s.unpriced = s.in.unpriced()
	s.start = []Decisions{d}
	best, whole := s.run(ctx)
	found := e.candidateOf(&best)
	if e.score(c).less(e.score(found)) {
		return kept, whole
	}
	return e.settle(found), whole
}

// keptCandidates make the decisions that keep all that was told in its order. Of
// kept what the told plan left stays left; again tries it once more. Both know the
// same loads of a sprayer by the same number, unless it goes on with a job of which
// the told plan left something.
func (e *evaluator) keptCandidates() (kept, again *candidate) {
	kept, again = e.toldCandidate(), e.emptyCandidate()
	again.copyFrom(kept)
	again.omitted = nil
	for s := range again.jobs {
		if begun := e.in.sprayers[s].begun; begun != model.None && again.jobs[s][0] != begun {
			e.chain(again, s)
			again.fitSequence(s, e.in.anyBay)
		}
	}
	e.fixBays(again)
	e.chooseTakeOff(kept)
	e.chooseTakeOff(again)
	return kept, again
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
	u := e.in.p.Underway
	at := slices.Repeat([]int{model.None}, len(u.Told))
	for s := range c.jobs {
		e.layOutChain(c, s)
		e.findTold(c, s, at)
		if !e.goesOn(c, s) {
			c.omitted = slices.DeleteFunc(c.omitted, func(r LoadRef) bool { return r.Sprayer == s })
			e.chain(c, s)
			e.findTold(c, s, at)
		}
	}
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

// goesOn says whether a sprayer goes on with the job that it has begun, if any is
// filled. Jobs of its run that stand before it must all be left.
func (e *evaluator) goesOn(c *candidate, sprayer int) bool {
	first := true
	for k, l := range c.chains[sprayer] {
		if c.omits(sprayer, k) {
			continue
		}
		if slices.ContainsFunc(l.parts, func(p part) bool { return p.job == e.in.sprayers[sprayer].begun }) {
			return first
		}
		first = false
	}
	return true
}

// findTold says which load of a sprayer each told load is, and leaves out those that
// the told plan left. Where the loads are not the told ones any more, because acres
// are others, the n-th is held to be the n-th told.
func (e *evaluator) findTold(c *candidate, sprayer int, at []int) {
	told, chain := e.in.p.Underway.Told, c.chains[sprayer]
	isLeft := slices.Repeat([]bool{true}, len(chain))
	k := 0
	for i := range told {
		if told[i].Sprayer != sprayer {
			continue
		}
		for k < len(chain) && !isTold(&told[i], chain[k]) {
			k++
		}
		if k == len(chain) {
			e.countTold(sprayer, len(chain), at)
			return
		}
		at[i], isLeft[k] = k, false
		k++
	}
	for k, l := range chain {
		if isLeft[k] && e.wasLeft(l) {
			c.omitted = append(c.omitted, LoadRef{sprayer, k})
		}
	}
}

// isTold says whether a load is for the same acres as one that was told.
func isTold(t *model.StandingLoad, l *load) bool {
	size := toldLoad{acres: t.Acres}
	return size.size(&found{acres: l.acres}) &&
		slices.EqualFunc(t.Jobs, l.parts, func(job int, p part) bool { return job == p.job })
}

// countTold holds the n-th of a sprayer's loads to be the n-th that was told.
func (e *evaluator) countTold(sprayer, loads int, at []int) {
	n := 0
	for i := range e.in.p.Underway.Told {
		if e.in.p.Underway.Told[i].Sprayer == sprayer {
			if at[i] = n; n >= loads {
				at[i] = model.None
			}
			n++
		}
	}
}

// wasLeft says whether the told plan left acres of all jobs of a load.
func (e *evaluator) wasLeft(l *load) bool {
	return !slices.ContainsFunc(l.parts, func(p part) bool { return !slices.Contains(e.in.p.Underway.ToldLeft, p.job) })
}
