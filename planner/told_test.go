package planner

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner/scenario"
)

// toldRest is the rest of a planned random day from a random moment on, with
// what its crew was told.
type toldRest struct {
	p    *model.Problem // of the whole day
	plan *model.Plan
	rest model.Input
	at   model.Clock
}

// eachToldRest makes such rests; days without a rest are left out.
func eachToldRest(t *testing.T, days uint64, check func(name string, r toldRest, rng *rand.Rand)) {
	used := 0
	for seed := range days {
		rng := rand.New(rand.NewPCG(seed, 11))
		in := scenario.Random(rng)
		p := problem(t, in)
		result, err := Plan(t.Context(), p, Settings{Steps: 500, Seed: seed})
		require.NoError(t, err)
		if len(result.Plan.Loads) == 0 {
			continue
		}
		at := momentOf(result.Plan, rng)
		rest := split(t, in, p, result.Plan, at)
		if len(rest.Jobs) == 0 {
			continue
		}
		tell(p, result.Plan, at, &rest)
		check(fmt.Sprintf("seed %d at %v", seed, at), toldRest{p, result.Plan, rest, at}, rng)
		used++
	}
	assert.Greater(t, used, int(days)/6, "too few days have a rest")
}

// tell notes what of a plan has not begun.
func tell(p *model.Problem, plan *model.Plan, at model.Clock, rest *model.Input) {
	for i, l := range plan.Loads {
		if l.Start < at {
			continue
		}
		told := model.ToldLoad{Sprayer: p.Sprayers[l.Sprayer].Name, Mix: p.Mixes[l.Mix].Name, Bay: p.Bays[l.Bay].Name, Start: l.Start}
		for _, part := range l.Parts {
			told.Jobs = append(told.Jobs, p.Jobs[part.Job].Name)
			told.Acres += part.Acres
		}
		for _, j := range l.Run {
			told.Run = append(told.Run, p.Jobs[j].Name)
		}
		for _, c := range plan.Changes {
			if c.Load == i && c.Off != model.None && c.Off != c.On {
				told.Off = append(told.Off, p.Products[c.Off].Name)
			}
		}
		rest.Underway.Told = append(rest.Underway.Told, told)
	}
	for _, u := range plan.Unsprayed {
		rest.Underway.ToldLeft = append(rest.Underway.ToldLeft, p.Jobs[u.Job].Name)
	}
}

// manyDays is how many days a test tries; fewer where each takes long.
func manyDays() uint64 {
	if testing.Short() {
		return 60
	}
	return 300
}

func TestWithoutNewsThePlanStaysAsTold(t *testing.T) {
	left, days := 0, manyDays()
	eachToldRest(t, days, func(name string, r toldRest, _ *rand.Rand) {
		r.rest.Underway.NoNews = true
		left += min(len(r.plan.Unsprayed), 1)
		q := problem(t, r.rest)
		again, err := Plan(t.Context(), q, Settings{Steps: 500, Seed: 2})
		require.NoError(t, err)
		sameRest(t, name, r.p, q, r.plan, again.Plan, r.at)
		assert.Zero(t, again.Plan.Disturbance, name)
	})
	assert.Greater(t, left, int(days)/15, "days that leave work")
}

// news lets something happen to the rest of a day.
func news(in *model.Input, at model.Clock, rng *rand.Rand) {
	switch rng.IntN(3) {
	case 0:
		from := at + model.Clock(rng.IntN(3600))
		in.Holds = append(in.Holds, model.HoldRow{From: from, To: from + model.Clock(1800+rng.IntN(2*3600)), Kind: "rain"})
	case 1:
		u := &in.Underway.Sprayers[rng.IntN(len(in.Sprayers))]
		u.BackAt = max(u.BackAt, at) + model.Clock(rng.IntN(2*3600))
	default:
		in.Jobs[rng.IntN(len(in.Jobs))].Acres += model.WholeDecimal(int64(1 + rng.IntN(40)))
	}
}

