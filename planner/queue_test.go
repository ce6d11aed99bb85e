package planner_test

import (
	"context"
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

// queue is a pad of which a closed formula knows the average wait: identical
// sprayers, one mix, times drawn anew for every turn. It is the machine
// interference problem: sprayers are the machines, bays the repairmen.
type queue struct {
	sprayers, bays int
	load           float64 // mean filling time ÷ mean time in the field
	constant       bool    // the filling time is the same for all; else exponential
}

const (
	meanFill   = 100.0 // minutes; long, so that whole seconds hardly show
	queueTurns = 600   // turns of all sprayers together in one day
	queueWarm  = 3     // turns of each sprayer that do not count
	queueHours = 10000 // after which the pad closes
)

// day draws a day. A gallon runs in a minute and an acre is sprayed in one: a
// job of a acres at g/a gal/ac is one load that fills in g minutes and is
// sprayed in a. Volume rates differ, so no two jobs share a load.
func (q *queue) day(rng *rand.Rand) model.Input {
	in := queueDay(q.bays)
	field := meanFill / q.load
	turns := queueTurns / q.sprayers
	fills, sprays := spread(rng, turns*q.sprayers, meanFill), spread(rng, turns*q.sprayers, field)
	for s := range q.sprayers {
		name := fmt.Sprintf("S%d", s+1)
		in.Sprayers = append(in.Sprayers, model.SprayerRow{
			Sprayer: name, TankGal: model.WholeDecimal(20_000), AcPerH: model.Some(model.WholeDecimal(60)),
			AvailableFrom: model.Some(model.Clock(60 * field * rng.ExpFloat64())),
		})
		for k := range turns {
			fill, acres := fills[s*turns+k], sprays[s*turns+k]
			if q.constant {
				fill = meanFill
			}
			addQueueJob(&in, name, acres, fill)
		}
	}
	return in
}

// spread returns n exponential times in chance order: one from each n-th part
// of the distribution, so that their mean is right and only their order is left
// to chance.
func spread(rng *rand.Rand, n int, mean float64) []float64 {
	list := make([]float64, n)
	for i, at := range rng.Perm(n) {
		list[i] = -mean * math.Log(1-(float64(at)+rng.Float64())/float64(n))
	}
	return list
}

// queueDay is a day on which only carrier and acres take time.
func queueDay(bays int) model.Input {
	s := model.DefaultSettings()
	s.SprayFrom, s.SprayUntil = 0, queueHours*3600
	s.Pad = model.PadSettings{
		Opens: 0, Closes: queueHours * 3600, CarrierGpm: model.One,
		MeterGpm: model.One, HopperLbPerMin: model.One,
	}
	for b := range bays {
		s.Pad.Bays = append(s.Pad.Bays, model.BaySettings{Name: fmt.Sprintf("bay %d", b+1)})
	}
	return model.Input{Settings: s, Mixes: []model.MixRow{{Mix: "plain", GPA: model.One}}}
}

// addQueueJob adds a job that is one load: acres, filled in so many minutes.
func addQueueJob(in *model.Input, sprayer string, acres, fill float64) {
	const mostGPA = 1000 // the model's limit; hardly ever reached
	acres = max(acres, fill/mostGPA*1.0001)
	in.Jobs = append(in.Jobs, model.JobRow{
		Field: "field", Sprayer: sprayer, Mix: "plain", Acres: model.Decimal(acres * float64(model.One)),
		GPA: model.Some(model.Decimal(fill / acres * float64(model.One))), DriveMin: model.Some(model.Decimal(0)),
	})
}

// firstComePlan plans a day first come, first served.
func firstComePlan(t testing.TB, in model.Input) *model.Plan {
	t.Helper()
	p, report := model.NewProblem(in)
	require.Empty(t, report.Errors)
	r, err := planner.Plan(context.Background(), p, planner.Settings{})
	require.NoError(t, err)
	require.Zero(t, r.Baseline.Left)
	return r.Baseline
}

// waits adds up the waits of the turns that count: those begun after every
// sprayer's first few, and before any has had its last.
func waits(plan *model.Plan, sprayers int) (sum float64, turns int) {
	first, last := make([]int, sprayers), make([]model.Clock, sprayers)
	var from model.Clock
	for i := range plan.Loads {
		l := &plan.Loads[i]
		if first[l.Sprayer]++; first[l.Sprayer] == queueWarm {
			from = max(from, l.Ready)
		}
		last[l.Sprayer] = l.Ready
	}
	until := last[0]
	for _, at := range last {
		until = min(until, at)
	}
	for i := range plan.Loads {
		if l := &plan.Loads[i]; l.Ready >= from && l.Ready <= until {
			sum += float64(l.Wait) / 60
			turns++
		}
	}
	return sum, turns
}

// averageWait returns the average wait of a planner's days, in mean filling
// times.
func (q *queue) averageWait(t testing.TB, days int, seed uint64) float64 {
	var sum float64
	var turns int
	for d := range days {
		w, n := waits(firstComePlan(t, q.day(rand.New(rand.NewPCG(seed, uint64(d))))), q.sprayers)
		sum, turns = sum+w, turns+n
	}
	return sum / float64(turns) / meanFill
}

// interference is the table of average waits, by its keys.
type interference map[string]struct {
	Exponential float64 `json:"exp_Wq_over_b"`
	Constant    float64 `json:"det_Wq_over_b"`
}

func (i interference) wait(t testing.TB, q queue) float64 {
	row, ok := i[fmt.Sprintf("N=%d,lam*b=%v", q.sprayers, q.load)]
	require.True(t, ok)
	if q.constant {
		return row.Constant
	}
	return row.Exponential
}

func readInterference(t testing.TB) interference {
	return readBench(t, func(r io.Reader) (interference, error) {
		var table interference
		return table, json.NewDecoder(r).Decode(&table)
	}, "common-server", "machine_interference_table.json")
}

// TestFirstComeWaitsAsInTheInterferenceTable compares average waits with the
// finite-source queue (filling exponential, or constant after Ashcroft). The
// pads are busy ones: there the number of turns makes 2 % about three standard
// errors.
func TestFirstComeWaitsAsInTheInterferenceTable(t *testing.T) {
	table := readInterference(t)
	for _, c := range []struct {
		queue
		days int
	}{
		{queue{sprayers: 4, bays: 1, load: 0.5}, 19},
		{queue{sprayers: 8, bays: 1, load: 0.3, constant: true}, 4},
		{queue{sprayers: 10, bays: 1, load: 0.2, constant: true}, 6},
	} {
		t.Run(c.String(), func(t *testing.T) {
			assert.InEpsilon(t, table.wait(t, c.queue), c.averageWait(t, c.days, 1), 0.02)
		})
	}
}

func (q queue) String() string {
	return fmt.Sprintf("%d sprayers, %d bays, load %v, constant %v", q.sprayers, q.bays, q.load, q.constant)
}

// TestFirstComeIsTheQueue plays drawn days a second time, with nothing but a
// queue, and finds every load started at the same second. Together with
// TestTheQueueIsTheOneInTheBooks it carries pads on which waits vary too much
// for the planner to be compared with a formula in a few seconds.
func TestFirstComeIsTheQueue(t *testing.T) {
	for i, q := range []queue{
		{sprayers: 6, bays: 1, load: 0.1}, {sprayers: 6, bays: 1, load: 0.2, constant: true},
		{sprayers: 6, bays: 2, load: 0.3}, {sprayers: 22, bays: 2, load: 0.1}, {sprayers: 13, bays: 3, load: 0.5, constant: true},
	} {
		t.Run(q.String(), func(t *testing.T) {
			plan := firstComePlan(t, q.day(rand.New(rand.NewPCG(3, uint64(i)))))
			line := waitingLine{bays: make([]model.Clock, q.bays), ready: make([]model.Clock, q.sprayers)}
			rounds := make([][]*model.PlannedLoad, q.sprayers)
			for i := range plan.Loads {
				l := &plan.Loads[i]
				if len(rounds[l.Sprayer]) == 0 {
					line.ready[l.Sprayer] = l.Ready
				}
				rounds[l.Sprayer] = append(rounds[l.Sprayer], l)
			}
			for range plan.Loads {
				s := line.next()
				l := rounds[s][0]
				ready, start := line.serve(s, l.End-l.Start, l.BackAt-l.End)
				require.Equal(t, ready, l.Ready, l.ID)
				require.Equal(t, start, l.Start, l.ID)
				if rounds[s] = rounds[s][1:]; len(rounds[s]) == 0 {
					line.ready[s] = model.Never
				}
			}
		})
	}
}

// TestTheQueueIsTheOneInTheBooks compares long runs of the queue alone with all
// of the interference table, and with printed examples, some of them with
// several repairmen. 2 % is three standard errors and more.
func TestTheQueueIsTheOneInTheBooks(t *testing.T) {
	table := readInterference(t)
	type printed struct {
		name string
		q    queue
		wait float64 // in mean filling times
	}
	rows := []printed{
		{"Kolkmeyer, Anderson et al. 11.9: Wq 1.279 at mu 0.5", queue{sprayers: 6, bays: 1, load: 0.1}, 1.279 * 0.5},
		{"Kolkmeyer, two repairmen: Wq 0.0834", queue{sprayers: 6, bays: 2, load: 0.1}, 0.0834 * 0.5},
		{"Toolco, Taha 18.6-8: Wq 2.2018 at mu 5", queue{sprayers: 22, bays: 1, load: 0.1}, 2.2018 * 5},
		{"Toolco, two repairmen: Wq 0.2954", queue{sprayers: 22, bays: 2, load: 0.1}, 0.2954 * 5},
		{"Toolco, three repairmen: Wq 0.0525", queue{sprayers: 22, bays: 3, load: 0.1}, 0.0525 * 5},
	}
	for n := 2; n <= 10; n++ {
		for _, load := range []float64{0.1, 0.2, 0.5} {
			if _, ok := table[fmt.Sprintf("N=%d,lam*b=%v", n, load)]; !ok {
				continue
			}
			for _, constant := range []bool{false, true} {
				q := queue{n, 1, load, constant}
				rows = append(rows, printed{q.String(), q, table.wait(t, q)})
			}
		}
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			assert.InEpsilon(t, r.wait, r.q.longRun(300_000, rand.New(rand.NewPCG(4, 1))), 0.02)
		})
	}
}

