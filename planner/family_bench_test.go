package planner_test

import (
	"context"
	"flag"
	"fmt"
	"os"
	"regexp"
	"runtime/debug"
	"runtime/metrics"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner"
	"padturn/planner/scenario"
)

var (
	familyResults = flag.String("family.results", "", "file that BenchmarkFamily writes its tables to")
	familyOnly    = flag.String("family.days", "", "pattern of the days that BenchmarkFamily plans and proves, by their names in its tables; blank: all")
	familyImprove = flag.String("family.improve", "", "effort that BenchmarkFamily looks for better known plans with, instead of measuring")
	familySearch  = flag.String("family.seeds", "1", "seeds of those searches, with commas")
)

// BenchmarkFamily plans the days of the benchmark family, proves what it can of
// keep-order days, and writes tables of all to the file that -family.results
// names. With -family.improve it looks for better known plans instead. Without
// any flag it plans the smallest days only.
func BenchmarkFamily(b *testing.B) {
	days := byName(familyDays(), isAskedFor)
	switch {
	case *familyImprove != "":
		improveFamily(b, days, *familyImprove, seedsOf(b, *familySearch))
		return
	case *familyResults == "" && *familyOnly == "":
		days = days[:familySeeds]
	}
	var t strings.Builder
	t.WriteString(familyHead)
	part := func(name string, table func(*testing.B) string) {
		b.Run(name, func(b *testing.B) { t.WriteString(table(b)) })
		if *familyResults != "" {
			require.NoError(b, os.WriteFile(*familyResults, []byte(t.String()), 0o644))
		}
	}
	if *familyResults != "" {
		// First, while nothing else has taken memory.
		part("huge", hugeTable)
		part("proofs", proofsTable)
		part("free", freeProofsTable)
	}
	part("days", func(b *testing.B) string { return daysTable(b, days) })
}

// isAskedFor says whether -family.days asks for a day.
func isAskedFor(day string) bool { return regexp.MustCompile(*familyOnly).MatchString(day) }

func seedsOf(t testing.TB, list string) []uint64 {
	var seeds []uint64
	for cell := range strings.SplitSeq(list, ",") {
		seed, err := strconv.ParseUint(cell, 10, 64)
		require.NoError(t, err)
		seeds = append(seeds, seed)
	}
	return seeds
}

// trace is what a search told, and when.
type trace struct {
	began time.Time
	told  []telling
}

type telling struct {
	seconds    float64
	left, cost float64
}

// plan runs a search and keeps what it tells.
func (tr *trace) plan(ctx context.Context, t testing.TB, p *model.Problem, s planner.Settings) (*model.Result, float64) {
	s.Progress = func(now planner.Progress) {
		tr.told = append(tr.told, telling{tr.seconds(), now.Left, now.Dollars})
	}
	tr.began, tr.told = time.Now(), nil
	r, err := planner.Plan(ctx, p, s)
	require.NoError(t, err)
	took := tr.seconds()
	tr.told = append(tr.told, telling{took, r.Plan.Left.Float(), r.Plan.Cost.Total().Dollars()})
	return r, took
}

func (tr *trace) seconds() float64 { return time.Since(tr.began).Seconds() }

// until returns how long it took to a plan that is good enough, as a cell of a
// table; a dash where none was.
func (tr *trace) until(isGood func(telling) bool) string {
	for _, now := range tr.told {
		if isGood(now) {
			return fmt.Sprintf("%.2f", now.seconds)
		}
	}
	return "-"
}

// untilBetterThan returns how long it took to the first plan that beats another.
func (tr *trace) untilBetterThan(plan *model.Plan) string {
	other := bestKnown{left: plan.Left.Float(), cost: plan.Cost.Total().Dollars() - 0.0001}
	return tr.until(func(now telling) bool { return bestKnown{left: now.left, cost: now.cost}.beats(other) })
}

// firstPlanSeconds is how long it takes to first come, first served.
func firstPlanSeconds(t testing.TB, p *model.Problem) float64 {
	start := time.Now()
	_, err := planner.Plan(t.Context(), p, planner.Settings{})
	require.NoError(t, err)
	return time.Since(start).Seconds()
}

