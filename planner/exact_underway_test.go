package planner

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner/scenario"
)

// restOfDay is the rest of a planned day of the family from a random moment on, as if
// nobody had been told anything; nil where the day leaves no rest. Change takes out of the
// day what the exact search does not count.
func restOfDay(t testing.TB, shape scenario.Shape, rng *rand.Rand, change func(*model.Input)) *instance {
	t.Helper()
	in := shape.Day(scenario.Crowded, rng.Uint64())
	change(&in)
	p := problem(t, in)
	r, err := Plan(t.Context(), p, Settings{Steps: 100, Seed: 1})
	require.NoError(t, err)
	if len(r.Plan.Unsprayed) > 0 {
		return nil
	}
	at := momentOf(r.Plan, rng)
	rest := split(t, in, p, r.Plan, at)
	if len(rest.Jobs) == 0 {
		return nil
	}
	if rng.IntN(2) == 0 {
		u := &rest.Underway.Sprayers[rng.IntN(len(rest.Sprayers))]
		u.BackAt = max(u.BackAt, at) + model.Clock(rng.IntN(3600))
	}
	return newInstance(problem(t, rest))
}

func withoutWeatherAndWater(in *model.Input) {
	in.Holds, in.Forecast, in.Settings.Pad.Water = nil, nil, nil
}

func withoutWater(in *model.Input) { in.Settings.Pad.Water = nil }

// TestModelCountsDaysUnderWay is TestModelCountsAsTheEvaluator for days under way:
// for bounds without weather, for plans with it.
func TestModelCountsDaysUnderWay(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector, and nothing runs side by side in it")
	}
	for _, use := range []padUse{forBounds, forPlans} {
		compared, days := 0, uint64(30)
		for seed := range days {
			rng := rand.New(rand.NewPCG(seed, 4))
			change := withoutWater
			if use == forBounds {
				change = withoutWeatherAndWater
			}
			in := restOfDay(t, scenario.Shape{Sprayers: 2 + rng.IntN(3), Loads: 10 + rng.IntN(14), Bays: 1}, rng, change)
			if in == nil {
				continue
			}
			if m := newPadModel(newWorkshop(in), use, scope{inOrder: rng.IntN(2) == 0}); m != nil {
				compared += compareWays(t, m, rng, seed)
			}
		}
		assert.Greater(t, compared, int(days)*2, "use %v", use)
	}
}

// compareWays plays random ways through a model of a day, and says how many.
func compareWays(t *testing.T, m *padModel, rng *rand.Rand, seed uint64) (compared int) {
	p := &prover{m: m}
	e := newEvaluator(m.in)
	for range 10 {
		key, times, value := m.first()
		steps, cost, done := follow(m, rng, key, times)
		if !done {
			continue
		}
		d := p.decisions(steps)
		require.NoError(t, d.check(m.in.p))
		s := e.evaluate(e.candidateOf(&d))
		if len(e.dropped) > 0 {
			continue // a random way that does not fit into the day
		}
		compared++
		want := s.cost
		if len(m.any) == 0 {
			assert.Equal(t, want, value+cost, "seed %d: %v and %v", seed, want.Dollars(), (value + cost).Dollars())
		}
		assert.LessOrEqual(t, want, value+cost, "seed %d", seed)
	}
	return compared
}

// TestPlansOfSeveralBaysCountTotes goes through models for plans of two bays, always to
// the load that can start first, and has the evaluator count the same. The model
// knows which tote hangs where, but not that bays may wait for each other's totes.
func TestPlansOfSeveralBaysCountTotes(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long under the race detector, and nothing runs side by side in it")
	}
	near, all := 0, 0
	for seed := range uint64(24) {
		rng := rand.New(rand.NewPCG(seed, 6))
		in := restOfDay(t, scenario.Shape{Sprayers: 3, Loads: 20, Bays: 2}, rng, withoutWater)
		if in == nil {
			continue
		}
		m := newPadModel(newWorkshop(in), forPlans, scope{inOrder: true})
		if m == nil {
			continue
		}
		steps, cost := soonestFirst(m)
		if steps == nil {
			continue
		}
		p, e := &prover{m: m}, newEvaluator(in)
		d := p.decisions(steps)
		s := e.evaluate(e.candidateOf(&d))
		if len(e.dropped) > 0 {
			continue
		}
		all++
		if max(s.cost-cost, cost-s.cost) < s.cost/1000 {
			near++
		}
	}
	t.Logf("%d of %d cost the same within a thousandth", near, all)
	assert.Greater(t, all, 6)
	assert.Greater(t, near, all/2)
}

