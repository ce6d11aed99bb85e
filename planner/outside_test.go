package planner_test

import (
	"encoding/csv"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner"
	"padturn/planner/outside"
)

// benchFolder returns the folder of the published instances, which are not
// ours to keep in this repository. Without it a test is skipped, and fails
// where everything must be checked (CI=true).
func benchFolder(t testing.TB) string {
	t.Helper()
	folder := os.Getenv("PADTURN_BENCH")
	if folder == "" {
		folder = filepath.Join("..", "..", "shared", "bench")
	}
	if _, err := os.Stat(folder); err == nil {
		return folder
	}
	const missing = "OUTSIDE CHECKS NOT RUN: no published instances in %s; set PADTURN_BENCH to their folder"
	if os.Getenv("CI") == "true" {
		t.Fatalf(missing, folder)
	}
	t.Skipf(missing, folder)
	return ""
}

// readBench reads one published file, given by its path in the bench folder.
func readBench[T any](t testing.TB, read func(io.Reader) (T, error), path ...string) T {
	t.Helper()
	name := filepath.Join(append([]string{benchFolder(t)}, path...)...)
	file, err := os.Open(name)
	require.NoError(t, err)
	defer file.Close()
	instance, err := read(file)
	require.NoError(t, err, name)
	return instance
}

// benchTable reads a table of published values without its header.
func benchTable(t testing.TB, path ...string) [][]string {
	t.Helper()
	read := func(r io.Reader) ([][]string, error) {
		in := csv.NewReader(r)
		in.FieldsPerRecord = -1
		return in.ReadAll()
	}
	return readBench(t, read, path...)[1:]
}

func whole(t testing.TB, s string) int {
	t.Helper()
	n, err := strconv.Atoi(s)
	require.NoError(t, err)
	return n
}

// instance is a published instance of any kind.
type instance interface {
	Day() model.Input
	// Value is what a plan is worth by the publication's own arithmetic.
	Value(*model.Plan) int
}

// planOutside plans an instance, holds what the plan costs against what its
// order is worth, and returns that; more is by how much the cost lies above it.
func planOutside(t testing.TB, i instance, more int, steps int64) int {
	t.Helper()
	p, report := model.NewProblem(i.Day())
	require.Empty(t, report.Errors)
	r, err := planner.Plan(t.Context(), p, planner.Settings{Steps: steps, Seed: 1})
	require.NoError(t, err)
	require.Zero(t, r.Plan.Left, "all must be sprayed")
	value := i.Value(r.Plan)
	require.Equal(t, model.Dollar*model.Money(value+more), r.Plan.Cost.Total(), "cost against the order's own value")
	require.LessOrEqual(t, r.Bound, r.Plan.Cost.Total())
	return value
}

// catanzaro reads a tool switching instance named as the tables of values do.
func catanzaro(t testing.TB, name string) *outside.Switching {
	t.Helper()
	path := append([]string{"ssp"}, strings.Split(strings.ToLower(name[:1])+name[1:], "/")...)
	return readBench(t, outside.ReadSwitching, path...)
}

func TestOutsideToolSwitchingReachesEveryProvedOptimum(t *testing.T) {
	skipWhenShort(t)
	for _, row := range benchTable(t, "ssp", "proven_small.csv") {
		t.Run(row[0], func(t *testing.T) {
			s := catanzaro(t, row[0])
			assert.Equal(t, whole(t, row[4]), planOutside(t, s, s.FirstFilling(), planner.QuickSteps))
		})
	}
}

// Of 15 jobs every third is planned here; all are in BenchmarkOutside.
func TestOutsideToolSwitchingReachesTheBestKnown(t *testing.T) {
	skipWhenShort(t)
	for i, row := range benchTable(t, "ssp", "best_known.csv") {
		if i%3 != 0 {
			continue
		}
		t.Run(row[0], func(t *testing.T) {
			s := catanzaro(t, row[0])
			assert.LessOrEqual(t, planOutside(t, s, s.FirstFilling(), steps15), whole(t, row[4]))
		})
	}
}

// steps15 is the effort for tool switching with 15 jobs.
const steps15 = 50_000

// The order on the slots and the set-up times are beyond a pad; what is left is
// plain tool switching, whose optimum is found here by trying every order.
func TestOutsideToolOrderWithoutSetupTimes(t *testing.T) {
	for _, folder := range []string{"5_5_2", "5_10_2", "5_10_3", "7_10_2", "7_10_3"} {
		for k := 1; k <= 10; k += 3 {
			name := "TI_Ins" + strconv.Itoa(k) + "_" + folder + ".txt"
			t.Run(name, func(t *testing.T) {
				o := readBench(t, outside.ReadOrdered, "ssp", "tool-order", "Instances", folder, name)
				best := fewestInsertions(&o.Switching) - o.FirstFilling()
				assert.Equal(t, best, planOutside(t, o, o.FirstFilling(), 5000))
			})
		}
	}
}