// daysTable plans days at normal effort, each twice: the first come, first
// served plan alone, and all of it.
func daysTable(b *testing.B, days []familyDay) string {
	var t strings.Builder
	best := readBest(b)
	t.WriteString(daysHead)
	sum := 0.0
	for _, d := range days {
		p := d.problem(b, nil)
		first := firstPlanSeconds(b, p)
		var tr trace
		r, took := tr.plan(b.Context(), b, p, planner.DefaultSettings())
		found := bestKnown{left: r.Plan.Left.Float(), cost: r.Plan.Cost.Total().Dollars()}
		known, ok := best[d.String()]
		if !ok || found.beats(known) {
			found.effort, found.seed, found.date = "normal", 1, time.Now().Format(time.DateOnly)
			known, best[d.String()] = found, found
			writeBest(b, best)
		}
		above := 100 * (found.cost/known.cost - 1)
		sum += above
		_, gap := r.Gap()
		near := tr.until(func(now telling) bool { return now.left <= known.left && now.cost <= known.cost*1.01 })
		fmt.Fprintf(&t, "| %v | %s | %s | %.2f | %.1f | %.2f | %+.1f | %.2f | %s | %s | %.1f |\n", d, leftAndCost(r.Baseline), leftAndCost(r.Plan),
			r.Bound.Dollars(), 100*gap, known.cost, above, first, tr.untilBetterThan(r.Baseline), near, took)
		b.Log(d, took, "s", above, "% above the best known")
	}
	b.ReportMetric(sum/float64(max(len(days), 1)), "%above")
	return t.String()
}

// leftAndCost is a plan's cost, and before it what it leaves undone, if anything.
func leftAndCost(p *model.Plan) string {
	cost := fmt.Sprintf("%.2f", p.Cost.Total().Dollars())
	if p.Left == 0 {
		return cost
	}
	return fmt.Sprintf("%.0f ac left, %s", p.Left.Float(), cost)
}

// hugeTable plans a day of a thousand loads with several efforts.
func hugeTable(b *testing.B) string {
	var t strings.Builder
	t.WriteString(hugeHead)
	day := familyDay{scenario.Huge, scenario.Busy, 1}
	if !isAskedFor(day.String()) {
		return t.String()
	}
	p := day.problem(b, nil)
	for _, steps := range []int64{0, planner.QuickSteps, 100_000} {
		watch := watchMemory()
		var tr trace
		r, took := tr.plan(b.Context(), b, p, planner.Settings{Steps: steps, Seed: 1})
		peak := watch()
		_, gap := r.Gap()
		fmt.Fprintf(&t, "| %v | %d | %s | %s | %.1f | %.1f | %.0f |\n", day, steps, leftAndCost(r.Baseline), leftAndCost(r.Plan), 100*gap, took, peak)
		b.Log(day, steps, took, "s", peak, "MiB")
	}
	return t.String()
}

// watchMemory samples what the process has mapped until the function it returns
// is called, which gives the most that was seen, in MiB.
func watchMemory() func() float64 {
	debug.FreeOSMemory() // what was planned before left some
	stop, peak := make(chan struct{}), make(chan float64)
	go func() {
		most := 0.0
		for tick := time.NewTicker(20 * time.Millisecond); ; {
			select {
			case <-tick.C:
				most = max(most, mappedMiB())
			case <-stop:
				tick.Stop()
				peak <- max(most, mappedMiB())
				return
			}
		}
	}()
	return func() float64 { close(stop); return <-peak }
}

// mappedMiB is the memory that the runtime holds and has not given back.
func mappedMiB() float64 {
	list := []metrics.Sample{{Name: "/memory/classes/total:bytes"}, {Name: "/memory/classes/heap/released:bytes"}}
	metrics.Read(list)
	return float64(list[0].Value.Uint64()-list[1].Value.Uint64()) / (1 << 20)
}

const familyHead = `# The benchmark family

Invented days of our own scenario (planner/scenario): four sizes, three levels of
crowding, three seeds; totes and deliveries, rinse and cleanout rules, limited
water, a shower, any-sprayer jobs. A day's name is sprayers x loads x bays, the
share of the time that fillings alone keep the bays busy, and the seed. Made by

    go test ./planner -run '^$' -bench 'Family$' -benchtime 1x -timeout 90m -args -family.results ../testdata/family/results.md

Times are wall times on two cores of a shared machine; plans depend on the steps
and the seed only. Best known values stand in best.csv with the effort and the
seed that found them; to look for better ones:

    go test ./planner -run '^$' -bench 'Family$' -benchtime 1x -timeout 90m -args -family.improve deep -family.seeds 2,3 -family.days 7x60x2
`

const hugeHead = `
## A thousand loads

100 sprayers, 10 bays. Memory is the most that the Go runtime held at once.

| day | steps | first come, $ | plan, $ | gap % | seconds | MiB |
|---|---|---|---|---|---|---|
`

const daysHead = `
## The days, at normal effort, seed 1

*Gap* is what the plan is above the bound, which was proved in the same run, as a
share of the plan's cost. *First come after* is the time to the first come, first
served plan, the first there is; *better after*, to the first plan that beats it;
*within 1 %*, to the first plan that costs at most 1 % more than the best known;
all in seconds, and a dash where the run did not get there.

| day | first come, $ | plan, $ | bound, $ | gap % | best known, $ | plan above it % | first come after | better after | within 1 % | whole run |
|---|---|---|---|---|---|---|---|---|---|---|
`
