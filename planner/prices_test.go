package planner

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner/scenario"
)

// throw sets prices and credits at random.
func (p *pricing) throw(rng *rand.Rand, most model.Money) {
	if p.byLine {
		throw(rng, p.prices, -30*most, 30*most)
	} else {
		throw(rng, p.price, 0, most)
	}
	for i := range p.credit {
		p.credit[i] = model.Money(rng.Int64N(int64(100 * model.Dollar)))
	}
	p.stayPrice = model.Money(rng.Int64N(int64(20 * model.Dollar)))
}

func throw(rng *rand.Rand, prices [][]model.Money, least, most model.Money) {
	for k := range prices {
		price := model.Money(0)
		for slot := range prices[k] {
			if rng.IntN(4) == 0 {
				price = least + model.Money(rng.Int64N(int64(most-least)))
			}
			prices[k][slot] = price
		}
	}
}

// eachPricedDay goes through random days with every feature, and days of the family, that
// have prices, with a plan of each that sprays everything.
func eachPricedDay(t *testing.T, yield func(seed uint64, prices *pricing, plan *model.Plan)) {
	days, found := uint64(150), 0
	if testing.Short() {
		days = 15
	}
	for seed := range days {
		rng := rand.New(rand.NewPCG(seed, 17))
		input := scenario.Random(rng)
		if seed%3 == 0 {
			shape := scenario.Shape{Sprayers: 2 + rng.IntN(3), Loads: 6 + rng.IntN(10), Bays: 1 + rng.IntN(2)}
			input = shape.Day(scenario.Crowded, seed)
		}
		p, report := model.NewProblem(input)
		require.True(t, report.OK())
		keep := seed%2 == 0
		in := newInstance(p)
		graphs := boundGraphs(newWorkshop(in), scope{inOrder: keep})
		if graphs == nil {
			continue
		}
		prices := newPricing(in, graphs, fewestCells)
		if prices == nil {
			continue
		}
		r, err := Plan(t.Context(), p, Settings{Steps: 3000, Seed: 1, KeepOrder: keep})
		require.NoError(t, err)
		if r.Plan.Left == 0 {
			found++
			yield(seed, prices, r.Plan)
		}
	}
	assert.Greater(t, found, int(days)/3)
}

// TestPricesBoundPlans holds that at whatever prices no plan that sprays
// everything costs less than they say.
func TestPricesBoundPlans(t *testing.T) {
	compared, above, higher := 0, 0, 0
	eachPricedDay(t, func(seed uint64, prices *pricing, plan *model.Plan) {
		cost, free := plan.Cost.Total(), prices.bound
		assert.LessOrEqual(t, free, cost, "seed %d, no prices", seed)
		s := newPriceSearch(prices)
		s.improve(t.Context(), cost, 60)
		assert.LessOrEqual(t, prices.bound, cost, "seed %d, searched", seed)
		byMix := prices.bound
		s.goOnByKinds()
		assert.GreaterOrEqual(t, prices.evaluate(), byMix, "seed %d, the same prices by kind", seed)
		s.improve(t.Context(), cost, 30)
		assert.LessOrEqual(t, prices.bound, cost, "seed %d, searched by kind", seed)
		rng := rand.New(rand.NewPCG(seed, 19))
		for _, prices.byLine = range []bool{false, true} {
			for range 5 {
				prices.throw(rng, model.Dollar)
				assert.LessOrEqual(t, prices.evaluate(), cost, "seed %d, prices thrown", seed)
			}
		}
		compared++
		if byMix > free {
			above++
		}
		if prices.bound > byMix {
			higher++
		}
	})
	assert.Greater(t, above, compared/4, "the search for prices hardly ever finds any")
	assert.Greater(t, higher, compared/8, "those of kinds are hardly ever better")
}

// TestPlansCanFollowPrices makes prices for which a plan's own times are by far the best:
// bays are paid for its fillings and nothing else, sprayers pay for all other times. Neither
// is said to cost more, each by themselves, than they do in the plan. So bounds leave
// nothing out that a plan may do, and count no time of it as longer than it is.
func TestPlansCanFollowPrices(t *testing.T) {
	const dear = 1000 * model.Dollar
	eachPricedDay(t, func(seed uint64, prices *pricing, plan *model.Plan) {
		cost := &plan.Cost.Money
		pad := cost[model.CostRinse] + cost[model.CostRinsate] + cost[model.CostChangeover] + cost[model.CostOvertime]

		setAll(prices.price, 0)
		kept := model.Money(0)
		for i := range plan.Loads {
			l := &plan.Loads[i]
			from := prices.slotOf(l.Start)
			kept += model.Money(prices.leastFill[l.Mix])
			setAll([][]model.Money{prices.price[l.Mix][from : from+prices.leastFill[l.Mix]]}, dear)
		}
		assert.LessOrEqual(t, prices.saidOfBays()+dear*kept, pad, "seed %d, bays", seed)
		setAll(prices.price, dear)
		for i := range plan.Loads {
			l := &plan.Loads[i]
			setAll([][]model.Money{prices.price[l.Mix][prices.slotOf(l.Start) : prices.slotOf(l.End)+1]}, 0)
		}
		assert.LessOrEqual(t, prices.saidOfSprayers(), plan.Cost.Total(), "seed %d, sprayers", seed)

		prices.goByLine()
		setAll(prices.prices, -100*dear)
		prices.setStarts(t, plan, 100*dear)
		assert.LessOrEqual(t, prices.saidOfBays()+100*dear*model.Money(len(plan.Loads)), pad, "seed %d, bays by line", seed)
		setAll(prices.prices, 100*dear)
		prices.setStarts(t, plan, 0)
		assert.LessOrEqual(t, prices.saidOfSprayers(), plan.Cost.Total(), "seed %d, sprayers by kind", seed)
	})
}

