package planner

import (
	"math/big"
	"slices"

	"padturn/model"
)

// lowerBound returns a sum that no plan that sprays everything can go below.
// It adds up, part by part, what each job or product costs whatever the order:
// each part is a relaxation of its own, so their sum is one too.
//
//   - timeliness and lateness: no job is sprayed before the time its own work
//     takes, on the sprayer that does it soonest, as if the pad were its own;
//   - any-sprayer jobs: the spraying alone, on the sprayer where it costs least;
//   - changeovers: a product that is on no connection at the opening must go on
//     once, and one kept in totes once for each further tote the day needs;
//   - overtime: the bays must hook up every load and run its carrier.
//
// Waiting, rinses and cleanouts are bounded by nothing here: a plan may have
// none.
func (in *instance) lowerBound() model.Money {
	sum := in.changeoverBound() + in.overtimeBound()
	for i := range in.p.Jobs {
		sum += in.jobBound(i)
	}
	return sum
}

// jobBound bounds what a job costs in timeliness, lateness and, for any
// sprayer, its spraying.
func (in *instance) jobBound(job int) model.Money {
	j := &in.p.Jobs[job]
	rate := in.timelinessRate(j, j.Acres)
	best := model.Money(-1)
	for s := range in.p.Sprayers {
		if j.Sprayer != model.None && j.Sprayer != s {
			continue
		}
		first, last := in.jobTimes(s, job)
		sum := rate.For(max(model.Seconds(first-in.opens), 0)) - roundingSlack
		if j.Due != model.Never && last > j.Due {
			sum += model.RatePerHour(weighted(j.Priority, in.p.Settings.Costs.LatePerH)).For(model.Seconds(last - j.Due))
		}
		if j.Sprayer == model.None {
			sum += in.p.Sprayers[s].Wait.For(in.spraySeconds(s, job))
		}
		if best < 0 || sum < best {
			best = max(sum, 0)
		}
	}
	return best
}

// roundingSlack covers the rounding of a part's timeliness rate to the
// micro-dollar an hour, for as many parts and hours as a job can have.
const roundingSlack model.Money = 1000 * 48 * 3600

// spraySeconds is a job's spraying time, rounded down.
func (in *instance) spraySeconds(sprayer, job int) model.Seconds {
	r := new(big.Rat).Mul(in.p.Jobs[job].Acres.Rat(), in.p.Sprayers[sprayer].SecondsPerAcre)
	return model.Seconds(new(big.Int).Quo(r.Num(), r.Denom()).Int64())
}

// jobTimes returns moments before which no acre, and not the last acre, of a
// job can have been sprayed by a sprayer.
func (in *instance) jobTimes(sprayer, job int) (first, last model.Clock) {
	j, s := &in.p.Jobs[job], &in.p.Sprayers[sprayer]
	hook := model.CeilMinutes(in.p.Settings.Pad.HookupMin+in.p.Settings.Pad.UnhookMin) - 1
	drive := in.shortestDrive(sprayer, job)
	start := max(in.opens, s.AvailableFrom)
	first = max(start+model.Clock(hook+drive), j.Earliest, in.p.Settings.SprayFrom)
	n := model.Seconds(model.LoadCount(j.Acres, j.GPA, s.TankGal))
	work := n*(hook+drive) + (n-1)*drive + in.spraySeconds(sprayer, job)
	return first, max(start+model.Clock(work), first)
}

// shortestDrive is the shortest way out or back of any load that can have a
// part of a job: the way to its own field or to one of a job that may share.
func (in *instance) shortestDrive(sprayer, job int) model.Seconds {
	shortest := in.p.DriveFromPad(sprayer, job)
	for other := range in.p.Jobs {
		if o := &in.p.Jobs[other]; o.Mix == in.p.Jobs[job].Mix && o.GPA == in.p.Jobs[job].GPA {
			shortest = min(shortest, in.p.DriveFromPad(sprayer, other))
		}
	}
	return shortest
}

// changeoverBound bounds the changeovers of a day that sprays everything.
func (in *instance) changeoverBound() model.Money {
	demand := in.demand()
	count := 0
	for n, product := range in.products {
		hooked := 0
		for b := range in.bays {
			if in.bays[b].onAtOpening.has(n) {
				hooked++
			}
		}
		needed := 1
		if t := in.toteOf[n]; t != model.None {
			needed = fewestTotes(in.tracked[t].containers, demand[product])
		}
		count += max(needed-hooked, 0)
	}
	return model.Money(count) * in.changeMoney
}

// fewestTotes returns how many containers hold an amount if the fullest ones
// are used.
func fewestTotes(list []container, amount model.Decimal) int {
	left := make([]model.Decimal, len(list))
	for i := range list {
		left[i] = list[i].left
	}
	slices.Sort(left)
	slices.Reverse(left)
	amount -= stockSlack * model.Decimal(len(list)+1)
	for i, l := range left {
		if amount <= 0 {
			return i
		}
		amount -= l
	}
	return len(left)
}

// overtimeBound bounds the overtime: all carrier must run, and every bay works
// at the same time at best.
func (in *instance) overtimeBound() model.Money {
	minutes := new(big.Rat)
	for i := range in.p.Jobs {
		minutes.Add(minutes, in.p.CarrierMinutes(i))
	}
	minutes.Quo(minutes, big.NewRat(int64(len(in.bays)), 1))
	busy := model.CeilSeconds(minutes.Mul(minutes, big.NewRat(60, 1))) - 1
	return in.overtime.For(max(model.Seconds(in.opens-in.closes)+busy, 0))
}
