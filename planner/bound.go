package planner

import (
	"cmp"
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
//   - waiting: sprayers that come to the pad at the same time want their first
//     loads at once, and a bay fills one after another;
//   - overtime: the bays must run the carrier of every load.
//
// Waiting later in the day, rinses and cleanouts are bounded by nothing here.
func (in *instance) lowerBound() model.Money {
	sum := in.changeoverBound() + in.overtimeBound() + in.firstFillsBound()
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
		if j.Any {
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
	j := &in.p.Jobs[job]
	hook := model.CeilMinutes(in.p.Settings.Pad.HookupMin+in.p.Settings.Pad.UnhookMin) - 1
	drive := in.shortestDrive(sprayer, job)
	start := max(in.now, in.sprayers[sprayer].base)
	first = max(start+model.Clock(hook+drive), j.Earliest, in.p.Settings.SprayFrom)
	n := model.Seconds(in.p.LoadCount(sprayer, job))
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

// firstFill is the first load of a sprayer.
type firstFill struct {
	from model.Clock
	fill model.Seconds // at the least
	wait model.HourlyRate
}

// firstFillsBound bounds what sprayers that come at the same time pay until
// their first loads start: waiting, and a cleanout before it, which costs a
// sprayer's time at the same rate. What other sprayers fill only adds to it.
func (in *instance) firstFillsBound() model.Money {
	together := map[model.Clock][]firstFill{}
	for s := range in.p.Sprayers {
		if f, ok := in.firstFillOf(s); ok {
			together[f.from] = append(together[f.from], f)
		}
	}
	var sum model.Money
	for _, list := range together {
		sum += queueBound(list, len(in.bays))
	}
	return sum
}

// queueBound bounds Σ rate × wait of sprayers that come together to some bays.
// On one bay it is least when they are filled in the order of fill ÷ rate
// (Smith 1956); on n bays Σ rate × completion is at least that of one bay ÷ n
// and (n-1) ÷ 2n of Σ rate × fill (Eastman, Even and Isaacs 1964).
func queueBound(list []firstFill, bays int) model.Money {
	slices.SortFunc(list, func(x, y firstFill) int {
		return cmp.Compare(int64(x.fill)*int64(y.wait), int64(y.fill)*int64(x.wait))
	})
	var done model.Seconds
	var finished, fills model.Money // Σ rate × completion on one bay, Σ rate × fill
	for _, f := range list {
		done += f.fill
		finished += f.wait.For(done)
		fills += f.wait.For(f.fill)
	}
	n := model.Money(bays)
	return max((2*finished+(n-1)*fills)/(2*n)-fills, 0)
}

// firstFillOf returns the first load of a sprayer that must come, the least it
// can take. It does not count sprayers with a load that its tank life could
// hold back unpaid.
func (in *instance) firstFillOf(sprayer int) (firstFill, bool) {
	s := &in.p.Sprayers[sprayer]
	least, named := model.Seconds(model.Never), false
	for i := range in.p.Jobs {
		j := &in.p.Jobs[i]
		if j.Sprayer != sprayer && j.Sprayer != model.None {
			continue
		}
		if in.mayHold(j.Mix) {
			return firstFill{}, false
		}
		named = named || j.Sprayer == sprayer
		least = min(least, in.p.LeastFill(sprayer, i))
	}
	return firstFill{max(in.sprayers[sprayer].base, in.now), least, s.Wait}, named
}

// mayHold says whether a mix has a tank life.
func (in *instance) mayHold(mix int) bool {
	m := &in.p.Mixes[mix]
	return slices.ContainsFunc(m.Recipe, func(g model.Ingredient) bool {
		return in.p.Products[g.Product].TankLife < model.Seconds(model.Never)
	}) || m.Carrier != model.None && in.p.Products[m.Carrier].TankLife < model.Seconds(model.Never)
}
