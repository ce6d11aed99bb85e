package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"padturn/io/dayfiles"
	"padturn/io/planfile"
	"padturn/model"
	"padturn/model/standing"
	"padturn/planner"
	"padturn/planner/scenario"
)

var (
	replanResults = flag.String("replan.results", "", "file that BenchmarkReplans writes its table to")
	replanOnly    = flag.String("replan.days", "", "name of the only day that BenchmarkReplans replans")
	replanEffort  = flag.String("replan.effort", "", "effort that BenchmarkReplans replans with, instead of what replan does by itself")
	replanScratch = flag.Int("replan.scratch", 1, "how many seeds of deep plans from scratch the replans are held to")
)

// news is a day at a moment when rain is reported.
type news struct {
	name     string
	in       model.Input
	at       model.Clock
	from, to model.Clock // of the rain
}

const hour model.Clock = 3600

// newsDays are the days that are answered: examples, and days of the family
// of seventy loads.
func newsDays(t testing.TB) []news {
	var days []news
	for _, name := range []string{"spring-rush", "rain-delay"} {
		day, err := dayfiles.Read(filepath.Join(examplesDir, name))
		require.NoError(t, err)
		days = append(days, news{name: name, in: day.Input})
	}
	for seed := range uint64(3) {
		shape := scenario.Shape{Sprayers: 8, Loads: 70, Bays: 2}
		days = append(days, news{name: fmt.Sprintf("%v %v seed %d", shape, scenario.Busy, seed+1), in: shape.Day(scenario.Busy, seed+1)})
	}
	for i := range days {
		d := &days[i]
		d.at, d.from, d.to = 10*hour+20*60, 10*hour+30*60, 13*hour+15*60
	}
	return days
}

// rest plans a day as padturn plan does, reports rain, and returns what is left.
func (n *news) rest(t testing.TB) *model.Problem {
	p, report := model.NewProblem(n.in)
	require.True(t, report.OK(), "%v", report.Errors)
	r, err := planner.Plan(t.Context(), p, planner.DefaultSettings())
	require.NoError(t, err)
	doc, err := planfile.Build(p, r)
	require.NoError(t, err)
	rain := standing.Fact{N: 1, At: n.at, News: standing.HoldMark{Hold: model.HoldRow{From: n.from, To: n.to, Kind: "rain"}}}
	s, err := standing.At(n.in, doc.Told(), []standing.Fact{rain}, n.at)
	require.NoError(t, err)
	rest := s.Rest()
	rest.Underway.ToldLeft = leftJobs(doc)
	q, report := model.NewProblem(rest)
	require.True(t, report.OK(), "%v", report.Errors)
	return q
}

// answered is a replan's plan, and how long it took.
type answered struct {
	plan    *model.Plan
	seconds float64
}

func replanOf(t testing.TB, p *model.Problem, s planner.Settings) answered {
	began := time.Now()
	r, err := planner.Plan(t.Context(), p, s)
	require.NoError(t, err)
	return answered{r.Plan, time.Since(began).Seconds()}
}

func compareReplans(a, b answered) int {
	if a.plan.Left != b.plan.Left {
		return int(a.plan.Left - b.plan.Left)
	}
	return int(a.plan.Cost.Total() - b.plan.Cost.Total())
}

