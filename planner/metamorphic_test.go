package planner_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/model"
	"padturn/planner/scenario"
)

// calmDay is a small random day on which time costs what comes late, and not
// who waits: a sprayer kept in the field is not paid for, so with waiting priced a
// hold could make a plan cheaper by keeping a sprayer from queueing at a bay. For
// the same reason no tank life may turn paid waiting into held time.
func calmDay(rng *rand.Rand) model.Input {
	in := scenario.Random(rng)
	in.Settings.Costs.WaitPerH = 0
	for i := range in.Sprayers {
		in.Sprayers[i].WaitPerH = nil
	}
	for i := range in.Products {
		in.Products[i].TankLifeH = nil
	}
	return in
}

// TestMoreTroubleIsNeverBetter finds the best of all plans of small days by
// trying every one: a longer hold never leaves less or costs less, an earlier
// delivery never leaves more or costs more.
func TestMoreTroubleIsNeverBetter(t *testing.T) {
	const most = 200
	holds, deliveries, worse := 0, 0, 0
	for seed := uint64(0); holds < 20 || deliveries < 8; seed++ {
		rng := rand.New(rand.NewPCG(seed, 5))
		in := calmDay(rng)
		p, report := model.NewProblem(in)
		if !report.OK() {
			continue
		}
		all := allDecisions(p, most)
		if len(all) < 4 {
			continue
		}
		before := bestOf(t, p, all)
		if len(in.Holds) > 0 && holds < 20 {
			longer := in
			longer.Holds = append([]model.HoldRow(nil), in.Holds...)
			longer.Holds[rng.IntN(len(longer.Holds))].To += model.Clock(1800 + rng.IntN(3*3600))
			if q, report := model.NewProblem(longer); report.OK() {
				after := bestOf(t, q, all)
				assert.False(t, beats(after, before), "seed %d: a longer hold is better", seed)
				if beats(before, after) {
					worse++
				}
				holds++
			}
		}
		if len(in.Deliveries) > 0 && deliveries < 8 {
			sooner := in
			sooner.Deliveries = append([]model.DeliveryRow(nil), in.Deliveries...)
			d := &sooner.Deliveries[rng.IntN(len(sooner.Deliveries))]
			d.At -= min(d.At, model.Clock(600+rng.IntN(7200)))
			if q, report := model.NewProblem(sooner); report.OK() {
				assert.False(t, beats(before, bestOf(t, q, all)), "seed %d: an earlier delivery is worse", seed)
				deliveries++
			}
		}
	}
	assert.Greater(t, worse, 2, "holds that change nothing say nothing")
}
