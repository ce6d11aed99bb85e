package planner_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner"
	"padturn/planner/outside"
)

var resultsFile = flag.String("outside.results", "", "file that BenchmarkOutside writes its table to")

// outsideCase is an instance to be planned, beside what is known of it.
type outsideCase struct {
	family, name string
	jobs         int
	instance     instance
	more         int // by how much a plan's cost lies above its value
	steps        int64
	known        int
	how          string // how it is known
}

// outsideResult is a line of the table.
type outsideResult struct {
	outsideCase
	value   int
	seconds float64
}

// gap is how far the value lies above what is known, in per cent.
func (r *outsideResult) gap() float64 {
	if r.value == r.known {
		return 0 // both may be 0
	}
	return 100 * float64(r.value-r.known) / float64(r.known)
}

// BenchmarkOutside plans the published instances once each, reports the mean
// gap of each family, and writes a table of all to the file that
// -outside.results names.
func BenchmarkOutside(b *testing.B) {
	var results []outsideResult
	for _, family := range []struct {
		name  string
		cases func(testing.TB) []outsideCase
	}{
		{"tool switching", switchingCases}, {"tool order", orderedCases}, {"parallel tools", parallelCases},
		{"tours", tourCases}, {"common server", serverCases}, {"flow shop", shopCases},
	} {
		b.Run(family.name, func(b *testing.B) {
			for b.Loop() {
				results = append(results, runOutside(b, family.cases(b))...)
			}
		})
	}
	if *resultsFile != "" {
		require.NoError(b, os.WriteFile(*resultsFile, []byte(outsideTable(results)), 0o644))
	}
}

func runOutside(b *testing.B, cases []outsideCase) []outsideResult {
	var results []outsideResult
	gaps := 0.0
	for _, c := range cases {
		start := time.Now()
		r := outsideResult{outsideCase: c, value: planOutside(b, c.instance, c.more, c.steps)}
		r.seconds = time.Since(start).Seconds()
		gaps += r.gap()
		results = append(results, r)
	}
	b.ReportMetric(gaps/float64(len(cases)), "%gap")
	return results
}

func switchingCases(t testing.TB) []outsideCase {
	var cases []outsideCase
	add := func(name string, steps int64, known int, how string) {
		s := catanzaro(t, name)
		cases = append(cases, outsideCase{
			"tool switching", strings.TrimPrefix(strings.ToLower(name), "catanzaro/"), len(s.Jobs), s, s.FirstFilling(), steps, known, how,
		})
	}
	for _, row := range benchTable(t, "ssp", "proven_small.csv") {
		add(row[0], planner.QuickSteps, whole(t, row[4]), "proved")
	}
	for _, row := range benchTable(t, "ssp", "best_known.csv") {
		add(row[0], steps15, whole(t, row[4]), "best known")
	}
	// The genetic search of the literature, seed 1; the others of 30 and 40 jobs
	// have no published value here.
	const tenSeconds = 1_000_000 // about as many steps as two cores take then
	add("Catanzaro/Tabela1/datC2", tenSeconds, 92, "best known")
	add("Catanzaro/Tabela1/datD2", tenSeconds, 147, "best known")
	return cases
}

func orderedCases(t testing.TB) []outsideCase {
	var cases []outsideCase
	for _, size := range []string{"5_5_2", "5_10_2", "5_10_3", "7_10_2", "7_10_3"} {
		for k := range 10 {
			name := fmt.Sprintf("TI_Ins%d_%s.txt", k+1, size)
			o := readBench(t, outside.ReadOrdered, "ssp", "tool-order", "Instances", size, name)
			known := fewestInsertions(&o.Switching) - o.FirstFilling()
			cases = append(cases, outsideCase{"tool order", name, len(o.Jobs), o, o.FirstFilling(), 5000, known, "every order"})
		}
	}
	return cases
}

func parallelCases(t testing.TB) []outsideCase {
	var cases []outsideCase
	for _, name := range parallelTools(t) {
		p := readBench(t, outside.ReadParallel, "parallel-tools", name)
		c := outsideCase{"parallel tools", name, len(p.Work), p, -p.Free(), planner.NormalSteps, p.LowerBound(), "lower bound"}
		if len(p.Work) <= exactJobs {
			c.known, c.how = shortestMakespan(p), "every order"
		}
		cases = append(cases, c)
	}
	return cases
}

func tourCases(t testing.TB) []outsideCase {
	var cases []outsideCase
	for _, row := range benchTable(t, "atsp", "optima.csv") {
		tour := readBench(t, outside.ReadTour, "atsp", row[0]+".atsp")
		cases = append(cases, outsideCase{"tours", row[0], len(tour.Arcs), tour, 0, planner.NormalSteps, whole(t, row[2]), "optimum"})
	}
	return cases
}