// parallelTools lists the instances on several machines.
func parallelTools(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(benchFolder(t), "parallel-tools", "*.PMTC"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	names := make([]string, len(files))
	for i, f := range files {
		names[i] = filepath.Base(f)
	}
	return names
}

// With 8 jobs the best is known by trying every order of every share of the
// jobs; all 16 are in BenchmarkOutside.
func TestOutsideParallelTools(t *testing.T) {
	skipWhenShort(t)
	for _, name := range parallelTools(t) {
		p := readBench(t, outside.ReadParallel, "parallel-tools", name)
		if len(p.Work) > exactJobs {
			continue
		}
		t.Run(name, func(t *testing.T) {
			best := shortestMakespan(p)
			assert.LessOrEqual(t, p.LowerBound(), best)
			assert.Equal(t, best, planOutside(t, p, -p.Free(), planner.NormalSteps))
		})
	}
}

func TestOutsideTours(t *testing.T) {
	skipWhenShort(t)
	tests := []struct {
		name string
		gap  float64 // how far above the published optimum a plan may be
	}{
		{"br17", 0},
		{"ftv33", 0.1},
	}
	optima := map[string]int{}
	for _, row := range benchTable(t, "atsp", "optima.csv") {
		optima[row[0]] = whole(t, row[2])
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			tour := readBench(t, outside.ReadTour, "atsp", tt.name+".atsp")
			value := planOutside(t, tour, 0, planner.NormalSteps)
			assert.GreaterOrEqual(t, value, optima[tt.name], "no round is below a proved optimum")
			assert.LessOrEqual(t, float64(value), (1+tt.gap)*float64(optima[tt.name]))
		})
	}
}

// No optima of the server instances are published; those of 8 jobs are found
// here by trying every order. Every third is planned; nearly all are reached.
func TestOutsideCommonServer(t *testing.T) {
	skipWhenShort(t)
	list := readBench(t, outside.ReadServers, "common-server", "p2s1", "n=8.txt")
	require.Len(t, list, 30)
	missed := 0
	for i := 0; i < len(list); i += 3 {
		t.Run(strconv.Itoa(i+1), func(t *testing.T) {
			s := list[i]
			best := shortestServed(s)
			assert.LessOrEqual(t, s.LowerBound(), best)
			makespan := planOutside(t, s, -s.Free(), planner.NormalSteps)
			assert.GreaterOrEqual(t, makespan, best, "no plan is below the best of all orders")
			assert.LessOrEqual(t, float64(makespan), 1.02*float64(best))
			missed += min(makespan-best, 1)
		})
	}
	assert.LessOrEqual(t, missed, 2, "of 10")
}

// johnson reads the examples of Johnson's rule and the makespans that brute
// force found for them; some of the pages they come from print others.
func johnson(t testing.TB) (names []string, shops []*outside.FlowShop, makespans []int) {
	t.Helper()
	times := func(s string) []int {
		var list []int
		for _, f := range strings.Fields(s) {
			list = append(list, whole(t, f))
		}
		return list
	}
	for _, row := range benchTable(t, "common-server", "johnson_examples.csv") {
		shop, err := outside.NewFlowShop(times(row[1]), times(row[2]))
		require.NoError(t, err)
		names, shops, makespans = append(names, row[0]), append(shops, shop), append(makespans, whole(t, row[4]))
	}
	return names, shops, makespans
}

func TestOutsideJohnsonsRule(t *testing.T) {
	names, shops, makespans := johnson(t)
	require.Len(t, names, 5)
	for i, shop := range shops {
		t.Run(names[i], func(t *testing.T) {
			assert.Equal(t, makespans[i], planOutside(t, shop, -shop.Free(), 5000))
		})
	}
}

// First come, first served on alike sprayers is exact arithmetic: in the first
// turn they queue up, and then each waits N fill / bays - (fill + away) minutes a
// turn, if that is positive. The sums of ten turns are those of the published
// check; a plan may be better, since it may let some sprayers finish first.
func TestOutsideClockwork(t *testing.T) {
	tests := []struct {
		name string
		pad  outside.Clockwork
		want int
	}{
		{"5 sprayers, never in each other's way again", outside.Clockwork{Sprayers: 5, Bays: 1, Turns: 10, Fill: 10, Away: 45}, 100},
		{"6 sprayers", outside.Clockwork{Sprayers: 6, Bays: 1, Turns: 10, Fill: 10, Away: 45}, 420},
		{"7 sprayers", outside.Clockwork{Sprayers: 7, Bays: 1, Turns: 10, Fill: 10, Away: 45}, 1155},
		{"8 sprayers", outside.Clockwork{Sprayers: 8, Bays: 1, Turns: 10, Fill: 10, Away: 45}, 2080},
		{"12 sprayers, 2 bays", outside.Clockwork{Sprayers: 12, Bays: 2, Turns: 10, Fill: 10, Away: 45}, 840},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			assert.Equal(t, tt.want, tt.pad.FirstComeWait())
			p, report := model.NewProblem(tt.pad.Day())
			require.Empty(t, report.Errors)
			r, err := planner.Plan(t.Context(), p, planner.Settings{Steps: 5000, Seed: 1})
			require.NoError(t, err)
			assert.Equal(t, model.Dollar*model.Money(tt.want), r.Baseline.Cost.Total())
			assert.LessOrEqual(t, r.Plan.Cost.Total(), r.Baseline.Cost.Total())
		})
	}
}
