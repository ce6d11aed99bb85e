package planner

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/planner/scenario"
)

// Moves leave candidates fit, also where loads are left out, and say so when they
// change nothing.
func TestMovesLeaveCandidatesFit(t *testing.T) {
	for _, shape := range []scenario.Shape{scenario.Small, {Sprayers: 5, Loads: 30, Bays: 2}} {
		p := generated(t, shape)
		in := newInstance(p)
		set := movesFor(in, true, false)
		w := newWalker(in, rand.New(rand.NewPCG(1, 2)), set, &tracker{})
		w.moves = append(w.moves, orderMixes)
		w.current.copyFrom(w.e.firstCome())
		w.settleAt(w.e.score(w.current))
		changed := make([]int, len(w.moves))
		for i := range 4000 {
			w.trial.copyFrom(w.current)
			before := w.priced
			k := i % len(w.moves)
			if !w.moves[k](w, w.trial) {
				continue
			}
			changed[k]++
			d := w.e.decisions(w.trial)
			require.NoError(t, d.check(p), "move %d", k)
			w.e.fixBays(w.trial)
			if s := w.e.score(w.trial); price(s) < before+200 {
				w.current, w.trial = w.trial, w.current
				w.settleAt(s)
			}
		}
		assert.NotContains(t, changed, 0)
	}
}

// What matters says does not matter leaves the plan as it is.
func TestSlotsThatPassOtherBaysAndSprayersChangeNothing(t *testing.T) {
	in := newInstance(generated(t, scenario.Shape{Sprayers: 5, Loads: 30, Bays: 2}))
	e := newEvaluator(in)
	c := e.firstCome()
	want, n, same := e.evaluate(c), len(c.sequence), 0
	for i := range n {
		for j := max(i-3, 0); j < min(i+4, n); j++ {
			if i == j || c.matters(i, j) {
				continue
			}
			same++
			moveItem(c.sequence, i, j)
			assert.Equal(t, want, e.evaluate(c), "%d to %d", i, j)
			moveItem(c.sequence, j, i)
		}
	}
	assert.NotZero(t, same)
}

// A load goes behind those that start at its bay before its sprayer is ready.
func TestPlaceForAndHop(t *testing.T) {
	c := &candidate{sequence: []slot{{0, 0, 0}, {1, 1, 0}, {2, 0, 0}, {3, 1, 0}, {4, 0, 0}}}
	w := &walker{times: []times{{start: 10}, {start: 15}, {start: 20}, {start: 25}, {ready: 18, start: 40}}}
	assert.Equal(t, 1, w.placeFor(c, 4, 0))
	assert.Equal(t, 2, w.placeFor(c, 4, 1))
	assert.Equal(t, 3, c.hop(1, 0, 1))
	assert.Equal(t, 5, c.hop(1, 0, 3))
	assert.Equal(t, 1, c.hop(3, 1, -1))
	assert.Equal(t, 0, c.hop(3, 0, -5))
}
