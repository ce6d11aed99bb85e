package main

import (
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/io/dayfiles"
	"padturn/io/planfile"
	"padturn/io/tomorrow"
	"padturn/model"
	"padturn/model/standing"
	"padturn/planner"
)

// acceptedNews makes up reports of all kinds, in the order of time, and keeps
// those that are not refused.
func acceptedNews(in model.Input, told standing.Told, until model.Clock, rng *rand.Rand) []standing.Fact {
	var facts []standing.Fact
	at := in.Settings.Pad.Opens
	for range rng.IntN(25) {
		at += model.Clock(rng.IntN(2400))
		if at > until {
			break
		}
		fact := standing.Fact{N: len(facts) + 1, At: at, News: anyNews(in, told, at, rng)}
		if standing.Check(in, told, facts, fact) == nil {
			facts = append(facts, fact)
		}
	}
	return facts
}

func anyNews(in model.Input, told standing.Told, at model.Clock, rng *rand.Rand) standing.News {
	l := &told.Loads[rng.IntN(len(told.Loads))]
	acres := l.Acres() / model.Decimal(1+rng.IntN(6))
	switch rng.IntN(9) {
	case 0:
		return standing.SprayerMark{Sprayer: in.Sprayers[rng.IntN(len(in.Sprayers))].Sprayer, Out: rng.IntN(2) == 0, Until: model.Some(at + 1800)}
	case 1:
		if len(in.Deliveries) > 0 {
			d := &in.Deliveries[rng.IntN(len(in.Deliveries))]
			return standing.DeliveryMark{Product: d.Product, Planned: d.At, Arrived: rng.IntN(2) == 0}
		}
	case 2:
		r := &in.Stock[rng.IntN(len(in.Stock))]
		count := standing.StockCount{Product: r.Product, Container: r.Container, Size: r.Size, Full: model.WholeDecimal(int64(rng.IntN(3)))}
		for range rng.IntN(3) {
			count.Open = append(count.Open, r.Size/model.Decimal(1+rng.IntN(5)))
		}
		return count
	case 3:
		job := in.Jobs[rng.IntN(len(in.Jobs))]
		job.Acres = job.Acres*model.Decimal(1+rng.IntN(3))/2 + 1
		change := []standing.JobChange{standing.JobChanged, standing.JobDropped, standing.JobChanged}[rng.IntN(3)]
		return standing.JobMark{Change: change, Row: job, Given: []string{"acres"}}
	case 4:
		return standing.HoldMark{Hold: model.HoldRow{From: at, To: at + model.Clock(600+rng.IntN(5000)), Kind: "rain"}}
	case 5:
		return standing.LoadMark{Load: l.ID, State: standing.Dropped, AcresLeft: &acres}
	case 6:
		return standing.LoadMark{Load: l.ID, State: standing.Spraying, AcresLeft: &acres}
	}
	return standing.LoadMark{Load: l.ID, State: standing.States()[rng.IntN(5)]}
}

// TestAnyAcceptedNewsMakesADay reports whatever is accepted and looks at the day
// afterwards: acres are neither lost nor found, there is no stock below nothing,
// the rest can be planned, and what is carried is a day in order in which the
// same hangs where it hung.
func TestAnyAcceptedNewsMakesADay(t *testing.T) {
	carried, reported := 0, 0
	for _, name := range []string{"small", "spring-rush", "short-stock"} {
		dir := filepath.Join(examplesDir, name)
		day, err := dayfiles.Read(dir)
		require.NoError(t, err)
		r, err := planner.Plan(t.Context(), day.Problem, planner.Settings{Steps: 1000, Seed: 1})
		require.NoError(t, err)
		doc, err := planfile.Build(day.Problem, r)
		require.NoError(t, err)
		told := doc.Told()
		for seed := range randomDays() / 4 {
			rng := rand.New(rand.NewPCG(seed, 3))
			at := day.Input.Settings.Pad.Opens + model.Clock(rng.IntN(14*3600))
			facts := acceptedNews(day.Input, told, at, rng)
			reported += len(facts)
			s, err := standing.At(day.Input, told, facts, at)
			require.NoError(t, err)
			where := fmt.Sprintf("%s, seed %d at %s: %+v", name, seed, at, facts)
			soundStanding(t, s, where)
			if carries(t, dir, s, where) {
				carried++
			}
			if t.Failed() {
				return
			}
		}
	}
	t.Logf("%d days carried, %d reports", carried, reported)
	assert.Greater(t, carried, int(randomDays())/8)
}

func soundStanding(t *testing.T, s *standing.Standing, where string) {
	for _, j := range s.Jobs {
		have := j.Sprayed + j.InTank + j.ToFill
		if !j.Dropped && have < j.Asked {
			assert.LessOrEqual(t, j.Asked-have, model.One/1_000_000, "acres of %s are lost: %s", j.Name, where)
		}
		if j.ToFill > 0 {
			assert.LessOrEqual(t, have, j.Asked, "acres of %s are found: %s", j.Name, where)
		}
	}
	for _, stock := range s.Stock {
		assert.GreaterOrEqual(t, stock.Level, model.Decimal(0), "%s: %s", stock.Product, where)
	}
	for i := range s.Loads {
		l := &s.Loads[i]
		assert.True(t, !l.Begun || l.Start <= l.End && l.End <= max(l.BackAt, l.End) && l.Ready <= l.Start, "%s: %s", l.Told.ID, where)
		assert.GreaterOrEqual(t, l.LeftAcres(), model.Decimal(0), "%s: %s", l.Told.ID, where)
	}
	_, report := model.NewProblem(s.Rest())
	assert.Empty(t, report.Errors, "the rest is no day: %s", where)
}

// carries says whether the day could be carried; a tank that needs a decision
// stands in the way.
func carries(t *testing.T, dir string, s *standing.Standing, where string) bool {
	in, _, err := tomorrow.Of(s)
	if len(s.Stranded()) > 0 {
		assert.Error(t, err)
		return false
	}
	require.NoError(t, err, where)
	files, err := tomorrow.Files(dir, in)
	require.NoError(t, err, where)
	fsys := fstest.MapFS{}
	for name, data := range files {
		fsys[name] = &fstest.MapFile{Data: data}
	}
	next, err := dayfiles.ReadFS(fsys, "next")
	if err != nil && len(s.Rest().Jobs) == 0 {
		return false // jobs are to come
	}
	require.NoError(t, err, where)
	opening, err := standing.At(next.Input, standing.Told{}, nil, next.Input.Settings.Pad.Opens)
	require.NoError(t, err, where)
	for i := range s.Stock {
		assert.Equal(t, s.Stock[i].Level, opening.Stock[i].Level, "%s: %s", s.Stock[i].Product, where)
	}
	for i := range s.Bays {
		hung := opening.Bays[i].On
		for k, product := range s.HooksAtClose(i) {
			place := k + len(next.Input.Settings.Pad.Bays[i].Plumbed)
			for _, h := range s.Bays[i].On {
				if h.Product == product {
					assert.Equal(t, h.Left, hung[place].Left, "%s on %s: %s", product, s.Bays[i].Name, where)
				}
			}
		}
		assert.Equal(t, s.Bays[i].LastMix, opening.Bays[i].LastMix, where)
	}
	return true
}
