package planner

import (
	"cmp"
	"math"
	"slices"

	"padturn/model"
)

// kin says what loads cost behind one another, on a day where their order at the only
// bay is all there is to decide: no sprayer has more than one.
//
// A plan costs something else: what hangs on a bay and who waits comes of all the loads
// before. But kin is known in no time, and of many candidates it tells which may be
// worth an evaluation.
type kin struct {
	mix   []int       // by sprayer: of its load
	costs [][]float64 // by earlier and later mix; the last row is for the opening
	near  [][]int16   // by sprayer: those that its load is cheapest behind, cheapest first
}

// mostNear is how many loads are listed as near to one.
const mostNear = 10

// newKin lays a day out; nil where the order of loads is not all. c is any candidate.
func newKin(in *instance, c *candidate) *kin {
	if in.jobsHaveOrder() || len(in.bays) != 1 || len(c.sequence) < 3 || slices.ContainsFunc(c.chains, func(chain []*load) bool { return len(chain) > 1 }) {
		return nil
	}
	k := &kin{mix: make([]int, len(c.chains)), near: make([][]int16, len(c.chains))}
	wants := make([]mask, len(in.p.Mixes))
	for _, x := range c.sequence {
		l := c.chains[x.sprayer][0]
		k.mix[x.sprayer], wants[l.mix] = l.mix, l.wants
	}
	bay := &in.bays[0]
	for last := range wants {
		k.costs = append(k.costs, in.costsBehind(last, &wants[last], wants))
	}
	k.costs = append(k.costs, in.costsBehind(bay.lastMix, &bay.onAtOpening, wants))
	for at := range c.sequence {
		k.layOutNear(c.sequence, at)
	}
	return k
}

// costsBehind returns what each mix costs behind another, whose products are on.
func (in *instance) costsBehind(last int, on *mask, wants []mask) []float64 {
	costs, perSecond := make([]float64, len(wants)), in.secondAtBay()
	for mix := range costs {
		missing := wants[mix].without(on)
		n := missing.count()
		money, time := model.Money(n)*in.changeMoney, model.Seconds(n)*in.change
		if last != model.None && in.rinse[last][mix] != model.None {
			rinse := &in.rinses[in.rinse[last][mix]]
			money, time = money+rinse.money, time+rinse.time
		}
		costs[mix] = money.Dollars() + perSecond*float64(time)
	}
	return costs
}

// secondAtBay is about what a second at the only bay costs, in dollars: half of the
// sprayers wait for it, and the day ends later.
func (in *instance) secondAtBay() float64 {
	const hour = 3600
	sum := in.overtime.For(hour)
	for i := range in.p.Sprayers {
		sum += in.p.Sprayers[i].Wait.For(hour / 2)
	}
	return sum.Dollars() / hour
}

// layOutNear lists what a load is cheapest behind; equals are
// listed from the load's own place on, so that not all loads have the same.
func (k *kin) layOutNear(list []slot, at int) {
	sprayer := list[at].sprayer
	others := make([]int16, 0, len(list)-1)
	for d := 1; d < len(list); d++ {
		others = append(others, list[(at+d)%len(list)].sprayer)
	}
	slices.SortStableFunc(others, func(a, b int16) int {
		return cmp.Compare(k.costs[k.mix[a]][k.mix[sprayer]], k.costs[k.mix[b]][k.mix[sprayer]])
	})
	k.near[sprayer] = others[:min(mostNear, len(others))]
}

// added is by how much a sequence is dearer than another of the same loads.
func (k *kin) added(now, before []slot) float64 {
	i, j := 0, len(now)
	for i < j && now[i] == before[i] {
		i++
	}
	for i < j && now[j-1] == before[j-1] {
		j--
	}
	sum := 0.0
	for at := i; at < min(j+1, len(now)); at++ {
		sum += k.cost(now, at) - k.cost(before, at)
	}
	return sum
}

// cost is what the load at a place of a sequence costs behind the one before.
func (k *kin) cost(list []slot, at int) float64 {
	earlier := len(k.costs) - 1
	if at > 0 {
		earlier = k.mix[list[at-1].sprayer]
	}
	return k.costs[earlier][k.mix[list[at].sprayer]]
}

// guess learns from evaluations how much of what is said of candidates, by kin or by a
// dispatcher, comes true: sums of what was said and came, of which the earlier count less
// and less.
type guess struct{ n, said, both, came float64 }

const (
	fewToGuess = 50           // so many are evaluated whatever is said
	remembered = 1 - 1.0/2000 // about the last two thousand count
)

// learn takes in what was said that a candidate adds, and what it did add.
func (g *guess) learn(said, came float64) {
	g.n = g.n*remembered + 1
	g.said = g.said*remembered + said*said
	g.both = g.both*remembered + said*came
	g.came = g.came*remembered + came*came
}

// least is what a candidate adds at least, most likely: what follows in proportion from
// what is said, less so many times the usual error.
func (g *guess) least(said, errors float64) float64 {
	if g.n < fewToGuess || g.both <= 0 {
		return math.Inf(-1)
	}
	slope := g.both / g.said
	return slope*said - errors*math.Sqrt(max(g.came-slope*g.both, 0)/g.n)
}
