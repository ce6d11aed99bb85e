package planner

import (
	"testing"

	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner/scenario"
)

// A label that has passed a job for any sprayer over, on all sprayers, looks cheap and leads
// nowhere; a narrow beam that keeps such labels keeps no others.
func TestNarrowBeamPassesNoJobOver(t *testing.T) {
	p, report := model.NewProblem(scenario.Shape{Sprayers: 4, Loads: 60, Bays: 1}.Day(scenario.Busy, 1))
	require.Empty(t, report.Errors)
	in := newInstance(p)
	require.NotEmpty(t, in.anyJobs)
	e := newEvaluator(in)
	first := e.score(e.firstCome())
	require.Zero(t, first.left)

	beam := newProver(e.shop, forPlans, scope{inOrder: true}, first.cost, 1)
	steps := beam.guided(t.Context(), 100*int64(len(e.firstCome().sequence)))
	require.NotNil(t, steps)
	d := beam.decisions(steps)
	found := e.score(e.candidateOf(&d))
	require.Zero(t, found.left)
	require.Less(t, found.cost, first.cost)
}
