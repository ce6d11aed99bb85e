package planner

import (
	"testing"

	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner/scenario"
)

// narrow is how many labels its beam takes further in each layer.
const narrow = 100

// TestNarrowBeamFindsAPlanInFileOrder is of a day with jobs for any sprayer. A label that has
// passed one over, on all sprayers, looks cheap and leads nowhere; a narrow beam that keeps
// such labels keeps no others.
func TestNarrowBeamFindsAPlanInFileOrder(t *testing.T) {
	p, report := model.NewProblem(scenario.Shape{Sprayers: 4, Loads: 60, Bays: 1}.Day(scenario.Busy, 1))
	require.Empty(t, report.Errors)
	in := newInstance(p)
	require.NotEmpty(t, in.anyJobs)
	e := newEvaluator(in)
	come := e.firstCome()
	first := e.score(come)
	require.Zero(t, first.left)

	beam := newProver(e.shop, forPlans, scope{inOrder: true}, first.cost, 1)
	require.NotNil(t, beam)
	steps := beam.guided(t.Context(), narrow*int64(len(come.sequence)))
	require.NotNil(t, steps)
	d := beam.decisions(steps)
	found := e.score(e.candidateOf(&d))
	require.Zero(t, found.left)
	require.Less(t, found.cost, first.cost)
}
