package planner_test

import (
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner"
)

// waitingLine is a queue and nothing else: who is back first is filled first,
// at the bay that is free first, ties in file order.
type waitingLine struct{ bays, ready []model.Clock }

func newWaitingLine(bays, sprayers int) *waitingLine {
	return &waitingLine{make([]model.Clock, bays), make([]model.Clock, sprayers)}
}

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
func (w *waitingLine) serve(sprayer int, fill, away model.Clock) (ready, start model.Clock) {
	bay := firstOf(w.bays)
	ready = w.ready[sprayer]
	start = max(ready, w.bays[bay])
	w.bays[bay] = start + fill
	w.ready[sprayer] = w.bays[bay] + away
	return ready, start
}

// TestFirstComeFirstServedIsAWaitingLine plays drawn days a second time with
// nothing but a queue, and finds every load at the same second. With
// TestWaitingLineIsTheOneInTheBooks it carries pads whose waits vary too much
// to compare the planner itself with a formula in a few seconds.
func TestFirstComeFirstServedIsAWaitingLine(t *testing.T) {
	for i, c := range []struct {
		pool
		bays int
	}{
		{pool{sprayers: 6, turns: 100, offered: 0.1}, 1},
		{pool{sprayers: 6, turns: 100, offered: 0.2, constantFill: true}, 1},
		{pool{sprayers: 6, turns: 100, offered: 0.5}, 2},
		{pool{sprayers: 22, turns: 25, offered: 0.1}, 2},
		{pool{sprayers: 13, turns: 40, offered: 0.5, constantFill: true}, 3},
	} {
		t.Run(fmt.Sprintf("%d sprayers at %d bays, %v", c.sprayers, c.bays, c.offered), func(t *testing.T) {
			in := c.day(rand.New(rand.NewPCG(uint64(i), 5)))
			for b := 1; b < c.bays; b++ {
				in.Settings.Pad.Bays = append(in.Settings.Pad.Bays, model.BaySettings{Name: fmt.Sprintf("bay %d", b+1)})
			}
			p, report := model.NewProblem(in)
			require.Empty(t, report.Errors)
			r, err := planner.Plan(t.Context(), p, planner.Settings{})
			require.NoError(t, err)
			require.Empty(t, r.Baseline.Unsprayed)
			replay(t, newWaitingLine(c.bays, c.sprayers), r.Baseline.Loads)
		})
	}
}

// replay serves the sprayers of a plan's loads as a waiting line does.
func replay(t *testing.T, line *waitingLine, loads []model.PlannedLoad) {
	t.Helper()
	turns := make([][]*model.PlannedLoad, len(line.ready))
	for i := range loads {
		s := loads[i].Sprayer
		turns[s] = append(turns[s], &loads[i])
	}
	for range loads {
		s := firstOf(line.ready)
		l := turns[s][0]
		ready, start := line.serve(s, l.End-l.Start, l.BackAt-l.End)
		require.Equal(t, ready, l.Ready, "load %s is ready", l.ID)
		require.Equal(t, start, l.Start, "load %s starts", l.ID)
		if turns[s] = turns[s][1:]; len(turns[s]) == 0 {
			line.ready[s] = model.Never
		}
	}
}

// longRun returns the average wait of so many turns, in mean filling times.
func (q *pool) longRun(bays, turns int, rng *rand.Rand) float64 {
	const fill = 1_000_000 // fine enough to leave rounding out
	draw := func(mean float64) model.Clock { return model.Clock(mean * rng.ExpFloat64()) }
	line := newWaitingLine(bays, q.sprayers)
	for s := range line.ready {
		line.ready[s] = draw(fill / q.offered)
	}
	var sum float64
	for range turns {
		length := model.Clock(fill)
		if !q.constantFill {
			length = draw(fill)
		}
		ready, start := line.serve(firstOf(line.ready), length, draw(fill/q.offered))
		sum += float64(start - ready)
	}
	return sum / float64(turns) / fill
}

// TestWaitingLineIsTheOneInTheBooks compares long runs of the waiting line with
// printed examples, some of several repairmen, and with the whole interference
// table.
func TestWaitingLineIsTheOneInTheBooks(t *testing.T) {
	for _, c := range []struct {
		name string
		pool
		bays int
		wait float64 // in mean filling times
	}{
		{"Kolkmeyer, Anderson et al. 11.9: Wq 1.279 at mu 0.5", pool{sprayers: 6, offered: 0.1}, 1, 1.279 * 0.5},
		{"Kolkmeyer with two repairmen: Wq 0.0834", pool{sprayers: 6, offered: 0.1}, 2, 0.0834 * 0.5},
		{"Toolco, Taha 18.6-8: Wq 2.2018 at mu 5", pool{sprayers: 22, offered: 0.1}, 1, 2.2018 * 5},
		{"Toolco with two repairmen: Wq 0.2954", pool{sprayers: 22, offered: 0.1}, 2, 0.2954 * 5},
		{"Toolco with three repairmen: Wq 0.0525", pool{sprayers: 22, offered: 0.1}, 3, 0.0525 * 5},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.InEpsilon(t, c.wait, c.longRun(c.bays, 400_000, rand.New(rand.NewPCG(4, 1))), 0.02)
		})
	}
	t.Run("interference table", func(t *testing.T) {
		table := readBench(t, func(r io.Reader) (map[string]interference, error) {
			table := map[string]interference{}
			return table, json.NewDecoder(r).Decode(&table)
		}, "common-server", "machine_interference_table.json")
		require.NotEmpty(t, table)
		for key, want := range table {
			var q pool
			_, err := fmt.Sscanf(key, "N=%d,lam*b=%g", &q.sprayers, &q.offered)
			require.NoError(t, err, key)
			assert.InEpsilon(t, want.Exponential, q.longRun(1, 300_000, rand.New(rand.NewPCG(4, 1))), 0.02, key)
			q.constantFill = true
			assert.InEpsilon(t, want.Constant, q.longRun(1, 300_000, rand.New(rand.NewPCG(4, 1))), 0.02, key)
		}
	})
}
