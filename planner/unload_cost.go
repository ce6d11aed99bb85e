package planner

import (
	"math/big"

	"padturn/model"
)

// costOf works out the cost of a plan from its loads, part by part (the
// README's Cost). The evaluator keeps only the sum; unload holds the two together.
func (e *evaluator) costOf(plan *model.Plan) model.Cost {
	t := &tally{in: e.in}
	for i := range plan.Loads {
		t.load(&plan.Loads[i])
	}
	t.count(model.CostChangeover, model.WholeDecimal(int64(len(plan.Changes))), model.Money(len(plan.Changes))*e.in.changeMoney)
	for i := range e.in.due {
		d := &e.in.due[i]
		late := e.lateness(i)
		t.hours(model.CostLate, weightedHours(late, e.in.p.Jobs[d.job].Priority), d.rate.For(late))
	}
	var lastEnd model.Clock
	for i := range plan.Loads {
		lastEnd = max(lastEnd, plan.Loads[i].End)
	}
	over := model.Seconds(max(lastEnd-e.in.closes, 0))
	t.hours(model.CostOvertime, hoursRat(over), e.in.overtime.For(over))
	return t.cost()
}

// tally adds up a cost. Amounts are exact until the end.
type tally struct {
	in      *instance
	amounts [model.NumCostParts]big.Rat
	money   [model.NumCostParts]model.Money
}

func (t *tally) hours(part model.CostPart, amount *big.Rat, money model.Money) {
	t.amounts[part].Add(&t.amounts[part], amount)
	t.money[part] += money
}

func (t *tally) count(part model.CostPart, amount model.Decimal, money model.Money) {
	t.hours(part, amount.Rat(), money)
}

func (t *tally) cost() model.Cost {
	c := model.Cost{Money: t.money}
	for i := range t.amounts {
		c.Amount[i] = model.RoundRat(&t.amounts[i])
	}
	return c
}

func hoursRat(s model.Seconds) *big.Rat { return big.NewRat(int64(s), 3600) }

func weightedHours(s model.Seconds, weight model.Decimal) *big.Rat {
	r := hoursRat(s)
	return r.Mul(r, weight.Rat())
}

// load counts what belongs to one load.
func (t *tally) load(pl *model.PlannedLoad) {
	p := t.in.p
	wait := p.Sprayers[pl.Sprayer].Wait
	t.hours(model.CostWait, hoursRat(pl.Wait), wait.For(pl.Wait))
	if pl.Cleanout != model.None {
		level := &t.in.cleanouts[pl.Cleanout]
		t.hours(model.CostCleanout, hoursRat(level.time), wait.For(level.time))
		t.count(model.CostRinsate, level.gal, level.money)
	}
	if pl.Rinse != model.None {
		level := &t.in.rinses[pl.Rinse]
		crew := t.in.crew.For(level.time)
		t.hours(model.CostRinse, hoursRat(level.time), crew)
		t.count(model.CostRinsate, level.gal, level.money-crew)
	}
	var free model.Seconds
	for i, part := range pl.Parts {
		job := &p.Jobs[part.Job]
		if job.Any {
			free += pl.DriveTo(i) + part.Spray
			if i == len(pl.Parts)-1 {
				free += pl.DriveBack
			}
		}
		t.timeliness(&part, job, model.Seconds(max(pl.SprayedAt[i]-t.in.opens, 0)))
	}
	t.hours(model.CostAnySprayer, hoursRat(free), wait.For(free))
}

func (t *tally) timeliness(part *model.Part, job *model.Job, after model.Seconds) {
	weight := new(big.Rat).Mul(job.Priority.Rat(), part.Acres.Rat())
	rate := t.in.timelinessRate(job, part.Acres)
	t.hours(model.CostTimeliness, weight.Mul(weight, hoursRat(after)), rate.For(after))
}

// timelinessRate is what each hour costs until a job's acres are sprayed.
func (in *instance) timelinessRate(job *model.Job, acres model.Decimal) model.HourlyRate {
	rate := new(big.Rat).Mul(job.Priority.Rat(), acres.Rat())
	rate.Mul(rate, in.p.Settings.Costs.TimelinessPerAcH.Rat())
	return model.RatePerHour(model.RoundRat(rate))
}
