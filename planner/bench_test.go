package planner

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"padturn/planner/scenario"
)

// BenchmarkEvaluate times one candidate, as the search evaluates it: the first
// plan of generated days.
func BenchmarkEvaluate(b *testing.B) {
	for _, shape := range []scenario.Shape{scenario.Small, scenario.Middle, scenario.Vast} {
		b.Run(fmt.Sprintf("%d-loads", shape.Loads), func(b *testing.B) {
			e := newEvaluator(newInstance(generated(b, shape)))
			c := e.firstCome()
			b.ReportAllocs()
			for b.Loop() {
				e.evaluate(c)
			}
		})
	}
}

// BenchmarkPlan times whole searches and reports what they reach.
func BenchmarkPlan(b *testing.B) {
	for _, shape := range []scenario.Shape{scenario.Small, scenario.Middle} {
		p := generated(b, shape)
		b.Run(fmt.Sprintf("%d-loads", shape.Loads), func(b *testing.B) {
			for b.Loop() {
				r, err := Plan(b.Context(), p, Settings{Steps: QuickSteps, Seed: 1})
				require.NoError(b, err)
				require.Zero(b, r.Plan.Left)
				b.ReportMetric(r.Plan.Cost.Total().Dollars(), "dollars")
			}
		})
	}
}
