package planner

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner/scenario"
)

// restOfDay is the rest of a planned day of the family from a random moment on, with
// what its crew was told; nil where the day leaves no rest. Change takes out of the
// day what the exact search does not count.
func restOfDay(t testing.TB, shape scenario.Shape, rng *rand.Rand, change func(*model.Input)) *instance {
	t.Helper()
	in := shape.Day(scenario.Crowded, rng.Uint64())
	change(&in)
	p := problem(t, in)
	r, err := Plan(t.Context(), p, Settings{Steps: 200, Seed: 1})
	require.NoError(t, err)
	if len(r.Plan.Unsprayed) > 0 {
		return nil
	}
	at := momentOf(r.Plan, rng)
	rest := split(t, in, p, r.Plan, at)
	if len(rest.Jobs) == 0 {
		return nil
	}
	tell(p, r.Plan, at, &rest)
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
// for bounds without weather and what was told, for plans with both.
func TestModelCountsDaysUnderWay(t *testing.T) {
	for _, use := range []padUse{forBounds, forPlans} {
		compared, days := 0, uint64(60)
		if testing.Short() {
			days = 20
		}
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
			if use == forBounds {
				in.told = nil
			} else {
				freezeSome(in, rng)
			}
			if m := newPadModel(in, use, rng.IntN(2) == 0, nil); m != nil {
				compared += compareWays(t, m, rng, seed)
			}
		}
		assert.Greater(t, compared, int(days)*2, "use %v", use)
	}
}

// freezeSome freezes some of what was told.
func freezeSome(in *instance, rng *rand.Rand) {
	for i := range in.told.loads {
		if l := &in.told.loads[i]; rng.IntN(4) == 0 {
			l.frozen = true
			in.told.hard++
			in.told.price += 4 * l.price
			l.price *= 5
		}
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
		if m.told != nil {
			want += brokenPrice * model.Money(e.broken)
		}
		if len(m.any) == 0 {
			assert.Equal(t, want, value+cost, "seed %d: %v and %v", seed, want.Dollars(), (value + cost).Dollars())
		}
		assert.LessOrEqual(t, want, value+cost, "seed %d", seed)
	}
	return compared
}
