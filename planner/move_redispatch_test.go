package planner

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
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
		for i := range c.sequence {
			c.sequence[i].off = uint32(rng.IntN(4))
		}
		given := slices.Clone(c.sequence)
		d.begin(c, nil, given[0])
		d.goOn(c, 0, given)
		assert.Equal(t, given, c.sequence, "seed %d", seed)
	}
}

// Redispatched sequences are fit, with every feature of a day and of a rest, no load is
// where it can't be filled, and they are often others.
func TestRedispatchedSequencesAreFit(t *testing.T) {
	changed := 0
	try := func(name string, p *model.Problem, rng *rand.Rand) {
		in := newInstance(p)
		w := newWalker(in, rng, movesFor(in, false, false), &tracker{})
		c := w.e.firstCome()
		w.e.fixBays(c)
		for range 50 {
			if _, ok := w.redispatch(c); ok {
				changed++
			}
			d := w.e.decisions(c)
			require.NoError(t, d.check(p), name)
			was := slices.Clone(c.sequence)
			w.e.fixBays(c)
			require.Equal(t, was, c.sequence, name)
		}
	}
	for seed := range uint64(40) {
		rng := rand.New(rand.NewPCG(seed, 22))
		try(fmt.Sprint("seed ", seed), problem(t, scenario.Random(rng)), rng)
	}
	eachToldRest(t, manyDays(), func(name string, r toldRest, rng *rand.Rand) { try(name, problem(t, r.rest), rng) })
	assert.Greater(t, changed, 500)
}

// Walkers lay loads out anew in rests, and on days whose jobs keep their order.
func TestWhereWalkersRedispatch(t *testing.T) {
	in := newInstance(generated(t, scenario.Small))
	assert.True(t, movesFor(in, false, true).redispatches)
	assert.False(t, movesFor(in, false, false).redispatches, "jobs are free")
	rests := 0
	eachToldRest(t, 5, func(name string, r toldRest, _ *rand.Rand) {
		rests++
		assert.True(t, movesFor(newInstance(problem(t, r.rest)), false, false).redispatches, name)
	})
	assert.NotZero(t, rests)
}
