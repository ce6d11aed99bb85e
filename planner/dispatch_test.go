package planner

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner/scenario"
)

// A dispatched sequence is fit for any jobs of sprayers, on days with every feature.
func TestDispatchedSequencesAreFit(t *testing.T) {
	for seed := range uint64(60) {
		rng := rand.New(rand.NewPCG(seed, 12))
		p := problem(t, scenario.Random(rng))
		in := newInstance(p)
		w := newWalker(in, rng, movesFor(in, false, false), &tracker{})
		c := w.e.firstCome()
		c.omitted = nil
		for range 20 {
			if len(w.routeMoves) > 0 {
				w.routeMoves[rng.IntN(len(w.routeMoves))](w, c)
			}
			w.dispatcher.dispatch(c)
			d := w.e.decisions(c)
			require.NoError(t, d.check(p), "seed %d", seed)
		}
	}
}

// Where every bay has room for all products, and nothing runs short or is shut, a
// dispatcher holds a sequence to cost what it does cost.
func TestDispatcherCountsAsTheEvaluator(t *testing.T) {
	counted := 0
	for seed := range uint64(200) {
		rng := rand.New(rand.NewPCG(seed, 13))
		day := scenario.Random(rng)
		ample(&day)
		e := newEvaluator(newInstance(problem(t, day)))
		c := e.firstCome()
		d := dispatcher{e: e}
		said := d.dispatch(c)
		c.omitted = nil
		if s := e.evaluate(c); s.left == 0 {
			counted++
			assert.Equal(t, s.cost.Dollars(), said.Dollars(), "seed %d", seed)
		}
	}
	assert.Greater(t, counted, 100)
}

// So it does in the rest of a day that has begun, where no product is kept in totes.
func TestDispatcherCountsARestAsTheEvaluator(t *testing.T) {
	counted := 0
	eachToldRest(t, manyDays(), func(name string, r toldRest, _ *rand.Rand) {
		ample(&r.rest)
		e := newEvaluator(newInstance(problem(t, r.rest)))
		e.in.told = nil
		c, d := e.firstCome(), dispatcher{e: e}
		said := d.dispatch(c)
		c.omitted = nil
		if s := e.evaluate(c); s.left == 0 && len(e.in.tracked) == 0 {
			counted++
			assert.Equal(t, s.cost.Dollars(), said.Dollars(), name)
		}
	})
	assert.Greater(t, counted, 10)
}

// A load that no bay can fill goes to one that has no place for its product.
func TestDispatchWhereNoBayCanFill(t *testing.T) {
	in := plainDay()
	in.Settings.Pad.Bays[0].Plumbed = []string{"A"}
	addJob(&in, "b", "S1", "mix B", 10)
	e := newEvaluator(newInstance(problem(t, in)))
	c, d := e.firstCome(), dispatcher{e: e}
	d.dispatch(c)
	assert.Equal(t, []slot{{}}, c.sequence)
	assert.NotZero(t, e.score(c).left)
}

// Nobody waits for a bay that is shut while another is free.
func TestDispatchKeepsClearOfShutBays(t *testing.T) {
	in := plainDay()
	in.Settings.Pad.Bays = append(in.Settings.Pad.Bays, in.Settings.Pad.Bays[0])
	in.Settings.Pad.Bays[1].Name = "south"
	in.Holds = []model.HoldRow{{From: 6 * 3600, To: 12 * 3600, Scope: "bay:north"}}
	addJob(&in, "a", "S1", "mix A", 10)
	e := newEvaluator(newInstance(problem(t, in)))
	c, d := e.firstCome(), dispatcher{e: e}
	d.dispatch(c)
	assert.Equal(t, []slot{{bay: 1}}, c.sequence)
}

// What a dispatcher remembers of a sprayer's best bay is what it would find anew.
func TestDispatcherRemembersRightly(t *testing.T) {
	for seed := range uint64(60) {
		day := scenario.Random(rand.New(rand.NewPCG(seed, 14)))
		ample(&day)
		e := newEvaluator(newInstance(problem(t, day)))
		c, d := e.firstCome(), dispatcher{e: e}
		loads := len(c.sequence)
		d.open(c)
		for c.sequence = c.sequence[:0]; len(c.sequence) < loads; {
			s := d.next()
			remembered := slices.Clone(d.comers)
			for i := range d.comers {
				d.comers[i].known = false
			}
			require.Equal(t, s, d.next(), "seed %d", seed)
			require.Equal(t, remembered[s], d.comers[s], "seed %d", seed)
			copy(d.comers, remembered)
			d.serve(c, s)
		}
	}
}

// ample takes out of a day what a dispatcher does not know; which bay has which tote
// makes no difference there.
func ample(day *model.Input) {
	day.Holds, day.Forecast, day.Settings.Pad.Water = nil, nil, nil
	sizes := map[string]model.Decimal{}
	for i := range day.Stock {
		row := &day.Stock[i]
		if _, ok := sizes[row.Product]; !ok {
			sizes[row.Product] = row.Size
		}
		row.Size, row.Open, row.Full = sizes[row.Product], nil, row.Full+model.WholeDecimal(1000)
	}
	for i := range day.Settings.Pad.Bays {
		day.Settings.Pad.Bays[i].Connections += 20
	}
}

// Who can be filled first goes first; but a set-up counts twice, so that a bay has a
// load of the mix that it is set up for before another that comes a little sooner.
func TestDispatchSparesSetUps(t *testing.T) {
	order := func(late model.Clock) []slot {
		in := plainDay()
		addJob(&in, "first", "S1", "mix A", 10)
		addJob(&in, "same", "S2", "mix A", 10)
		addJob(&in, "other", "S3", "mix B", 10)
		in.Sprayers = append(in.Sprayers, in.Sprayers[0])
		in.Sprayers[2].Sprayer = "S3"
		in.Sprayers[1].AvailableFrom = model.Some(at(late))
		day := newInstance(problem(t, in))
		e := newEvaluator(day)
		c, d := e.firstCome(), dispatcher{e: e}
		d.dispatch(c)
		return c.sequence
	}
	// B is hooked up in 5 minutes, once the first load is in after 2.
	assert.Equal(t, []slot{{sprayer: 0}, {sprayer: 1}, {sprayer: 2}}, order(11))
	assert.Equal(t, []slot{{sprayer: 0}, {sprayer: 2}, {sprayer: 1}}, order(40))
}

// A mix goes before or behind another on the sprayers that have both.
func TestOrderOnPutsAMixBesideAnother(t *testing.T) {
	in := plainDay()
	for i, mix := range []string{"mix A", "mix B", "mix C", "mix A", "mix B", "mix C"} {
		addJob(&in, string(rune('a'+i)), "S1", mix, 10)
	}
	day := newInstance(problem(t, in))
	w := newWalker(day, rand.New(rand.NewPCG(1, 1)), movesFor(day, false, false), &tracker{})
	after := func(mix, other int, before bool) []int {
		c := w.e.firstCome()
		c.jobs[0] = []int{0, 1, 2, 3, 4, 5}
		w.orderOn(c, 0, mix, other, before)
		return c.jobs[0]
	}
	assert.Equal(t, []int{2, 5, 0, 1, 3, 4}, after(2, 0, true))
	assert.Equal(t, []int{1, 2, 4, 0, 3, 5}, after(0, 1, false))
	assert.Equal(t, []int{0, 3, 1, 2, 4, 5}, after(0, 1, true))
	assert.False(t, w.orderOn(w.e.firstCome(), 1, 0, 1, true), "a sprayer without jobs")
}
