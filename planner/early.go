package planner

import (
	"slices"

	"padturn/model"
)

// drawEarly tries, load by load, whether a plan is cheaper when a product of a
// load that wants more than its bay has connections is drawn early and makes
// room: see Decisions.Off. Without lists a sequence needs the fewest changeovers
// there are; but which tote hangs where can make others cheaper. In the middle of
// a search such lists would be left behind by the loads that they are for.
func (e *evaluator) drawEarly(d Decisions) Decisions {
	if !e.in.anyCrowdedMix() || !slices.ContainsFunc(e.in.tracked, func(t trackedProduct) bool { return t.discrete }) {
		return d
	}
	c := e.candidateOf(&d)
	best := e.score(c)
	given := make([]int, len(c.chains))
	for i := range c.sequence {
		x := &c.sequence[i]
		l := c.chains[x.sprayer][given[x.sprayer]]
		given[x.sprayer]++
		if !e.in.bays[x.bay].crowded[l.mix] {
			continue
		}
		for _, dose := range l.metered {
			without := x.off
			x.off |= 1 << dose.n // nothing where it is beyond a list
			if s := e.score(c); s.less(best) {
				best = s
			} else {
				x.off = without
			}
		}
	}
	return e.decisions(c)
}

// anyCrowdedMix says whether some job's mix wants more metered products than a bay
// that fills it has connections for, so that changeovers fall inside loads.
func (in *instance) anyCrowdedMix() bool {
	return slices.ContainsFunc(in.p.Jobs, func(j model.Job) bool {
		return slices.ContainsFunc(in.bays, func(b bayData) bool { return b.fills[j.Mix] && b.crowded[j.Mix] })
	})
}
