package planner

import (
	"testing"

	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner/scenario"
)

// BenchmarkEvaluate times one candidate, as the search evaluates it: the first
// plan of the two examples, and of a generated day of 60 loads.
func BenchmarkEvaluate(b *testing.B) {
	middle, report := model.NewProblem(scenario.Middle.Day(scenario.Busy, 1))
	require.Empty(b, report.Errors)
	for name, p := range map[string]*model.Problem{"small": example(b, "small"), "spring-rush": example(b, "spring-rush"), "sixty-loads": middle} {
		b.Run(name, func(b *testing.B) {
			e := newEvaluator(newInstance(p))
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