// BenchmarkReplans replans days after news of rain, with five seeds, and holds
// the plans to the best of some deep ones from scratch, as if nobody had been told
// anything. It writes a table to the file that -replan.results names.
func BenchmarkReplans(b *testing.B) {
	settings := planner.DefaultSettings()
	if *replanEffort != "" {
		steps, err := planner.ParseEffort(*replanEffort)
		require.NoError(b, err)
		settings.Steps = steps
	}
	var t strings.Builder
	t.WriteString(replanHead)
	var within tally
	for _, d := range newsDays(b) {
		if *replanOnly != "" && d.name != *replanOnly {
			continue
		}
		p := d.rest(b)
		var scratch, told, free []answered
		for seed := range uint64(*replanScratch) {
			scratch = append(scratch, replanOf(b, p, planner.Settings{Steps: planner.DeepSteps, Seed: seed + 1, FromScratch: true}))
		}
		for seed := range uint64(5) {
			settings.Seed, settings.FromScratch = seed+1, false
			told = append(told, replanOf(b, p, settings))
			settings.FromScratch = true
			free = append(free, replanOf(b, p, settings))
		}
		all := slices.Concat(scratch, told, free)
		best, deep := slices.MinFunc(all, compareReplans), slices.MinFunc(scratch, compareReplans)
		for i, r := range told {
			fmt.Fprintf(&t, "| %s | %d | %s | %.2f | %s | %s | %.2f | %s | %s | %s | %.1f |\n", d.name, i+1, undone(deep.plan), deep.plan.Disturbance.Dollars(),
				undone(r.plan), above(r, deep), r.plan.Disturbance.Dollars(), aboveWeighed(r, deep), above(r, best), above(free[i], best), r.seconds)
			within.count(r, deep)
		}
		for i, r := range scratch {
			b.Log(d.name, "from scratch, deep, seed", i+1, undone(r.plan), r.seconds, "s")
		}
		if *replanResults != "" {
			require.NoError(b, os.WriteFile(*replanResults, []byte(t.String()+within.String()), 0o644))
		}
	}
	b.Log("\n" + t.String() + within.String())
}

// tally counts the replans that are within 1 % of the deep plan.
type tally struct{ replans, cost, weighed int }

func (n *tally) count(r, deep answered) {
	const percent = 1.01
	n.replans++
	if r.plan.Left > deep.plan.Left {
		return
	}
	if r.plan.Cost.Total().Dollars() <= percent*deep.plan.Cost.Total().Dollars() {
		n.cost++
	}
	if weighed(r.plan) <= percent*weighed(deep.plan) {
		n.weighed++
	}
}

func (n *tally) String() string {
	return fmt.Sprintf("\nOf %d replans, %d cost at most 1 %% more than the deep plan, and %d with what the changes of both weigh.\n", n.replans, n.cost, n.weighed)
}

// weighed is a plan's cost in dollars and what its changes weigh.
func weighed(p *model.Plan) float64 { return (p.Cost.Total() + p.Disturbance).Dollars() }

// undone is a plan's cost, and before it what it leaves undone, if anything.
func undone(p *model.Plan) string {
	cost := fmt.Sprintf("%.2f", p.Cost.Total().Dollars())
	if p.Left == 0 {
		return cost
	}
	return fmt.Sprintf("%.0f ac left, %s", p.Left.Float(), cost)
}

// above is what a plan costs more than another that leaves as much, in per cent.
func above(r, best answered) string {
	if r.plan.Left != best.plan.Left {
		return "leaves more"
	}
	return fmt.Sprintf("%+.2f", 100*(r.plan.Cost.Total().Dollars()/best.plan.Cost.Total().Dollars()-1))
}

// aboveWeighed is above with what the changes of both plans weigh.
func aboveWeighed(r, best answered) string {
	if r.plan.Left != best.plan.Left {
		return "leaves more"
	}
	return fmt.Sprintf("%+.2f", 100*(weighed(r.plan)/weighed(best.plan)-1))
}

const replanHead = `# Replans

Days that are planned at normal effort; at 10:20 rain from 10:30 to 13:15 is
reported, and the rest is replanned. Made by

    go test ./cmd/padturn -run '^$' -bench 'Replans$' -benchtime 1x -timeout 90m -args -replan.results ../../testdata/replan/results.md

The cost is that of the rest: what had begun is in neither plan. *Deep* is the best deep
plan from scratch, as if nobody had been told anything (-replan.scratch says of how many
seeds); beside it what its changes would weigh. *Best of all* is the best of the plans of
the day in this table. A replan looks for the least of its cost and what its changes
weigh, which nobody pays, and keeps what is frozen: where it stays above the others, it
may do so to move less. *With it* compares the sums of cost and weight; a frozen load whose
acres change weighs five times as much in a replan's as in the deep plan's, which is all
the difference on rain-delay: there the weights are the same. *From scratch* is the same search as if nobody had been told,
above the best of all. Seconds are wall times of the search alone, on two cores.

| day | seed | deep, $ | its changes weigh, $ | replan, $ | above deep % | changes weigh, $ | with it, above deep % | above best of all % | from scratch: above it % | seconds |
|---|---|---|---|---|---|---|---|---|---|---|
`
