package planner

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/planner/scenario"
)

// A dispatcher that is given the first loads of what it laid out goes on as it did. Where
// something runs short it need not: who waits for it is asked anew.
func TestDispatcherGoesOnAsBegun(t *testing.T) {
	for seed := range uint64(40) {
		rng := rand.New(rand.NewPCG(seed, 21))
		day := scenario.Random(rng)
		ample(&day)
		e := newEvaluator(newInstance(problem(t, day)))
		c, d := e.firstCome(), dispatcher{e: e}
		cost := d.dispatch(c)
		whole := slices.Clone(c.sequence)
		for m, next := range whole {
			d.begin(c, whole[:m], next)
			assert.Equal(t, cost, d.goOn(c, len(whole), whole), "seed %d, from %d", seed, m)
			require.Equal(t, whole, c.sequence, "seed %d, from %d", seed, m)
		}
	}
}

// A dispatcher that is to lay out nothing leaves a sequence as it is.
func TestDispatcherKeepsWhatItIsGiven(t *testing.T) {
	for seed := range uint64(40) {
		rng := rand.New(rand.NewPCG(seed, 23))
		e := newEvaluator(newInstance(problem(t, scenario.Random(rng))))
		c, d := e.firstCome(), dispatcher{e: e}
		rng.Shuffle(len(c.sequence), func(i, j int) { c.sequence[i], c.sequence[j] = c.sequence[j], c.sequence[i] })
		e.fixBays(c)
		given := slices.Clone(c.sequence)
		d.begin(c, nil, given[0])
		d.goOn(c, 0, given)
		assert.Equal(t, given, c.sequence, "seed %d", seed)
	}
}

// Redispatched sequences are fit, with every feature of a day, and often others.
func TestRedispatchedSequencesAreFit(t *testing.T) {
	changed := 0
	for seed := range uint64(40) {
		rng := rand.New(rand.NewPCG(seed, 22))
		p := problem(t, scenario.Random(rng))
		in := newInstance(p)
		w := newWalker(in, rng, movesFor(in, false, false), &tracker{})
		c := w.e.firstCome()
		for range 50 {
			_, ok := w.redispatch(c)
			if ok {
				changed++
			}
			d := w.e.decisions(c)
			require.NoError(t, d.check(p), "seed %d", seed)
		}
	}
	assert.Greater(t, changed, 500)
}