// waitingLine is a queue and nothing else: who is back first is filled first,
// at the bay that is free first.
type waitingLine struct{ bays, ready []model.Clock }

// next returns the sprayer that is ready first.
func (w *waitingLine) next() int { return firstOf(w.ready) }

func firstOf(times []model.Clock) int {
	first := 0
	for i, at := range times {
		if at < times[first] {
			first = i
		}
	}
	return first
}

// serve fills a sprayer, sends it out, and says when it was ready and began.
func (w *waitingLine) serve(s int, fill, field model.Clock) (ready, start model.Clock) {
	bay := firstOf(w.bays)
	ready = w.ready[s]
	start = max(ready, w.bays[bay])
	w.bays[bay] = start + fill
	w.ready[s] = start + fill + field
	return ready, start
}

// longRun returns the average wait of so many turns, in mean filling times.
func (q *queue) longRun(turns int, rng *rand.Rand) float64 {
	const fill = 1_000_000 // fine enough to leave rounding out
	draw := func(mean float64) model.Clock { return model.Clock(mean * rng.ExpFloat64()) }
	line := waitingLine{bays: make([]model.Clock, q.bays), ready: make([]model.Clock, q.sprayers)}
	for s := range line.ready {
		line.ready[s] = draw(fill / q.load)
	}
	var sum float64
	for range turns {
		length := model.Clock(fill)
		if !q.constant {
			length = draw(fill)
		}
		ready, start := line.serve(line.next(), length, draw(fill/q.load))
		sum += float64(start - ready)
	}
	return sum / float64(turns) / fill
}

