package planner

import "padturn/model"

// arrive counts the deliveries of a tracked product that are in by t.
func (e *evaluator) arrive(n int, t model.Clock) {
	list := e.in.tracked[n].deliveries
	for i := e.arrived[n]; i < len(list) && list[i].at <= t; i++ {
		e.levels[n] += list[i].sum
		if i > 0 {
			e.levels[n] -= list[i-1].sum
		}
		e.arrived[n]++
	}
}

// stockWait returns when a tracked product's stock reaches an amount if nothing
// else is taken: t, a delivery's time, or Never.
func (e *evaluator) stockWait(n int, amount model.Decimal, t model.Clock) model.Clock {
	e.arrive(n, t)
	level := e.levels[n] + stockSlack
	if level >= amount {
		return t
	}
	list := e.in.tracked[n].deliveries
	var before model.Decimal
	if e.arrived[n] > 0 {
		before = list[e.arrived[n]-1].sum
	}
	for _, d := range list[e.arrived[n]:] {
		if level+d.sum-before >= amount {
			return d.at
		}
	}
	return model.Never
}

// suppliesAt returns the earliest time from t at which a load's stock, totes
// and water are there, or why they never are. A load that can only wait for
// another bay to let go of a tote waits for ever until one is let go.
func (e *evaluator) suppliesAt(bay *bayState, l *load, t model.Clock) (model.Clock, dropReason) {
	at := t
	for _, need := range l.needs {
		if e.levels[need.n] >= need.amount {
			continue
		}
		wait := e.stockWait(need.n, need.amount, t)
		if wait == model.Never {
			return wait, e.shortOf(need)
		}
		at = max(at, wait)
	}
	if !bay.plain {
		for i := range l.totes {
			at = max(at, e.totesWait(bay, &l.totes[i], t))
		}
	}
	if l.water > 0 {
		wait := e.waterWait(t, l.water)
		if wait == model.Never {
			return wait, dropReason{why: noWater}
		}
		at = max(at, wait)
	}
	return at, dropReason{}
}

// drawSupplies takes what a load needs at its start.
func (e *evaluator) drawSupplies(b int, bay *bayState, l *load, t, end model.Clock) {
	for _, need := range l.needs {
		e.levels[need.n] -= need.amount
	}
	e.drawWater(t, l.water)
	if bay.plain {
		e.drawPlain(bay, l)
	} else {
		e.drawMetered(b, bay, t, end)
	}
}

// waterWait returns when the pad has so much water: t, later, or Never.
func (e *evaluator) waterWait(t model.Clock, need int64) model.Clock {
	w := e.in.water
	if w == nil || need == 0 {
		return t
	}
	level := e.waterLevel(t)
	switch {
	case level >= need:
		return t
	case need > w.capacity || w.perSecond == 0:
		return model.Never
	}
	return t + model.Clock((need-level+w.perSecond-1)/w.perSecond)
}

func (e *evaluator) waterLevel(t model.Clock) int64 {
	w := e.in.water
	full := (w.capacity - e.water) // refilled at this rate, it is full by then
	if elapsed := int64(max(t-e.waterAt, 0)); w.perSecond > 0 && elapsed < full/w.perSecond+1 {
		return min(e.water+elapsed*w.perSecond, w.capacity)
	} else if w.perSecond == 0 {
		return e.water
	}
	return w.capacity
}

// drawWater takes water at t. Draws come in the order of time, but not in a
// beam, which fills load by load: there an earlier draw finds what later ones
// left.
func (e *evaluator) drawWater(t model.Clock, need int64) {
	if e.in.water == nil || need == 0 {
		return
	}
	e.water = e.waterLevel(t) - need
	e.waterAt = max(t, e.waterAt)
}
