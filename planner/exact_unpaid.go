package planner

import "padturn/model"

// mostHeld returns what all sprayers' time is worth in which tank lives may keep
// them from being filled.
func (in *instance) mostHeld(graphs []turnGraph) model.Money {
	var sum model.Money
	for i := range graphs {
		var longest model.Seconds
		depth := int32(0)
		for n := range graphs[i].stops {
			depth = max(depth, graphs[i].stops[n].depth)
			for k := range graphs[i].stops[n].turns {
				longest = max(longest, in.longestHeld(graphs[i].stops[n].turns[k].l))
			}
		}
		sum += model.Money(depth) * graphs[i].wait.For(longest)
	}
	return sum
}

// heldStep is how finely longestHeld looks at the day.
const heldStep = 60

// longestHeld returns the longest that a tank life may keep a load from being
// filled. What a start can be put off to comes no earlier for a later start, so
// that looking at each minute tells of those between, but for a minute.
func (in *instance) longestHeld(l *load) model.Seconds {
	if l.tankLife == model.Seconds(model.Never) {
		return 0
	}
	var longest model.Seconds
	for _, fill := range l.Fill { // by changeovers inside
		for t := in.now; t+model.Clock(fill) <= l.lastEnd; t += heldStep {
			if model.Seconds(l.sprayedOut(t+heldStep+model.Clock(fill))-t) <= l.tankLife {
				continue
			}
			if start := in.fieldStart(l, t, fill); start != model.Never {
				longest = max(longest, model.Seconds(start-t)+heldStep)
			}
		}
	}
	return longest
}

// blockedFirst takes apart when a sprayer may not spray a job: until a moment that
// it waits for if it is there as soon as it can be, and spans later.
func (in *instance) blockedFirst(sprayer, job int, blocked []span) (until model.Clock, later []span) {
	soonest := max(in.now, in.sprayers[sprayer].base) + model.Clock(in.p.LeastFill(sprayer, job)+in.shortestDrive(sprayer, job))
	until, later = blocked[0].to, blocked[1:]
	for len(later) > 0 && later[0].from <= soonest {
		until, later = later[0].to, later[1:]
	}
	return until, later
}