// TestFillDriveSprayCycle compares acres an hour with a published model of a
// 90 ft, 800 gal sprayer at 10 gal/ac that takes 20 min to fill and turns for 15 %
// of its driving time: 82 ac/h at 14 mph, and 93 at 18 mph with the same turns
// (T. Wolf, Western Producer 2015-06, "Race with the calendar is won in pit lane").
func TestFillDriveSprayCycle(t *testing.T) {
	const width, acresPerLoad = 90.0, 80.0
	spraying := func(mph float64) float64 { return acresPerLoad / (width * mph / 8.25) } // hours a load
	turning := spraying(14) * 0.15 / 0.85
	acresPerHour := func(mph float64) float64 {
		in := queueDay(1)
		in.Settings.Pad.CarrierGpm = model.WholeDecimal(80) // 10 min
		in.Settings.Pad.HookupMin, in.Settings.Pad.UnhookMin = model.WholeDecimal(6), model.WholeDecimal(4)
		efficiency := spraying(mph) / (spraying(mph) + turning)
		in.Sprayers = []model.SprayerRow{{
			Sprayer: "S1", TankGal: model.WholeDecimal(800), BoomFt: model.Some(model.WholeDecimal(width)),
			Mph: model.Some(model.Decimal(mph * float64(model.One))), Efficiency: model.Some(model.Decimal(efficiency * float64(model.One))),
		}}
		in.Jobs = []model.JobRow{{
			Field: "quarter sections", Sprayer: "S1", Mix: "plain", Acres: model.WholeDecimal(800),
			GPA: model.Some(model.WholeDecimal(10)), DriveMin: model.Some(model.Decimal(0)),
		}}
		plan := firstComePlan(t, in)
		require.Len(t, plan.Loads, 10)
		return 800 / model.Seconds(plan.Loads[9].BackAt).Hours()
	}
	slow, fast := acresPerHour(14), acresPerHour(18)
	assert.InEpsilon(t, 82, slow, 0.04, "ac/h at 14 mph")
	assert.InEpsilon(t, 93, fast, 0.04, "ac/h at 18 mph")
	assert.InDelta(t, 93.0/82, fast/slow, 0.01, "how much faster")
}
