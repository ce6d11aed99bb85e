package planner

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner/scenario"
)

// throw sets prices and credits at random.
func (p *pricing) throw(rng *rand.Rand, most model.Money) {
	for m := range p.price {
		price := model.Money(0)
		for k := range p.price[m] {
			if rng.IntN(4) == 0 {
				price = model.Money(rng.Int64N(int64(most)))
			}
			p.price[m][k] = price
		}
	}
	for i := range p.credit {
		p.credit[i] = model.Money(rng.Int64N(int64(100 * model.Dollar)))
	}
	p.stayPrice = model.Money(rng.Int64N(int64(20 * model.Dollar)))
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
	compared, above := 0, 0
	eachPricedDay(t, func(seed uint64, prices *pricing, plan *model.Plan) {
		cost, free := plan.Cost.Total(), prices.bound
		assert.LessOrEqual(t, free, cost, "seed %d, no prices", seed)
		s := newPriceSearch(prices)
		s.improve(t.Context(), cost, 60)
		assert.LessOrEqual(t, prices.bound, cost, "seed %d, searched", seed)
		rng := rand.New(rand.NewPCG(seed, 19))
		for range 5 {
			prices.throw(rng, model.Dollar)
			assert.LessOrEqual(t, prices.evaluate(), cost, "seed %d, prices thrown", seed)
		}
		compared++
		if s.p.bound > free {
			above++
		}
	})
	assert.Greater(t, above, compared/4, "the search for prices hardly ever finds any")
}

// TestPlansCanFollowPrices makes prices for which a plan's own times are by far the best:
// bays are paid for its fillings and nothing else, sprayers pay for all other times. Neither
// is said to cost more, each by themselves, than they do in the plan. So bounds leave
// nothing out that a plan may do, and count no time of it as longer than it is.
func TestPlansCanFollowPrices(t *testing.T) {
	const dear = 1000 * model.Dollar
	eachPricedDay(t, func(seed uint64, prices *pricing, plan *model.Plan) {
		// for bays, at any price for sprayers
		prices.setAll(0)
		kept := model.Money(0)
		for i := range plan.Loads {
			l := &plan.Loads[i]
			from := prices.slotOf(l.Start)
			kept += model.Money(prices.leastFill[l.Mix])
			for slot := from; slot < from+prices.leastFill[l.Mix]; slot++ {
				prices.price[l.Mix][slot] = dear
			}
		}
		prices.evaluate()
		said, cost := dear*kept, &plan.Cost.Money
		for _, b := range prices.bays {
			for _, open := range b.bays {
				said += open.toGo
			}
		}
		assert.LessOrEqual(t, said, cost[model.CostRinse]+cost[model.CostRinsate]+cost[model.CostChangeover]+cost[model.CostOvertime], "seed %d, bays", seed)

		prices.setAll(dear)
		for i := range plan.Loads {
			l := &plan.Loads[i]
			for slot := prices.slotOf(l.Start); slot <= prices.slotOf(l.End); slot++ {
				prices.price[l.Mix][slot] = 0
			}
		}
		prices.evaluate()
		said = 0
		for i := range prices.sprayers {
			said += prices.sprayers[i].least
		}
		for _, credit := range prices.credit {
			said += credit
		}
		assert.LessOrEqual(t, said, plan.Cost.Total(), "seed %d, sprayers", seed)
	})
}

func (p *pricing) setAll(price model.Money) {
	for m := range p.price {
		for slot := range p.price[m] {
			p.price[m][slot] = price
		}
	}
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
