package planner_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner"
	"padturn/planner/scenario"
)

// TestProofsStandAgainstAllPlans tries every decision there is about tiny days
// with every feature. No bound may be above the best of them, and what is called
// proved must cost what the best costs.
func TestProofsStandAgainstAllPlans(t *testing.T) {
	wanted, proved := 20, 0
	if testing.Short() {
		wanted = 8
	}
	for seed := uint64(0); wanted > 0; seed++ {
		p, _ := model.NewProblem(scenario.Random(rand.New(rand.NewPCG(seed, 3))))
		all := allDecisions(p, 600)
		if len(all) < 20 {
			continue
		}
		best := bestOf(t, p, all)
		if best.Left != 0 {
			continue
		}
		wanted--
		r, err := planner.Plan(t.Context(), p, planner.Settings{Steps: 2000, Seed: 1, Prove: true})
		require.NoError(t, err)
		assert.LessOrEqual(t, r.Bound, best.Cost.Total(), "seed %d", seed)
		assert.LessOrEqual(t, r.Unavoidable, r.Bound, "seed %d", seed)
		if r.Status == model.StatusProved {
			proved++
			assert.Equal(t, best.Cost.Total(), r.Plan.Cost.Total(), "seed %d", seed)
		}
	}
	assert.Greater(t, proved, 0, "days with a proof")
}

// TestProofOfADay proves days of twenty loads with sharing and jobs for any
// sprayer in file order, whatever the walkers find.
func TestProofOfADay(t *testing.T) {
	crowdings := scenario.Crowdings()
	if testing.Short() {
		crowdings = crowdings[:1]
	}
	for _, c := range crowdings {
		input := scenario.Small.Day(c, 1)
		input.Holds, input.Forecast, input.Settings.Pad.Water = nil, nil, nil
		p, report := model.NewProblem(input)
		require.True(t, report.OK())
		var costs []model.Money
		for _, steps := range []int64{2000, 50_000} {
			r, err := planner.Plan(t.Context(), p, planner.Settings{Steps: steps, Seed: 1, KeepOrder: true, Prove: true})
			require.NoError(t, err)
			assert.Equal(t, model.StatusProved, r.Status, "%v", c)
			costs = append(costs, r.Plan.Cost.Total())
		}
		assert.Equal(t, costs[0], costs[1], "two proofs of one day")
	}
}

// What is told of a proof begins without a bound: on a day whose passes come far, the
// bound of its few prices is lower than a plan gets without a proof. No bound falls.
func TestProofTellsNoWeakBound(t *testing.T) {
	input := scenario.Small.Day(scenario.Crowdings()[0], 1)
	input.Holds, input.Forecast, input.Settings.Pad.Water = nil, nil, nil
	p, report := model.NewProblem(input)
	require.True(t, report.OK())
	var bounds []float64
	settings := planner.Settings{Steps: 50_000, Seed: 1, KeepOrder: true, Prove: true, Progress: func(now planner.Progress) {
		if now.Proving {
			bounds = append(bounds, now.Bound)
		}
	}}
	_, err := planner.Plan(t.Context(), p, settings)
	require.NoError(t, err)
	require.Greater(t, len(bounds), 2)
	assert.Zero(t, bounds[0])
	assert.Zero(t, bounds[1], "the prices'")
	assert.True(t, slices.IsSorted(bounds), "%v", bounds)
	assert.Positive(t, bounds[2])
}
