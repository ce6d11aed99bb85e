package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/io/audit"
	"padturn/io/planfile"
	"padturn/model"
	"padturn/planner"
)

// newPlanning returns a plan command for the small example, and its streams.
func newPlanning(t *testing.T) (p planning, stdout, stderr *bytes.Buffer) {
	stdout, stderr = new(bytes.Buffer), new(bytes.Buffer)
	return planning{
		day: filepath.Join(examplesDir, "small"), out: filepath.Join(t.TempDir(), "plan"),
		settings: planner.Settings{Steps: 200, Seed: 1}, effort: "200",
		search: planner.Plan, check: audit.Check, stdout: stdout, stderr: stderr,
	}, stdout, stderr
}

func TestBreachWritesNothing(t *testing.T) {
	p, stdout, stderr := newPlanning(t)
	p.check = func(*model.Input, map[string][]byte) []model.Violation {
		return []model.Violation{{Rule: "R5", Where: "Heron-2", What: "rinse is flush, expected wash"}, {Rule: "cost", Where: "cost.csv", What: "wait is wrong"}}
	}
	code := report(stderr, "padturn plan", p.run(context.Background()))
	assert.Equal(t, exitBreach, code)
	assert.Contains(t, stderr.String(), "R5: Heron-2: rinse is flush, expected wash\ncost: cost.csv: wait is wrong\n")
	assert.Contains(t, stderr.String(), "2 breaches")
	assert.Empty(t, stdout.String())
	assert.NoDirExists(t, p.out)
}

// TestCheckerSeesTheDamage hands the real checker a plan that was changed after
// it was made.
func TestCheckerSeesTheDamage(t *testing.T) {
	p, _, stderr := newPlanning(t)
	p.check = func(in *model.Input, files map[string][]byte) []model.Violation {
		files[planfile.CostFile] = bytes.Replace(files[planfile.CostFile], []byte("changeover,"), []byte("changeover,1"), 1)
		return audit.Check(in, files)
	}
	assert.Equal(t, exitBreach, report(stderr, "padturn plan", p.run(context.Background())))
	assert.Contains(t, stderr.String(), "changeover")
	assert.NoDirExists(t, p.out)
}

func TestInterruptedPlanIsWritten(t *testing.T) {
	p, stdout, stderr := newPlanning(t)
	ctx, cancel := context.WithCancel(context.Background())
	p.settings.Steps = 1_000_000_000_000 // would take days
	p.search = func(ctx context.Context, problem *model.Problem, s planner.Settings) (*model.Result, error) {
		cancel()
		return planner.Plan(ctx, problem, s)
	}
	assert.Equal(t, exitPlanned, report(stderr, "padturn plan", p.run(ctx)), stderr)
	assert.Contains(t, stdout.String(), "The search was stopped")
	assert.Contains(t, stderr.String(), "interrupted: this is the best plan found until then")
	doc, err := planfile.Read(p.out)
	require.NoError(t, err)
	assert.Equal(t, string(model.StatusInterrupted), doc.Search.Status)
	assert.NotEmpty(t, doc.Loads)
}

func TestInterruptedReplanSaysSo(t *testing.T) {
	p, stdout, stderr := newPlanning(t)
	p.day = filepath.Join(t.TempDir(), "day")
	require.NoError(t, os.CopyFS(p.day, os.DirFS(filepath.Join(examplesDir, "small"))))
	p.out = defaultOut(p.day)
	require.Equal(t, exitPlanned, report(stderr, "padturn plan", p.run(context.Background())), stderr)
	stderr.Reset()

	ctx, cancel := context.WithCancel(context.Background())
	p.settings.Steps, p.settings.FromScratch = 1_000_000_000_000, true // would take days
	p.search = func(ctx context.Context, problem *model.Problem, s planner.Settings) (*model.Result, error) {
		cancel()
		return planner.Plan(ctx, problem, s)
	}
	assert.Equal(t, exitPlanned, report(stderr, "padturn replan", replanning{planning: p, at: 8 * 3600}.run(ctx)), stderr)
	assert.Contains(t, stdout.String(), "Replan 1 at 08:00")
	assert.Contains(t, stderr.String(), "interrupted: this is the best plan found until then")
}

func TestInterruptedBeforeAPlan(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	out := filepath.Join(t.TempDir(), "plan")
	var stdout, stderr bytes.Buffer
	code := run(ctx, []string{"plan", filepath.Join(examplesDir, "small"), "-o", out}, nil, &stdout, &stderr)
	assert.Equal(t, exitInterrupted, code)
	assert.Empty(t, stdout.String())
	assert.NoDirExists(t, out)
}

func TestUnplannableDay(t *testing.T) {
	p, _, stderr := newPlanning(t)
	p.search = func(context.Context, *model.Problem, planner.Settings) (*model.Result, error) {
		return nil, errors.New("the jobs need 80 metered products")
	}
	assert.Equal(t, exitInput, report(stderr, "padturn plan", p.run(context.Background())))
	assert.Contains(t, stderr.String(), "cannot be planned: the jobs need 80 metered products")
	assert.NoDirExists(t, p.out)
}

// TestOutIsCheckedBeforeTheSearch uses a search that must not be reached.
func TestOutIsCheckedBeforeTheSearch(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	require.NoError(t, os.WriteFile(file, nil, 0o644))
	for _, row := range []struct{ name, out, says string }{
		{"a file", file, "is a file"},
		{"below a file", filepath.Join(file, "plan"), "not a directory"},
		{"the day itself", filepath.Join(examplesDir, "small"), "would replace the day's"},
		{"no folder can be made there", "/proc/plan", "cannot write"},
	} {
		t.Run(row.name, func(t *testing.T) {
			p, _, stderr := newPlanning(t)
			p.out = row.out
			p.search = func(context.Context, *model.Problem, planner.Settings) (*model.Result, error) {
				t.Error("searched although the plan cannot be written")
				return nil, errors.New("not reached")
			}
			assert.Equal(t, exitInput, report(stderr, "padturn plan", p.run(context.Background())))
			assert.Contains(t, stderr.String(), "cannot write "+row.out)
			assert.Contains(t, stderr.String(), row.says)
		})
	}
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, left, 1, "the trial leaves nothing behind")
}

// TestSameSeedSamePlan compares all files of two runs, byte for byte.
func TestSameSeedSamePlan(t *testing.T) {
	var plans []map[string]string
	for range 2 {
		p, _, stderr := newPlanning(t)
		p.settings.Steps = 2000
		require.Equal(t, exitPlanned, report(stderr, "padturn plan", p.run(context.Background())), stderr)
		files := map[string]string{}
		for _, name := range planfile.FileNames() {
			data, err := os.ReadFile(filepath.Join(p.out, name))
			require.NoError(t, err)
			files[name] = string(data)
		}
		plans = append(plans, files)
	}
	assert.Equal(t, plans[0], plans[1])
}
