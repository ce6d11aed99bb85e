package planner

import (
	"fmt"

	"padturn/model"
)

// settle turns a candidate into a plan. Loads that the evaluation drops are
// then left out from the beginning and the rest is worked out again without
// them, until nothing is dropped: so no set-up in the plan is for nothing.
func (e *evaluator) settle(c *candidate) *model.Plan {
	return e.settleKnowing(c, map[LoadRef]dropReason{})
}

// settleKnowing settles a candidate of which it is known why some of its omitted
// loads don't fit; it adds the reasons of those that it drops.
func (e *evaluator) settleKnowing(c *candidate, reasons map[LoadRef]dropReason) *model.Plan {
	for {
		rec := newRecorder(e.in)
		e.rec = rec
		result := e.evaluate(c)
		e.rec = nil
		if len(rec.dropped) == 0 {
			return e.unload(c, rec, result, reasons)
		}
		for _, d := range rec.dropped {
			reasons[d.ref] = d.reason
			c.omitted = append(c.omitted, d.ref)
		}
	}
}

// unload makes the plan of a recorded evaluation.
func (e *evaluator) unload(c *candidate, rec *recorder, result score, reasons map[LoadRef]dropReason) *model.Plan {
	rec.order()
	plan := &model.Plan{Loads: rec.loads, Changes: rec.changes, Left: e.left, Disturbance: e.disturbance}
	plan.Spans = e.shop.spans(plan.Loads)
	plan.Stock = e.in.stockEvents(plan.Loads, nil, 0)
	plan.Water = e.in.waterEvents(plan.Loads)
	plan.Unsprayed = e.unsprayed(c, reasons)
	plan.Cost = e.costOf(plan)
	plan.Warnings = e.in.warnings(plan)
	if total := plan.Cost.Total() + plan.Disturbance; total != result.cost {
		panic(fmt.Sprintf("planner: the evaluator's cost %d is not the plan's %d", result.cost, total))
	}
	return plan
}

// unsprayed lists what the omitted loads leave of each job, in file order.
func (e *evaluator) unsprayed(c *candidate, reasons map[LoadRef]dropReason) []model.Unsprayed {
	acres := make([]model.Decimal, len(e.in.p.Jobs))
	text := make([]string, len(e.in.p.Jobs))
	taken := e.taken(c)
	for _, ref := range c.omitted {
		l := c.chains[ref.Sprayer][ref.Load]
		for _, part := range l.Parts {
			acres[part.Job] += part.Acres
			if text[part.Job] == "" {
				text[part.Job] = e.in.explain(l, reasons[ref], taken)
			}
		}
	}
	var list []model.Unsprayed
	for job, a := range acres {
		if a > 0 {
			list = append(list, model.Unsprayed{Job: job, Acres: a, Reason: text[job]})
		}
	}
	return list
}

// explain puts into words why a load is left out of a plan that takes so much of each
// tracked product. Where that leaves too little for it, a lack of time is not why: it
// may come of waiting for a delivery, or of others being worth more.
func (in *instance) explain(l *load, r dropReason, taken []model.Decimal) string {
	s := &in.p.Settings
	if gone := in.gone(l.Sprayer); gone != "" && (r.why == sprayerLeaves || r.why == fits) {
		return gone
	}
	switch r.why {
	case fits, padCloses, hoursEnd, sprayerLeaves:
		if short := in.shortBeside(l, taken); short != "" {
			return short
		}
	}
	switch r.why {
	case noBay:
		return fmt.Sprintf("no bay has %s as carrier and a connection for what mix %s takes through the meter",
			in.p.ProductName(in.p.Mixes[l.Mix].Carrier), in.p.Mixes[l.Mix].Name)
	case noStock:
		product := &in.p.Products[r.product]
		return fmt.Sprintf("short of %s: a load needs %s %s, %s left when its turn comes and no delivery makes it up",
			product.Name, r.need.Fixed(1), product.Unit.Name, r.have.Fixed(1))
	case noTote:
		return fmt.Sprintf("no container of %s comes free for its bay", in.p.Products[r.product].Name)
	case noWater:
		return "the pad does not have the water for it"
	case padCloses:
		return fmt.Sprintf("can't be filled by %s, when the pad closes", in.lastEnd.HHMM())
	case hoursEnd:
		return fmt.Sprintf("can't be sprayed out by %s (spray_until)", s.SprayUntil.HHMM())
	case sprayerLeaves:
		sprayer := &in.p.Sprayers[l.Sprayer]
		return fmt.Sprintf("sprayer %s can't be back by %s (available_until)", sprayer.Name, sprayer.AvailableUntil.HHMM())
	case tankLife:
		return "can't be sprayed out within its tank life, whenever it is filled"
	}
	return "there is no time for it beside the jobs that count more"
}

// gone says why a sprayer is not counted on any more; blank where it is.
func (in *instance) gone(sprayer int) string {
	if u := in.p.Underway; u != nil {
		return u.Sprayers[sprayer].Gone
	}
	return ""
}

// taken is how much of each tracked product the loads of a candidate take that are not
// left out.
func (e *evaluator) taken(c *candidate) []model.Decimal {
	sum := make([]model.Decimal, len(e.in.tracked))
	for sprayer, chain := range c.chains {
		for k, l := range chain {
			if c.omits(sprayer, k) {
				continue
			}
			for _, need := range l.needs {
				sum[need.n] += need.amount
			}
		}
	}
	return sum
}

// shortBeside says which product there is too little of for a load beside those that
// take so much, with all deliveries until the pad closes; blank where there is none.
func (in *instance) shortBeside(l *load, taken []model.Decimal) string {
	for _, need := range l.needs {
		t := &in.tracked[need.n]
		supply := t.onHand
		for _, d := range t.deliveries {
			if d.at <= in.lastEnd {
				supply = t.onHand + d.sum
			}
		}
		if supply+stockSlack >= taken[need.n]+need.amount {
			continue
		}
		product := &in.p.Products[t.product]
		return fmt.Sprintf("short of %s: the jobs need %s %s, %s are there before the pad closes at %s, and the planned loads take %s",
			product.Name, in.demand()[t.product].Fixed(1), product.Unit.Name, supply.Fixed(1), in.lastEnd.HHMM(), taken[need.n].Fixed(1))
	}
	return ""
}
