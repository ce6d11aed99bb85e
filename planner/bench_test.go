package planner

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// BenchmarkEvaluate times one candidate, as the search evaluates it.
func BenchmarkEvaluate(b *testing.B) {
	for _, name := range []string{"small", "spring-rush"} {
		b.Run(name, func(b *testing.B) {
			e := newEvaluator(newInstance(example(b, name)))
			c := e.firstCome()
			b.ReportAllocs()
			for b.Loop() {
				e.evaluate(c)
			}
			b.ReportMetric(float64(len(c.sequence)), "loads")
		})
	}
}

// BenchmarkPlan times whole searches and reports what they reach.
func BenchmarkPlan(b *testing.B) {
	for _, name := range []string{"small", "spring-rush"} {
		p := example(b, name)
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				r, err := Plan(b.Context(), p, Settings{Steps: QuickSteps, Seed: 1})
				require.NoError(b, err)
				require.Zero(b, r.Plan.Left)
				b.ReportMetric(r.Plan.Cost.Total().Dollars(), "dollars")
			}
		})
	}
}