// soonestFirst steps to the load that starts first until all is done, and returns
// the steps and what they cost; none where it comes to a dead end.
func soonestFirst(m *padModel) ([]step, model.Money) {
	s := newStepper(m)
	key, times, value := m.first()
	var steps []step
	for {
		s.read(key)
		if m.isDone(s.at) {
			return steps, value + m.end(s.at, times)
		}
		found := s.from(times, value)
		if len(found) == 0 {
			return nil, 0
		}
		first := slices.MinFunc(found, func(x, y successor) int { return int(x.times[m.bays] - y.times[m.bays]) })
		steps = append(steps, first.step)
		key, times, value = first.key, slices.Clone(first.times), first.value
	}
}

// TestDelayCostsNoMoreThanSaidUnderWay is TestDelayCostsNoMoreThanSaid for days
// under way.
func TestDelayCostsNoMoreThanSaidUnderWay(t *testing.T) {
	compared, days := 0, uint64(40)
	if testing.Short() {
		days = 10
	}
	for seed := range days {
		rng := rand.New(rand.NewPCG(seed, 8))
		in := restOfDay(t, scenario.Shape{Sprayers: 3, Loads: 16, Bays: 1 + rng.IntN(2)}, rng, withoutWeatherAndWater)
		if in == nil {
			continue
		}
		m := newPadModel(newWorkshop(in), forBounds, scope{inOrder: true})
		if m == nil {
			continue
		}
		compared += compareWaysOn(t, m, rng, 20_000)
	}
	assert.Greater(t, compared, int(days)*20)
}

// TestBoundsUnderWayAreBelowAllPlans proves what it can of the rests of small days
// with every feature, and holds the bounds to many plans; what is called proved must
// cost no more than any.
func TestBoundsUnderWayAreBelowAllPlans(t *testing.T) {
	days := uint64(120)
	if testing.Short() {
		days = 60
	}
	raised, proved, plans := 0, 0, 0
	eachToldRest(t, days, func(name string, r toldRest, rng *rand.Rand) {
		news(&r.rest, r.at, rng)
		p, report := model.NewProblem(r.rest)
		if !report.OK() {
			return
		}
		result, err := Plan(t.Context(), p, Settings{Steps: 1000, Seed: 1, Prove: true, FromScratch: true})
		require.NoError(t, err, name)
		if result.Plan.Left > 0 {
			return
		}
		if result.Bound > result.Unavoidable {
			raised++
		}
		if result.Status == model.StatusProved {
			proved++
		}
		in := newInstance(p)
		in.told = nil
		w := newWalker(in, rng, movesFor(in, false, false), &tracker{})
		for range 100 {
			s := w.e.score(anyCandidate(w))
			if s.left == 0 {
				plans++
				assert.LessOrEqual(t, result.Bound, s.cost, name)
			}
		}
		told, err := Plan(t.Context(), p, Settings{Steps: 1000, Seed: 1})
		require.NoError(t, err, name)
		if told.Plan.Left == 0 {
			assert.LessOrEqual(t, result.Bound, told.Plan.Cost.Total(), name)
			assert.LessOrEqual(t, told.Bound, result.Plan.Cost.Total(), name)
		}
	})
	t.Logf("%d plans below none of the bounds; %d bounds are better than the unavoidable, %d days are proved", plans, raised, proved)
	assert.Greater(t, plans, int(days)*5)
	assert.Greater(t, raised, 3)
	assert.Greater(t, proved, 3)
}
