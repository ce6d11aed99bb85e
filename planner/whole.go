package planner

import (
	"cmp"
	"slices"

	"padturn/model"
)

// Whole joins what of a day has begun and a plan of its rest to the plan of the
// whole day: the history with its real times and amounts, then the rest. p is
// the problem of the whole day, rest that of its rest; what they call by the
// same name is the same.
func Whole(p *model.Problem, behind *model.Behind, rest *model.Problem, plan *model.Plan) *model.Plan {
	j := &joiner{p: p, rest: rest, plan: plan, behind: behind, in: newInstance(p)}
	j.e = newEvaluator(j.in)
	whole := &model.Plan{Left: plan.Left, Disturbance: plan.Disturbance, Resumed: j.resumed()}
	whole.Loads = append(j.history(), j.planned()...)
	whole.Changes = j.changes(whole.Loads)
	whole.Unsprayed = j.unsprayed()
	whole.Spans = j.e.shop.spans(whole.Loads)
	whole.Stock = j.stock(whole.Loads)
	whole.Water = j.water(whole.Loads)
	j.finishJobs(whole)
	whole.Cost = j.cost(whole)
	whole.Warnings = slices.Clone(plan.Warnings)
	return whole
}

// resumed is where the rest begins.
func (j *joiner) resumed() *model.Resumed {
	r := &model.Resumed{At: j.behind.At, Loads: len(j.behind.Loads)}
	for i := range j.rest.Bays {
		b := &j.rest.Bays[i]
		on := slices.Concat(b.Plumbed, b.Hooked)
		for len(on) < b.Connections {
			on = append(on, model.None)
		}
		r.On = append(r.On, on)
	}
	return r
}

// joiner is a day being put together.
type joiner struct {
	p, rest *model.Problem
	plan    *model.Plan
	behind  *model.Behind
	in      *instance
	e       *evaluator
	// charged are rinses and cleanouts that were begun for loads which then
	// needed other ones.
	charged []model.PlannedLoad
}

// history are the loads that have begun, with what their waiting was worth.
func (j *joiner) history() []model.PlannedLoad {
	loads := slices.Clone(j.behind.Loads)
	for i := range loads {
		pl := &loads[i]
		soonest := pl.Soonest()
		pl.Ready = min(pl.Ready, pl.Start)
		j.stand(pl, soonest)
	}
	return loads
}

// stand parts the time a sprayer stood before a load, since it could have been
// clean, into what is held and what is paid.
func (j *joiner) stand(pl *model.PlannedLoad, soonest model.Clock) {
	soonest = min(soonest, pl.Ready)
	earliest := max(soonest, j.in.opens)
	made := j.e.shop.layOut(&pl.Load)
	if t := j.in.fieldStart(made, earliest, model.Seconds(pl.End-pl.Start)); t != model.Never {
		earliest = t
	}
	earliest = min(earliest, pl.Start)
	pl.Held, pl.Wait = model.Seconds(earliest-soonest), model.Seconds(pl.Start-earliest)
}

// planned are the loads of the rest, with the set-ups and cleanouts that have
// begun for them.
func (j *joiner) planned() []model.PlannedLoad {
	loads := slices.Clone(j.plan.Loads)
	bays, sprayers := map[int]bool{}, map[int]bool{}
	for i := range loads {
		pl := &loads[i]
		pl.Parts, pl.Run = slices.Clone(pl.Parts), j.run(pl)
		for k := range pl.Parts {
			pl.Parts[k].Job = j.job(pl.Parts[k].Job)
		}
		if !bays[pl.Bay] {
			j.giveRinse(pl)
		}
		if !sprayers[pl.Sprayer] {
			j.giveCleanout(pl)
		}
		bays[pl.Bay], sprayers[pl.Sprayer] = true, true
	}
	for _, r := range j.behind.Rinses {
		if !bays[r.Bay] {
			j.charge(model.PlannedLoad{Rinse: r.Level, Cleanout: model.None})
		}
	}
	for _, c := range j.behind.Cleanouts {
		if !sprayers[c.Sprayer] {
			j.chargeCleanout(&c)
		}
	}
	return loads
}

