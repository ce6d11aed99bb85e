package planner_test

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner"
)

// interference is a row of the finite-source queue (machine interference): what
// a sprayer waits for the bay, in mean filling times.
type interference struct {
	Exponential float64 `json:"exp_Wq_over_b"` // filling times drawn
	Constant    float64 `json:"det_Wq_over_b"`
}

// pool is sprayers that are all alike at one bay: a mean filling of meanFill
// seconds, and a mean time away of meanFill ÷ offered.
type pool struct {
	sprayers, turns int
	offered         float64
	below, above    float64 // rows of the table beside it
	constantFill    bool
}

const (
	meanFill   = 6000.0 // seconds; long, so that rounding up to whole ones is small
	meanAcres  = 5000.0
	meanGal    = 1000.0
	poolHours  = 5_000_000
	poolTank   = 20_000
	poolSettle = 10 // turns of each sprayer before we look
)

// day draws a pool's day: each load is a job of its own, whose acres are the
// time away and whose gallons are the filling time.
func (q *pool) day(rng *rand.Rand) model.Input {
	s := model.DefaultSettings()
	s.SprayFrom, s.SprayUntil = 0, poolHours*3600
	s.Pad = model.PadSettings{
		Closes: poolHours * 3600, Bays: []model.BaySettings{{Name: "bay"}},
		CarrierGpm: nearest(meanGal / meanFill * 60), MeterGpm: model.One, HopperLbPerMin: model.One,
	}
	s.Costs = model.CostSettings{}
	in := model.Input{Settings: s, Mixes: []model.MixRow{{Mix: "mix", GPA: model.One}}}
	away, fill := drawn(rng, q.sprayers*q.turns), drawn(rng, q.sprayers*q.turns)
	for i := range q.sprayers {
		name := fmt.Sprintf("rig %d", i+1)
		in.Sprayers = append(in.Sprayers, model.SprayerRow{
			Sprayer: name, TankGal: model.WholeDecimal(poolTank),
			AcPerH: model.Some(nearest(meanAcres * 3600 * q.offered / meanFill)),
		})
		for k := i * q.turns; k < (i+1)*q.turns; k++ {
			if q.constantFill {
				fill[k] = 1
			}
			acres := max(meanAcres*away[k], meanGal*fill[k]/1000) // more than 1,000 gpa is an input error
			in.Jobs = append(in.Jobs, model.JobRow{
				Field: "field", Sprayer: name, Mix: "mix", Acres: nearest(acres), DriveMin: model.Some(model.Decimal(0)),
				GPA: model.Some(nearest(meanGal * fill[k] / acres)),
			})
		}
	}
	return in
}

func nearest(x float64) model.Decimal { return model.Decimal(math.Round(x * float64(model.One))) }

// drawn draws n numbers of an exponential distribution of mean 1, one from each
// n-th of it, in chance order: their mean is right whatever the seed.
func drawn(rng *rand.Rand, n int) []float64 {
	list := make([]float64, n)
	for i, k := range rng.Perm(n) {
		list[i] = -math.Log(1 - (float64(k)+rng.Float64())/float64(n))
	}
	return list
}

// watched is what we see of a pool's loads, in mean filling times.
type watched struct{ wait, fill, away, loads float64 }

// watch plans a pool's day first come, first served and adds up its loads. The
// first turns and the end, where some sprayers are done, are left out.
func (q *pool) watch(t *testing.T, rng *rand.Rand, sum *watched) {
	t.Helper()
	p, report := model.NewProblem(q.day(rng))
	require.Empty(t, report.Errors)
	r, err := planner.Plan(t.Context(), p, planner.Settings{})
	require.NoError(t, err)
	require.Empty(t, r.Baseline.Unsprayed)
	until, turn := model.Never, make([]int, q.sprayers)
	for _, l := range r.Baseline.Loads {
		if turn[l.Sprayer]++; turn[l.Sprayer] == q.turns {
			until = min(until, l.Start)
		}
	}
	clear(turn)
	for _, l := range r.Baseline.Loads {
		if turn[l.Sprayer]++; turn[l.Sprayer] > poolSettle && l.Start < until {
			sum.wait += float64(l.Wait) / meanFill
			sum.fill += float64(l.End-l.Start) / meanFill
			sum.away += float64(l.BackAt-l.End) / meanFill
			sum.loads++
		}
	}
}