// TestReplanMovesLittle lets something happen: what is frozen stays wherever it
// can, the disturbance is what the moved loads weigh, and the plan is never worse
// than keeping the told order or planning from scratch would be.
func TestReplanMovesLittle(t *testing.T) {
	frozen, moved, days := 0, 0, manyDays()
	eachToldRest(t, days, func(name string, r toldRest, rng *rand.Rand) {
		news(&r.rest, r.at, rng)
		q, report := model.NewProblem(r.rest)
		if !report.OK() || len(r.rest.Underway.Told) == 0 {
			return
		}
		run := func(s Settings) *model.Plan {
			s.Steps, s.Seed = 2000, 3
			result, err := Plan(t.Context(), q, s)
			require.NoError(t, err, name)
			return result.Plan
		}
		kept, plan := run(Settings{KeepTold: true}), run(Settings{})
		told, bays := newInstance(q).told, len(q.Bays)
		told.freeze(q.Underway.At+15*minute, kept, bays)
		_, stays, weight := told.match(plan.Loads, bays)
		for i, l := range told.loads {
			if l.frozen {
				frozen++
				assert.True(t, stays[i], "%s: frozen load %d moves", name, i)
			}
			if !stays[i] {
				moved++
			}
		}
		assert.Equal(t, weight, plan.Disturbance, name)
		_, _, keeping := told.match(kept.Loads, bays)
		inOrder := score{kept.Left, kept.Cost.Total() + keeping}
		assert.False(t, inOrder.less(score{plan.Left, plan.Cost.Total() + plan.Disturbance}), "%s: keeping the told order is better", name)
		scratch := run(Settings{FromScratch: true})
		assert.GreaterOrEqual(t, scratch.Disturbance, model.Money(0), name)
	})
	assert.Greater(t, frozen, int(days)/15)
	assert.Greater(t, moved, int(days)/15)
}

func TestKeptOrderIsTheToldOrder(t *testing.T) {
	eachToldRest(t, 100, func(name string, r toldRest, rng *rand.Rand) {
		from := r.at + model.Clock(rng.IntN(3600))
		r.rest.Holds = append(r.rest.Holds, model.HoldRow{From: from, To: from + 3600, Kind: "rain"})
		q := problem(t, r.rest)
		result, err := Plan(t.Context(), q, Settings{Steps: 500, KeepTold: true})
		require.NoError(t, err, name)
		if len(result.Plan.Unsprayed) > 0 {
			return // what does not fit any more is no part of the order
		}
		order := make([][]string, len(q.Bays))
		for _, l := range result.Plan.Loads {
			order[l.Bay] = append(order[l.Bay], l.ID)
		}
		want := make([][]string, len(q.Bays))
		for _, l := range r.plan.Loads {
			if l.Start >= r.at {
				want[l.Bay] = append(want[l.Bay], l.ID)
			}
		}
		assert.Equal(t, want, order, name)
	})
}

// Moving a load that is to start now weighs change_told, one in an hour half of
// it, one in three hours a quarter.
func TestSoonerChangesWeighMore(t *testing.T) {
	in := plainDay()
	in.Settings.Costs.ChangeTold = dec(20)
	addJob(&in, "J1", "S1", "mix A", 90)
	in.Underway = &model.Underway{At: at(60), Bays: make([]model.BayUnderway, 1), Sprayers: make([]model.SprayerUnderway, 2)}
	laid := newInstance(problem(t, in))
	for hours, want := range map[model.Clock]float64{0: 20, 1: 10, 3: 5, 7: 2.5} {
		assert.InDelta(t, want, laid.changePrice(at(60+60*hours)).Dollars(), 1e-9)
	}
	assert.InDelta(t, 20, laid.changePrice(at(0)).Dollars(), 1e-9, "what should have begun weighs no more")
}

// What a plan left stays left, until something is new: here the pad may stay open.
func TestWhatWasLeftIsTriedAgainWithNews(t *testing.T) {
	in := plainDay()
	in.Settings.Pad.Closes = at(4*60 + 30)
	addJob(&in, "J1", "S1", "mix A", 150)
	addJob(&in, "J2", "S1", "mix A", 150)
	p := problem(t, in)
	told, err := Plan(t.Context(), p, Settings{Steps: 2000, Seed: 1})
	require.NoError(t, err)
	require.NotEmpty(t, told.Plan.Unsprayed)
	rest := split(t, in, p, told.Plan, at(60))
	tell(p, told.Plan, at(60), &rest)
	require.NotEmpty(t, rest.Underway.Told)
	again := func(closes model.Clock, noNews bool) *model.Plan {
		rest.Settings.Pad.Closes, rest.Underway.NoNews = closes, noNews
		result, err := Plan(t.Context(), problem(t, rest), Settings{Steps: 2000, Seed: 1})
		require.NoError(t, err)
		return result.Plan
	}
	for name, plan := range map[string]*model.Plan{
		"no news": again(at(4*60+30), true), "as good as none": again(at(4*60+30), false),
	} {
		assert.Len(t, plan.Loads, len(rest.Underway.Told), name)
		assert.Equal(t, told.Plan.Left, plan.Left, name)
		assert.Equal(t, told.Plan.Unsprayed[0].Reason, plan.Unsprayed[0].Reason, name)
	}
	later := again(at(14*60), false)
	assert.Zero(t, later.Left)
	for i, l := range rest.Underway.Told {
		assert.Equal(t, l.Start, later.Loads[i].Start, "what was told stays")
	}
}