// run is the run of a load of the rest. Where it goes on with one that has begun it
// is that one, with the jobs of which nothing is left to fill.
func (j *joiner) run(pl *model.PlannedLoad) []int {
	run := make([]int, len(pl.Run))
	for i := range run {
		run[i] = j.job(pl.Run[i])
	}
	var begun []int
	for i := range j.behind.Loads {
		if l := &j.behind.Loads[i]; l.Sprayer == pl.Sprayer {
			begun = l.Run
		}
	}
	open := slices.DeleteFunc(slices.Clone(begun), func(job int) bool {
		return !slices.ContainsFunc(j.rest.Jobs, func(o model.Job) bool { return o.Name == j.p.Jobs[job].Name })
	})
	if slices.Equal(open, run) {
		return begun
	}
	return run
}

// job is the whole day's index of a job of the rest.
func (j *joiner) job(rest int) int {
	name := j.rest.Jobs[rest].Name
	return slices.IndexFunc(j.p.Jobs, func(o model.Job) bool { return o.Name == name })
}

func (j *joiner) charge(pl model.PlannedLoad) { j.charged = append(j.charged, pl) }

func (j *joiner) chargeCleanout(c *model.BehindCleanout) {
	pl := model.PlannedLoad{Rinse: model.None, Cleanout: c.Level}
	pl.Sprayer = c.Sprayer
	ready := c.From + model.Clock(j.in.cleanouts[c.Level].time)
	pl.Wait = max(model.Seconds(ready-max(ready-model.Clock(c.Stood), j.in.opens)), 0)
	j.charge(pl)
}

// giveRinse puts the rinse that was begun for a bay's next load into it, unless
// the load needs one of its own.
func (j *joiner) giveRinse(pl *model.PlannedLoad) {
	for _, r := range j.behind.Rinses {
		switch {
		case r.Bay != pl.Bay:
		case pl.Rinse == model.None:
			pl.Rinse, pl.SetupStart = r.Level, r.From
		default:
			j.charge(model.PlannedLoad{Rinse: r.Level, Cleanout: model.None})
		}
	}
}

func (j *joiner) giveCleanout(pl *model.PlannedLoad) {
	for _, c := range j.behind.Cleanouts {
		switch {
		case c.Sprayer != pl.Sprayer:
		case pl.Cleanout == model.None:
			pl.Cleanout, pl.CleanoutFrom = c.Level, c.From
			j.stand(pl, pl.Soonest()-model.Clock(c.Stood))
		default:
			j.chargeCleanout(&c)
		}
	}
}

// changes are the changeovers of both. One that was begun for a load that is
// not goes to the bay's next load; where none follows it is left out.
func (j *joiner) changes(loads []model.PlannedLoad) []model.Changeover {
	var list []model.Changeover
	before := len(j.behind.Loads)
	for _, c := range j.behind.Changes {
		if c.Load == model.None {
			for i := before; i < len(loads); i++ {
				if loads[i].Bay == c.Bay && (c.Load == model.None || loads[i].Seq < loads[c.Load].Seq) {
					c.Load = i
				}
			}
			if c.Load == model.None {
				continue
			}
			pl := &loads[c.Load]
			pl.Changeovers++
			pl.SetupStart = min(pl.SetupStart, c.At)
		}
		list = append(list, c)
	}
	for _, c := range j.plan.Changes {
		c.Load += before
		list = append(list, c)
	}
	slices.SortStableFunc(list, func(x, y model.Changeover) int { return cmp.Compare(x.At, y.At) })
	return list
}

func (j *joiner) unsprayed() []model.Unsprayed {
	list := slices.Clone(j.plan.Unsprayed)
	for i := range list {
		list[i].Job = j.job(list[i].Job)
	}
	return list
}