func setAll(prices [][]model.Money, price model.Money) {
	for _, list := range prices {
		for k := range list {
			list[k] = price
		}
	}
}

// setStarts sets the prices of a plan's own starts.
func (p *pricing) setStarts(t *testing.T, plan *model.Plan, price model.Money) {
	for i := range plan.Loads {
		l := &plan.Loads[i]
		made, how := p.turnOf(l)
		require.NotNil(t, made)
		p.prices[made.kindOf(how)][p.slotOf(l.Start)] = price
	}
}

// turnOf finds what is known of a planned load, and whether changes inside make its
// filling longer than its least.
func (p *pricing) turnOf(l *model.PlannedLoad) (*pricedTurn, fillChoice) {
	for known, made := range p.turns {
		if known.Sprayer == l.Sprayer && slices.Equal(known.Run, l.Run) && reflect.DeepEqual(known.Parts, l.Parts) {
			longest := p.in.leastFill(known) + made.stay.longer
			return made, fillChoice{stays: made.stay.longer > 0 && model.Seconds(l.End-l.Start) >= longest}
		}
	}
	return nil, fillChoice{}
}

// saidOfBays is what the bays cost at least at the present prices.
func (p *pricing) saidOfBays() model.Money {
	p.evaluate()
	var group sync.WaitGroup
	sum := p.priceBays(&group)
	group.Wait()
	return sum()
}

// saidOfSprayers is likewise what the sprayers cost.
func (p *pricing) saidOfSprayers() model.Money {
	p.evaluate()
	said := model.Money(0)
	for i := range p.sprayers {
		said += p.sprayers[i].least
	}
	for _, credit := range p.credit {
		said += credit
	}
	return said
}

// TestPricesOfAQueue holds prices to a day whose best plan is plain to see: two
// sprayers that come at once to one bay, for a load each of the same mix. One must
// wait for the other's filling, and the prices find that.
func TestPricesOfAQueue(t *testing.T) {
	day := plainDay()
	addJob(&day, "a", "S1", "mix A", 100)
	addJob(&day, "b", "S2", "mix A", 100)
	p := problem(t, day)
	in := newInstance(p)
	prices := newPricing(in, boundGraphs(newWorkshop(in), scope{inOrder: true}), fewestCells)
	require.NotNil(t, prices)
	r, err := Plan(t.Context(), p, Settings{Steps: 3000, Seed: 1, KeepOrder: true})
	require.NoError(t, err)
	newPriceSearch(prices).improve(t.Context(), r.Plan.Cost.Total(), 300)
	wait := r.Plan.Cost.Money[model.CostWait]
	assert.Positive(t, wait)
	got := prices.bound - (r.Plan.Cost.Total() - wait)
	assert.Greater(t, got.Dollars(), 0.9*wait.Dollars(), "of the wait for the other's filling")
	assert.LessOrEqual(t, got, wait)
}

// TestPricesOfACrowdedBay holds that a product that goes on inside the first load is
// not waited for before it: of the three that it wants two fit, and one of those is
// on at the opening. The best plan waits for one changeover.
func TestPricesOfACrowdedBay(t *testing.T) {
	day := plainDay()
	day.Settings.Pad.CarrierGpm = dec(10)
	day.Settings.Pad.Bays[0].Connections = 2
	day.Settings.Pad.Bays[0].Hooked = []string{"A"}
	for _, product := range []string{"B", "C"} {
		day.Recipes = append(day.Recipes, model.RecipeRow{Mix: "mix A", Product: product, Rate: dec(1), Unit: "gal/ac"})
	}
	addJob(&day, "a", "S1", "mix A", 100)
	in := newInstance(problem(t, day))
	plan := evaluateInFileOrder(t, in.p, Slot{0, 0})
	require.Equal(t, 5*model.Dollar, plan.Cost.Total())
	prices := newPricing(in, boundGraphs(newWorkshop(in), scope{inOrder: true}), fewestCells)
	require.NotNil(t, prices)
	newPriceSearch(prices).improve(t.Context(), 2*plan.Cost.Total(), 300)
	assert.LessOrEqual(t, prices.bound, plan.Cost.Total())
	assert.Greater(t, prices.bound.Dollars(), 4.5, "of the wait for the changeover")
}
