package planner

import (
	"slices"

	"padturn/model"
)

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

// runDry lists, by tracked product, how many totes may run dry inside loads, at the most, on
// a day that sprays everything.
func (in *instance) runDry() []int {
	list := make([]int, len(in.tracked))
	demand := in.demand()
	for t := range in.tracked {
		if in.tracked[t].discrete {
			list[t] = in.tracked[t].runDry(demand[in.tracked[t].product])
		}
	}
	return list
}

// runDry returns how many totes of a product may run dry inside loads that take so much
// of it.
func (x *trackedProduct) runDry(amount model.Decimal) int {
	var left []model.Decimal
	for i := range x.containers {
		if c := &x.containers[i]; c.left > 0 {
			left = append(left, c.left)
		}
	}
	slices.Sort(left)
	for n, l := range left {
		if amount -= l; amount <= 0 {
			return n
		}
	}
	return len(left)
}

// insideChange returns what a sprayer's time is worth while a product is changed inside
// its load: nobody pays for that, while a bound that leaves it out has the sprayer back
// sooner and waiting for longer.
func (in *instance) insideChange() model.Money {
	var most model.Money
	for i := range in.p.Sprayers {
		most = max(most, in.p.Sprayers[i].Wait.For(in.change))
	}
	return most
}

// unmodelledChanges returns what sprayers gain by totes that run dry inside loads and
// are not in the model, less what the changeovers cost.
func (m *padModel) unmodelledChanges() model.Money {
	count := 0
	for t, dry := range m.in.runDry() {
		if !m.oneBay || m.totes[t].upTo == nil {
			count += dry
		}
	}
	return model.Money(count) * max(m.in.insideChange()-m.in.changeMoney, 0)
}

// excessOf returns how many products of a mix the bays that fill it have no connection
// for, at least and at the most.
func (in *instance) excessOf(mix int) (least, most int) {
	least = len(in.products)
	for b := range in.bays {
		if in.bays[b].fills[mix] {
			excess := in.excess(&in.bays[b], mix)
			least, most = min(least, excess), max(most, excess)
		}
	}
	return min(least, most), most
}

// leastFill returns the time that filling a load takes at least, on any bay.
func (in *instance) leastFill(l *load) model.Seconds {
	least, _ := in.excessOf(l.mix)
	return l.FillSeconds(least)
}

// mostLoads returns how many loads a job by itself can take.
func (in *instance) mostLoads(job int) int {
	if s := in.p.Jobs[job].Sprayer; s != model.None {
		return in.p.LoadCount(s, job)
	}
	most := 0
	for s := range in.p.Sprayers {
		most = max(most, in.p.LoadCount(s, job))
	}
	return most
}
