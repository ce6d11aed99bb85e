package planner

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner/outside"
)

// On a tour a load costs what it costs behind the one before, whatever was earlier:
// there kin must say exactly what an evaluation says, whichever move was made.
func TestKinSaysWhatATourCosts(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	const cities = 9
	arcs := make([][]int, cities)
	for a := range arcs {
		for range cities {
			arcs[a] = append(arcs[a], 1+rng.IntN(200))
		}
	}
	p, report := model.NewProblem((&outside.Tour{Arcs: arcs}).Day())
	require.Empty(t, report.Errors)
	in := newInstance(p)
	e := newEvaluator(in)
	k := newKin(in, e.firstCome())
	require.NotNil(t, k)
	w := newWalker(in, rng, kinMoves(k), &tracker{})
	first := w.e.firstCome()
	w.current.copyFrom(first)
	var g guess
	for range 500 {
		w.trial.copyFrom(w.current)
		if !w.moves[rng.IntN(len(w.moves))](w, w.trial) {
			continue
		}
		assert.ElementsMatch(t, first.sequence, w.trial.sequence, "each load stays, once")
		before := price(w.e.score(w.current))
		came := price(w.e.score(w.trial)) - before
		said := k.added(w.trial.sequence, w.current.sequence)
		require.InDelta(t, came, said, 1e-6)
		g.learn(said, came)
		w.current, w.trial = w.trial, w.current
	}
	assert.InDelta(t, 10, g.least(10, 1), 1e-3, "what always came true is believed")
}

// Where a sprayer has two loads, or there are two bays, more than the order counts.
func TestKinOnlyWhereTheOrderIsAll(t *testing.T) {
	for _, tt := range []struct {
		name string
		pad  outside.Clockwork
		all  bool
	}{
		{"one load each at one bay", outside.Clockwork{Sprayers: 4, Bays: 1, Turns: 1, Fill: 10, Away: 45}, true},
		{"two loads each", outside.Clockwork{Sprayers: 4, Bays: 1, Turns: 2, Fill: 10, Away: 45}, false},
		{"two bays", outside.Clockwork{Sprayers: 4, Bays: 2, Turns: 1, Fill: 10, Away: 45}, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p, report := model.NewProblem(tt.pad.Day())
			require.Empty(t, report.Errors)
			in := newInstance(p)
			assert.Equal(t, tt.all, newKin(in, newEvaluator(in).firstCome()) != nil)
		})
	}
}