// stock projects the stock over the day. At the moment of the replan it is set
// to what is really there.
func (j *joiner) stock(loads []model.PlannedLoad) []model.StockEvent {
	counts := make([]model.Decimal, len(j.p.Products))
	for i := range j.p.Products {
		counts[i] = j.rest.Products[i].OnHand() - j.p.Products[i].OnHand()
	}
	for _, d := range j.p.Deliveries {
		counts[d.Product] -= d.Amount()
	}
	for _, d := range j.rest.Deliveries {
		counts[d.Product] += d.Amount()
	}
	for i := range j.behind.Loads {
		for _, d := range j.behind.Loads[i].Doses {
			counts[d.Product] += d.Amount
		}
		if carrier, amount := carrierDraw(j.p, &j.behind.Loads[i].Load); carrier != model.None {
			counts[carrier] += amount
		}
	}
	return j.in.stockEvents(loads, func(add stockChange) {
		for i, change := range counts {
			if change > stockSlack || change < -stockSlack {
				add(i, j.behind.At, "count", change)
			}
		}
	}, len(j.behind.Loads))
}

// water lists the water of the day; at the moment of the replan it is set to what
// is there, where that is not what was reckoned.
func (j *joiner) water(loads []model.PlannedLoad) []model.WaterEvent {
	draws := j.in.waterDraws(loads)
	at := j.behind.At
	n, _ := slices.BinarySearchFunc(draws, at, func(d waterDraw, at model.Clock) int { return cmp.Compare(d.at, at) })
	reckoned := j.in.waterLevels(append(slices.Clone(draws[:n]), waterDraw{at: at, event: "count"}))
	for i := range reckoned {
		// Loads that were reported may have taken what nobody reckoned was there.
		if w := reckoned[i].Water; w != nil && *w < 0 {
			reckoned[i].Water = new(model.Decimal)
		}
	}
	left := newInstance(j.rest).waterLevels(draws[n:])
	count := left[0]
	count.At, count.Event = at, "count"
	if last := &reckoned[n+1]; near(last.Rinsate, count.Rinsate) && (last.Water == nil || near(*last.Water, *count.Water)) {
		return append(reckoned[:n+1], left[1:]...)
	}
	return slices.Concat(reckoned[:n+1], []model.WaterEvent{count}, left[1:])
}

// near says whether two amounts differ by rounding alone.
func near(a, b model.Decimal) bool { return a-b <= stockSlack && b-a <= stockSlack }

// finishJobs notes when each job is sprayed and which are not.
func (j *joiner) finishJobs(whole *model.Plan) {
	for i := range whole.Loads {
		for k, part := range whole.Loads[i].Parts {
			j.e.jobDone[part.Job] = max(j.e.jobDone[part.Job], whole.Loads[i].SprayedAt[k])
		}
	}
	for _, u := range whole.Unsprayed {
		j.e.jobLost[u.Job] = true
	}
}

// cost is the cost of the whole day, with what was begun for nothing.
func (j *joiner) cost(whole *model.Plan) model.Cost {
	cost := j.e.costOf(whole)
	t := &tally{in: j.in}
	for i := range j.charged {
		t.load(&j.charged[i])
	}
	more := t.cost()
	for part := range cost.Money {
		cost.Money[part] += more.Money[part]
		cost.Amount[part] += more.Amount[part]
	}
	return cost
}

// Joined is the result of planning a rest as that of the whole day. Its bound
// holds for plans that begin as the day has begun.
func Joined(p *model.Problem, behind *model.Behind, rest *model.Problem, r *model.Result) *model.Result {
	whole := *r
	whole.Plan = Whole(p, behind, rest, r.Plan)
	whole.Baseline = Whole(p, behind, rest, r.Baseline)
	whole.Bound = 0
	if r.Bound > 0 {
		whole.Bound = whole.Plan.Cost.Total() - r.Plan.Cost.Total() + r.Bound
	}
	return &whole
}
