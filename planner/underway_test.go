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

// TestRestOfADayIsTheDaysRest cuts random plans of random days at a random
// moment: with the part that has begun fixed, the same decisions about the rest
// make the same loads at the same times for the same cost as in the whole day.
func TestRestOfADayIsTheDaysRest(t *testing.T) {
	days := uint64(1500)
	if testing.Short() {
		days = 300
	}
	compared, begun, stood := 0, 0, 0
	for seed := range days {
		rng := rand.New(rand.NewPCG(seed, 7))
		in := scenario.Random(rng)
		if seed%3 == 0 {
			scenario.DryPad(&in)
		}
		p := problem(t, in)
		w := newWalker(newInstance(p), rng, movesFor(newInstance(p), false, false), &tracker{})
		c := anyCandidate(w)
		plan := w.e.settle(c)
		if len(plan.Unsprayed) > 0 || len(plan.Loads) == 0 {
			continue
		}
		at := momentOf(plan, rng)
		rest := split(t, in, p, plan, at)
		if len(rest.Jobs) == 0 {
			continue
		}
		q, report := model.NewProblem(rest)
		require.Empty(t, report.Errors, "seed %d", seed)
		d := restOf(w.e.decisions(c), plan, p, q, at)
		again, err := Evaluate(q, d)
		require.NoError(t, err, "seed %d", seed)
		if !sameRest(t, fmt.Sprintf("seed %d at %v", seed, at), p, q, plan, again, at) {
			return
		}
		if !sameWhole(t, fmt.Sprintf("seed %d at %v", seed, at), p, q, plan, again, at) {
			return
		}
		compared++
		begun += len(plan.Loads) - len(again.Loads)
		for _, l := range plan.Loads {
			if l.Soonest() < l.Ready {
				stood++
			}
		}
	}
	t.Logf("%d days compared, %d loads begun, %d cleanouts waited", compared, begun, stood)
	assert.Greater(t, compared, int(days)/5)
	assert.Greater(t, begun, compared)
	assert.Greater(t, stood, compared/20)
}

// anyCandidate is first come, first served, changed at random.
func anyCandidate(w *walker) *candidate {
	c := w.e.firstCome()
	for range w.rng.IntN(30) {
		w.e.score(c)
		w.noteTimes()
		w.moves[w.rng.IntN(len(w.moves))](w, c)
		w.e.fixBays(c)
	}
	return c
}

// momentOf is any moment of a plan, now and then one at which something begins.
func momentOf(plan *model.Plan, rng *rand.Rand) model.Clock {
	l := plan.Loads[rng.IntN(len(plan.Loads))]
	switch rng.IntN(6) {
	case 0:
		return l.Start
	case 1:
		return l.SetupStart
	case 2:
		return l.CleanoutFrom + 1
	case 3:
		return l.SetupStart + 1
	}
	first, last := plan.Loads[0].SetupStart, plan.Loads[len(plan.Loads)-1].Start
	return first + model.Clock(rng.IntN(int(last-first)+1))
}

// restOf takes what has begun out of decisions.
func restOf(d Decisions, plan *model.Plan, p, q *model.Problem, at model.Clock) Decisions {
	number := map[string]int{}
	for i, j := range q.Jobs {
		number[j.Name] = i
	}
	rest := Decisions{Routes: make([][]Run, len(d.Routes)), TakeOff: d.TakeOff}
	for s, route := range d.Routes {
		for _, run := range route {
			var left Run
			for _, j := range run {
				if i, ok := number[p.Jobs[j].Name]; ok {
					left = append(left, i)
				}
			}
			if len(left) > 0 {
				rest.Routes[s] = append(rest.Routes[s], left)
			}
		}
	}
	begun := make([]int, len(p.Sprayers))
	for _, l := range plan.Loads {
		if l.Start < at {
			begun[l.Sprayer]++
		}
	}
	for _, slot := range d.Sequence {
		if begun[slot.Sprayer]--; begun[slot.Sprayer] < 0 {
			rest.Sequence = append(rest.Sequence, slot)
		}
	}
	return rest
}

func sameRest(t *testing.T, name string, p, q *model.Problem, plan, again *model.Plan, at model.Clock) bool {
	want := slices.DeleteFunc(slices.Clone(plan.Loads), func(l model.PlannedLoad) bool { return l.Start < at })
	if !assert.Len(t, again.Loads, len(want), name) {
		return false
	}
	ok := true
	for i := range want {
		a, b := &want[i], &again.Loads[i]
		if a.Soonest() < a.Ready && a.CleanoutFrom < at { // the rest knows nothing of the wait before it
			ok = ok && assert.GreaterOrEqual(t, a.Wait, b.Wait, name)
			a.Wait, a.Held = b.Wait, b.Held
		}
		ok = ok && assert.Equal(t, timesOf(p, a, at), timesOf(q, b, at), "%s: load %s", name, a.ID)
		for k := range a.Parts {
			ok = ok && assert.InDelta(t, int64(a.Parts[k].Acres), int64(b.Parts[k].Acres), 2, name)
		}
		for k := range a.Doses {
			// A job of nine decimals is known to the billionth only.
			ok = ok && assert.InDelta(t, int64(a.Doses[k].Amount), int64(b.Doses[k].Amount), 100, name)
		}
	}
	return ok && sameCost(t, name, p, plan, again, at)
}

