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

// planOutside plans an instance and holds what the plan costs against what its
// order is worth; unpaid is by how much the cost lies above the value.
func planOutside(t testing.TB, i instance, unpaid int, steps int64) int {
	t.Helper()
	p, report := model.NewProblem(i.Day())
	require.Empty(t, report.Errors)
	r, err := planner.Plan(t.Context(), p, planner.Settings{Steps: steps, Seed: 1})
	require.NoError(t, err)
	require.Zero(t, r.Plan.Left, "all must be sprayed")
	value := i.Value(r.Plan)
	assert.Equal(t, model.Dollar*model.Money(value+unpaid), r.Plan.Cost.Total(), "cost against the order's own value")
	assert.LessOrEqual(t, r.Bound, r.Plan.Cost.Total())
	return value
}

// catanzaro reads a tool switching instance named as the tables of values do.
func catanzaro(t testing.TB, name string) *outside.Switching {
	t.Helper()
	path := append([]string{"ssp"}, strings.Split(strings.ToLower(name[:1])+name[1:], "/")...)
	return readBench(t, outside.ReadSwitching, path...)
}

func TestOutsideToolSwitchingProved(t *testing.T) {
	for _, row := range benchTable(t, "ssp", "proven_small.csv") {
		t.Run(row[0], func(t *testing.T) {
			s := catanzaro(t, row[0])
			assert.Equal(t, whole(t, row[4]), planOutside(t, s, s.FirstFilling(), 20_000))
		})
	}
}

func TestTmpB(t *testing.T) {
	for _, row := range benchTable(t, "ssp", "best_known.csv") {
		for _, steps := range []int64{20_000, 100_000, 400_000} {
			t.Run(row[0], func(t *testing.T) {
				s := catanzaro(t, row[0])
				v := planOutside(t, s, s.FirstFilling(), steps)
				t.Log(steps, v, row[4], v-whole(t, row[4]))
			})
		}
	}
}
func TestTmpTour(t *testing.T) {
	for _, row := range benchTable(t, "atsp", "optima.csv") {
		t.Run(row[0], func(t *testing.T) {
			s := readBench(t, outside.ReadTour, "atsp", row[0]+".atsp")
			v := planOutside(t, s, 0, 200_000)
			t.Log(v, row[2])
		})
	}
}
