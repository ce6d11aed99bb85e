package main

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/io/dayfiles"
	"padturn/model"
	"padturn/planner"
)

func example(t testing.TB, name string) *model.Problem {
	t.Helper()
	day, err := dayfiles.Read(filepath.Join("../../examples", name))
	require.NoError(t, err)
	return day.Problem
}

func TestPlanBeatsFirstComeOnEveryExample(t *testing.T) {
	tests := []struct {
		name     string
		mostLeft float64 // priority acres
		mostCost float64 // share of first come, first served's, where nothing is left
	}{
		{"small", 0, 0.6},
		{"spring-rush", 0, 0.8},
		{"short-stock", 230, 2}, // sprays far more, so it may cost more
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r, err := planner.Plan(t.Context(), example(t, tt.name), planner.Settings{Steps: planner.QuickSteps, Seed: 1})
			require.NoError(t, err)
			assert.LessOrEqual(t, r.Plan.Left.Float(), tt.mostLeft)
			assert.LessOrEqual(t, r.Plan.Cost.Total().Dollars(), tt.mostCost*r.Baseline.Cost.Total().Dollars())
			assert.LessOrEqual(t, r.Bound, r.Plan.Cost.Total())
		})
	}
}

func TestKeepOrderKeepsJobsInFileOrder(t *testing.T) {
	for _, name := range []string{"small", "spring-rush"} {
		r, err := planner.Plan(t.Context(), example(t, name), planner.Settings{Steps: 5000, Seed: 1, KeepOrder: true})
		require.NoError(t, err)
		last := map[int]int{}
		for _, l := range r.Plan.Loads {
			for _, part := range l.Parts {
				assert.GreaterOrEqual(t, part.Job, last[l.Sprayer], "%s: load %s", name, l.ID)
				last[l.Sprayer] = part.Job
			}
		}
	}
}

// BenchmarkExamples times reading and checking a day, and a quick search.
func BenchmarkExamples(b *testing.B) {
	for _, name := range []string{"small", "spring-rush"} {
		b.Run("read/"+name, func(b *testing.B) {
			for b.Loop() {
				example(b, name)
			}
		})
		b.Run("plan/"+name, func(b *testing.B) {
			p := example(b, name)
			for b.Loop() {
				r, err := planner.Plan(b.Context(), p, planner.Settings{Steps: planner.QuickSteps, Seed: 1})
				require.NoError(b, err)
				require.Zero(b, r.Plan.Left)
				b.ReportMetric(r.Plan.Cost.Total().Dollars(), "dollars")
			}
		})
	}
}