// timesOf is what a load must have in common in both plans; set-ups and
// cleanouts that have begun are not in the rest.
func timesOf(p *model.Problem, l *model.PlannedLoad, at model.Clock) string {
	cleanout := l.CleanoutFrom
	if l.CleanoutFrom < at {
		cleanout = l.Ready
	}
	text := fmt.Sprint(l.ID, " bay ", l.Bay, " seq ", l.Seq, " ", p.Mixes[l.Mix].Name, " cleanout ", cleanout, " ready ", l.Ready,
		" start ", l.Start, " end ", l.End, " back ", l.BackAt, " sprayed ", l.SprayedAt, " wait ", l.Wait, " held ", l.Held)
	for _, part := range l.Parts {
		text += " " + p.Jobs[part.Job].Name
	}
	return text
}

// sameCost compares the rest's cost with what the whole day's is beyond that of
// its history.
func sameCost(t *testing.T, name string, p *model.Problem, plan, again *model.Plan, at model.Clock) bool {
	tally := &tally{in: newInstance(p)}
	for i := range plan.Loads {
		l := plan.Loads[i]
		if l.Start >= at {
			begun := model.PlannedLoad{Rinse: model.None, Cleanout: model.None}
			begun.Sprayer = l.Sprayer
			if l.Cleanout != model.None && l.CleanoutFrom < at {
				begun.Cleanout, begun.Wait = l.Cleanout, l.Wait-loadNamed(again, l.ID).Wait
			}
			if l.Rinse != model.None && l.SetupStart < at {
				begun.Rinse = l.Rinse
			}
			l = begun
		}
		tally.load(&l)
	}
	for _, c := range plan.Changes {
		if c.At < at && !c.Inside || plan.Loads[c.Load].Start < at {
			tally.count(model.CostChangeover, model.One, tally.in.changeMoney)
		}
	}
	history := tally.cost()
	for part := range model.NumCostParts {
		want, got := plan.Cost.Money[part]-history.Money[part], again.Cost.Money[part]
		switch part {
		case model.CostTimeliness: // rates of parts are rounded to the micro-dollar
			if !assert.InDelta(t, want.Dollars(), got.Dollars(), 1e-4, "%s: %s", name, part) {
				return false
			}
		case model.CostOvertime, model.CostLate: // of loads and jobs that are history, too
			if !assert.LessOrEqual(t, got, want, "%s: %s", name, part) {
				return false
			}
		default:
			if !assert.Equal(t, want, got, "%s: %s", name, part) {
				return false
			}
		}
	}
	return true
}

func loadNamed(plan *model.Plan, id string) *model.PlannedLoad {
	return &plan.Loads[slices.IndexFunc(plan.Loads, func(l model.PlannedLoad) bool { return l.ID == id })]
}

// behindOf is what of a plan has begun.
func behindOf(plan *model.Plan, at model.Clock) *model.Behind {
	b := &model.Behind{At: at}
	place := map[int]int{}
	for i := range plan.Loads {
		l := plan.Loads[i]
		if l.Start < at {
			place[i] = len(b.Loads)
			b.Loads = append(b.Loads, l)
			continue
		}
		if l.Rinse != model.None && l.SetupStart < at {
			b.Rinses = append(b.Rinses, model.BehindRinse{Bay: l.Bay, Level: l.Rinse, From: l.SetupStart})
		}
		if l.Cleanout != model.None && l.CleanoutFrom < at {
			b.Cleanouts = append(b.Cleanouts, model.BehindCleanout{Sprayer: l.Sprayer, Level: l.Cleanout, From: l.CleanoutFrom, Stood: model.Seconds(l.Ready - l.Soonest())})
		}
	}
	for _, c := range plan.Changes {
		load, begun := place[c.Load]
		if !begun && c.At >= at {
			continue
		}
		if c.Load = load; !begun {
			c.Load = model.None
		}
		b.Changes = append(b.Changes, c)
	}
	return b
}

// sameWhole puts the two halves of a day together again.
func sameWhole(t *testing.T, name string, p, q *model.Problem, plan, again *model.Plan, at model.Clock) bool {
	whole := Whole(p, behindOf(plan, at), q, again)
	ok := assert.Len(t, whole.Loads, len(plan.Loads), name)
	for i := range whole.Loads {
		a, b := &plan.Loads[i], &whole.Loads[i]
		ok = ok && assert.Equal(t, timesOf(p, a, 0), timesOf(p, b, 0), name) && assert.Equal(t, a.Run, b.Run, "%s: load %s", name, a.ID) &&
			assert.Equal(t, []any{a.SetupStart, a.Rinse, a.Cleanout, a.Changeovers}, []any{b.SetupStart, b.Rinse, b.Cleanout, b.Changeovers}, "%s: load %s", name, a.ID)
	}
	ok = ok && assert.Equal(t, plan.Changes, whole.Changes, name) && assert.Equal(t, plan.Spans, whole.Spans, name)
	for part := range model.NumCostParts {
		ok = ok && assert.InDelta(t, plan.Cost.Money[part].Dollars(), whole.Cost.Money[part].Dollars(), 1e-4, "%s: %s", name, part)
	}
	for _, e := range whole.Stock {
		ok = ok && assert.NotEqual(t, "count", e.Event, "%s: %v of %s", name, e.Change, p.Products[e.Product].Name)
	}
	last := len(whole.Water) - 1
	ok = ok && assert.Equal(t, plan.Water[len(plan.Water)-1].Rinsate, whole.Water[last].Rinsate, name)
	if w := plan.Water[len(plan.Water)-1].Water; ok && w != nil && whole.Water[last].Event != "count" {
		ok = assert.InDelta(t, w.Float(), whole.Water[last].Water.Float(), 1e-6, name)
	}
	return ok
}