// serverCases takes the first instance of each of the three kinds of loading
// times, of each size up to 100 jobs.
func serverCases(t testing.TB) []outsideCase {
	var cases []outsideCase
	for _, n := range []int{8, 10, 12, 25, 50, 100} {
		file := fmt.Sprintf("n=%d.txt", n)
		list := readBench(t, outside.ReadServers, "common-server", "p2s1", file)
		for i := 0; i < len(list); i += 10 {
			s := list[i]
			c := outsideCase{"common server", file + " " + strconv.Itoa(i+1), n, s, -s.Free(), planner.NormalSteps, s.LowerBound(), "lower bound"}
			if n <= exactJobs {
				c.known, c.how = shortestServed(s), "every order"
			}
			cases = append(cases, c)
		}
	}
	return cases
}

func shopCases(t testing.TB) []outsideCase {
	var cases []outsideCase
	names, shops, makespans := johnson(t)
	for i, shop := range shops {
		cases = append(cases, outsideCase{"flow shop", names[i], len(shop.First), shop, -shop.Free(), 5000, makespans[i], "every order"})
	}
	return cases
}

// BenchmarkOutsideEvaluation times what a search step costs on the shapes of
// published instances.
func BenchmarkOutsideEvaluation(b *testing.B) {
	for _, name := range []string{"Catanzaro/Tabela1/datA2", "Catanzaro/Tabela1/datB2", "Catanzaro/Tabela1/datD2"} {
		b.Run(filepath.Base(name), func(b *testing.B) {
			p, report := model.NewProblem(catanzaro(b, name).Day())
			require.Empty(b, report.Errors)
			const steps = 10_000
			for b.Loop() {
				_, err := planner.Plan(b.Context(), p, planner.Settings{Steps: steps, Seed: 1})
				require.NoError(b, err)
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/steps, "µs/step")
		})
	}
}

// outsideTable renders the results: a summary by family, then all lines.
func outsideTable(results []outsideResult) string {
	var t strings.Builder
	rest := results
	t.WriteString(outsideHead)
	t.WriteString("\n## By family\n\n| family | known by | jobs | instances | reached | mean gap % | worst gap % | seconds each |\n|---|---|---|---|---|---|---|---|\n")
	for len(rest) > 0 {
		var group, others []outsideResult
		for _, r := range rest {
			if r.alike(&rest[0]) {
				group = append(group, r)
			} else {
				others = append(others, r)
			}
		}
		writeSummary(&t, group)
		rest = others
	}
	t.WriteString("\n## By instance\n\n| family | instance | jobs | steps | known | known by | ours | gap % | seconds |\n|---|---|---|---|---|---|---|---|---|\n")
	for i := range results {
		r := &results[i]
		fmt.Fprintf(&t, "| %s | %s | %d | %d | %d | %s | %d | %.1f | %.1f |\n",
			r.family, r.name, r.jobs, r.steps, r.known, r.how, r.value, r.gap(), r.seconds)
	}
	return t.String()
}

// alike says whether two lines are summed up together.
func (r *outsideResult) alike(o *outsideResult) bool {
	return r.family == o.family && r.how == o.how && r.jobs == o.jobs
}

func writeSummary(t *strings.Builder, list []outsideResult) {
	reached, sum, worst, seconds := 0, 0.0, 0.0, 0.0
	for i := range list {
		g := list[i].gap()
		if g <= 0 {
			reached++
		}
		sum, worst, seconds = sum+g, max(worst, g), seconds+list[i].seconds
	}
	n := float64(len(list))
	fmt.Fprintf(t, "| %s | %s | %d | %d | %d | %.2f | %.1f | %.2f |\n",
		list[0].family, list[0].how, list[0].jobs, len(list), reached, sum/n, worst, seconds/n)
}

const outsideHead = `# Published instances, planned as days

Made by

    go test ./planner -run '^$' -bench 'Outside$' -benchtime 1x -timeout 60m -args -outside.results ../testdata/outside/results.md

with seed 1, through the same door as every plan (planner.Plan), by no solver of
its own. The package planner/outside says how each kind becomes a day and what of
it a day cannot say. Values are the publications' own measures, recounted from the
order of the plan. Times are wall times on two cores that others used too; plans
depend on the steps only.

Known by: *proved*, by branch and bound; *best known*, by the literature's genetic
search for tool switching, seed 1; *optimum*, TSPLIB; *every order*, by trying them
all; *lower bound*, which the best need not reach, so that such a gap is only an
upper limit.

Sources: tool switching, Catanzaro, Gouveia and Labbé, EJOR 2015; tool order, Iori,
Locatelli, Locatelli and Salazar-González 2022 (without set-up times and slots'
order); parallel tools, Beezão, Cordeau, Laporte and Yanasse, EJOR 2017 (the first
filling takes time here); tours, TSPLIB; common server, the P2,S1|sj,tj|Cmax
collection (without unloading); flow shop, textbook examples of Johnson's rule.
`
