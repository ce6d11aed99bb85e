package planner

import (
	"context"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner/scenario"
)

// proven is all that a proof says on its way.
type proven struct {
	Found         []Decisions
	Bounds, Below []model.Money
	Spent         []int64
}

// proveOn takes all passes of a day on so many goroutines, beams between them and
// all, up to so many labels.
func proveOn(t *testing.T, in *instance, use padUse, goroutines int, labels int64) proven {
	t.Helper()
	p := newProver(newWorkshop(in), use, scope{inOrder: true}, noWay/8, goroutines)
	require.NotNil(t, p)
	var r proven
	steps := p.guided(t.Context(), labels/4)
	for {
		if steps != nil {
			r.Found = append(r.Found, p.decisions(steps))
			e := newEvaluator(in)
			p.lower(e.evaluate(e.candidateOf(&r.Found[len(r.Found)-1])).cost)
		}
		r.Bounds, r.Below, r.Spent = append(r.Bounds, p.bound), append(r.Below, p.below), append(r.Spent, p.spent)
		if p.done || p.spent >= labels {
			return r
		}
		steps = p.pass(t.Context(), labels-p.spent)
	}
}

// TestProofIsTheSameOnAnyNumberOfCores takes passes and beams on one, two and more
// goroutines: they find the same plans and bounds and look at the same labels.
func TestProofIsTheSameOnAnyNumberOfCores(t *testing.T) {
	labels := int64(40_000)
	if testing.Short() {
		labels = 4_000
	}
	for _, shape := range []scenario.Shape{{Sprayers: 3, Loads: 16, Bays: 1}, {Sprayers: 3, Loads: 12, Bays: 2}} {
		for _, use := range []padUse{forBounds, forPlans} {
			in := calmDay(t, shape, scenario.Busy, 1)
			one := proveOn(t, in, use, 1, labels)
			assert.NotEmpty(t, one.Found, shape)
			assert.NotZero(t, one.Spent, shape)
			for _, goroutines := range []int{2, 4, 7} {
				assert.Equal(t, one, proveOn(t, in, use, goroutines, labels), "%v on %d", shape, goroutines)
			}
		}
	}
}

// TestPlanIsTheSameOnAnyNumberOfCores is the same for all of a plan: one that is proved, and
// one of a day that the exact search knows only once its routes are given, where beams look
// among the plans of several routes at once.
func TestPlanIsTheSameOnAnyNumberOfCores(t *testing.T) {
	proved := calmDay(t, scenario.Shape{Sprayers: 3, Loads: 16, Bays: 1}, scenario.Busy, 1).p
	r := sameOnCores(t, proved, Settings{Steps: 2000, Seed: 1, KeepOrder: true, Prove: true})
	assert.Equal(t, model.StatusProved, r.Status)

	in := calmDay(t, scenario.Shape{Sprayers: 5, Loads: 30, Bays: 2}, scenario.Busy, 1)
	routed := Settings{Steps: 20_000, Seed: 1}
	e := newEvaluator(in)
	s := &search{in: in, shop: e.shop, settings: routed, start: []Decisions{e.decisions(e.firstCome())}}
	s.learnOrder()
	assert.True(t, s.ordered && !s.known)
	assert.Zero(t, sameOnCores(t, in.p, routed).Plan.Left)
}

// sameOnCores plans a day on 1, 2 and 4 cores, and returns what all of them come to.
func sameOnCores(t *testing.T, p *model.Problem, s Settings) *model.Result {
	t.Helper()
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	var first *model.Result
	for _, cores := range []int{1, 2, 4} {
		runtime.GOMAXPROCS(cores)
		r, err := Plan(t.Context(), p, s)
		require.NoError(t, err)
		if first == nil {
			first = r
		}
		assert.Equal(t, first, r, "%d cores", cores)
	}
	return first
}

// TestProofStops stops a pass that would take long.
func TestProofStops(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	in := calmDay(t, scenario.Shape{Sprayers: 4, Loads: 24, Bays: 2}, scenario.Busy, 1)
	p := newProver(newWorkshop(in), forBounds, scope{inOrder: true}, noWay/8, 2)
	assert.Nil(t, p.pass(ctx, 1<<40))
	assert.True(t, p.done)
	assert.Less(t, p.spent, int64(100))
}