// expected is the mean wait by the table, for the mean times that were drawn:
// they differ a little from those asked for, and the wait, fill × g(fill ÷
// away), goes with them. The slope of g is taken from the rows beside.
func (q *pool) expected(t *testing.T, table map[string]interference, seen *watched) float64 {
	t.Helper()
	g := func(offered float64) float64 {
		row, ok := table[fmt.Sprintf("N=%d,lam*b=%v", q.sprayers, offered)]
		require.True(t, ok, "no row for %d sprayers and %v", q.sprayers, offered)
		if q.constantFill {
			return row.Constant
		}
		return row.Exponential
	}
	slope := (g(q.above) - g(q.below)) / (q.above - q.below)
	fill, away := seen.fill/seen.loads, seen.away/seen.loads
	return fill * (g(q.offered) + slope*(fill/away-q.offered))
}

// TestFirstComeFirstServedWaitsLikeTheFiniteSourceQueue draws times away and,
// in all cases but one, filling times, and compares the mean wait with the
// exact values of M/M/1//N and M/D/1//N (formulas and checks beside the table).
func TestFirstComeFirstServedWaitsLikeTheFiniteSourceQueue(t *testing.T) {
	skipWhenShort(t)
	read := func(r io.Reader) (map[string]interference, error) {
		table := map[string]interference{}
		return table, json.NewDecoder(r).Decode(&table)
	}
	table := readBench(t, read, "common-server", "machine_interference_table.json")
	for _, q := range []pool{
		{sprayers: 3, below: 0.3, offered: 0.4, above: 0.5},
		{sprayers: 4, below: 0.25, offered: 0.3, above: 0.4},
		{sprayers: 6, below: 0.15, offered: 0.2, above: 0.25},
		{sprayers: 6, below: 0.15, offered: 0.2, above: 0.25, constantFill: true},
	} {
		t.Run(fmt.Sprintf("%d sprayers, %v, constant filling %v", q.sprayers, q.offered, q.constantFill), func(t *testing.T) {
			q.turns = 600 / q.sprayers
			var seen watched
			for seed := range uint64(10) {
				q.watch(t, rand.New(rand.NewPCG(seed, 4)), &seen)
			}
			assert.InEpsilon(t, q.expected(t, table, &seen), seen.wait/seen.loads, 0.02, "mean wait of %v loads", seen.loads)
		})
	}
}

// TestSprayerCoversThePublishedAcresPerHour fills, drives and sprays a quarter
// section ten times over with the machine of a published model (Wolf, Western
// Producer, June 2015): 90 ft, 800 gal, 10 gal/ac, 20 minutes to fill. It prints
// 82 ac/h at 14 mph and 93 at 18. Turns at the headlands take 15 % of the time
// driven at 14 mph, as printed; at 18 mph they take as long.
func TestSprayerCoversThePublishedAcresPerHour(t *testing.T) {
	slow := publishedMachine(t, 14, 0.85)
	fast := publishedMachine(t, 18, 0.815)
	assert.InEpsilon(t, 82, slow, 0.04)
	assert.InEpsilon(t, 93, fast, 0.04)
	assert.InEpsilon(t, 1.134, fast/slow, 0.01)
}

// publishedMachine returns the acres an hour from the first filling until the
// last acre.
func publishedMachine(t *testing.T, mph, efficiency float64) float64 {
	t.Helper()
	s := model.DefaultSettings()
	s.Pad.CarrierGpm = model.WholeDecimal(160) // 5 minutes
	s.Pad.HookupMin, s.Pad.UnhookMin = model.WholeDecimal(10), model.WholeDecimal(5)
	in := model.Input{
		Settings: s,
		Mixes:    []model.MixRow{{Mix: "water only", GPA: model.WholeDecimal(10)}},
		Sprayers: []model.SprayerRow{{
			Sprayer: "rig", TankGal: model.WholeDecimal(800), BoomFt: model.Some(model.WholeDecimal(90)),
			Mph: model.Some(nearest(mph)), Efficiency: model.Some(nearest(efficiency)),
		}},
		Jobs: []model.JobRow{{Field: "quarter", Mix: "water only", Acres: model.WholeDecimal(800), DriveMin: model.Some(model.Decimal(0))}},
	}
	p, report := model.NewProblem(in)
	require.Empty(t, report.Errors)
	r, err := planner.Plan(t.Context(), p, planner.Settings{})
	require.NoError(t, err)
	loads := r.Plan.Loads
	require.Len(t, loads, 10)
	return 800 / model.Seconds(loads[9].SprayedAt[0]-loads[0].Start).Hours()
}
