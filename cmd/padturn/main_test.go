package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the golden files and the README's samples anew")

const (
	examplesDir = "../../examples"
	hostileDir  = "../../testdata/hostile"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"padturn": main})
}

// TestStories runs testdata/script: one file is one story of a user, told in
// commands and what they must answer.
func TestStories(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:           "testdata/script",
		UpdateScripts: *update,
		Setup: func(env *testscript.Env) error {
			for name, dir := range map[string]string{"EXAMPLES": examplesDir, "HOSTILE": hostileDir} {
				abs, err := filepath.Abs(dir)
				if err != nil {
					return err
				}
				env.Setenv(name, abs)
			}
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exits": exits, "lists": lists},
	})
}

// exits CODE COMMAND... runs a command that must end with exactly that code.
func exits(ts *testscript.TestScript, _ bool, args []string) {
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	err = ts.Exec(args[1], args[2:]...)
	if exit := new(exec.ExitError); errors.As(err, &exit) {
		got = exit.ExitCode()
	} else {
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("%s: exit code %d, expected %d", strings.Join(args[1:], " "), got, want)
	}
}

// lists DIR NAME... makes sure that a folder holds exactly these names.
func lists(ts *testscript.TestScript, _ bool, args []string) {
	entries, err := os.ReadDir(ts.MkAbs(args[0]))
	ts.Check(err)
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	if diff := cmp.Diff(args[1:], got); diff != "" {
		ts.Fatalf("%s: -expected +found:\n%s", args[0], diff)
	}
}

// answer is what a run of the program came to.
type answer struct {
	code           int
	stdout, stderr string
}

// padturn runs the program in this process.
func padturn(args ...string) answer {
	var stdout, stderr bytes.Buffer
	code := run(context.Background(), args, strings.NewReader(""), &stdout, &stderr)
	return answer{code, stdout.String(), stderr.String()}
}

// TestExampleGoldens pins what every example's plan says at quick effort. A
// stronger search changes it: look at the difference, then use -update.
func TestExampleGoldens(t *testing.T) {
	t.Setenv("COLUMNS", "")
	for name, code := range map[string]int{"small": exitPlanned, "spring-rush": exitPlanned, "short-stock": exitWorkLeft} {
		t.Run(name, func(t *testing.T) {
			out := filepath.Join(t.TempDir(), "plan")
			got := padturn("plan", filepath.Join(examplesDir, name), "--effort", "quick", "-o", out)
			require.Equal(t, code, got.code, got.stderr)
			loads, err := os.ReadFile(filepath.Join(out, "loads.csv"))
			require.NoError(t, err)
			golden(t, filepath.Join("testdata", "golden", name, "summary.txt"), got.stdout)
			golden(t, filepath.Join("testdata", "golden", name, "loads.csv"), string(loads))
		})
	}
}

// golden compares text with a file, or writes the file with -update.
func golden(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
		t.Errorf("%s: -golden +now:\n%s", path, diff)
	}
}

// TestHelpFitsAScreen keeps every help text within 80 columns, examples before
// usage.
func TestHelpFitsAScreen(t *testing.T) {
	for _, command := range append(commandNames(), "") {
		t.Run("padturn "+command, func(t *testing.T) {
			got := padturn(strings.Fields(command + " --help")...)
			require.Equal(t, exitPlanned, got.code)
			for _, line := range strings.Split(got.stdout, "\n") {
				assert.LessOrEqual(t, len(line), 80, line)
			}
			examples, usage := strings.Index(got.stdout, "Examples:"), strings.Index(got.stdout, "Usage:")
			assert.Positive(t, examples)
			assert.Greater(t, usage, examples)
		})
	}
}

// commandNames lists the commands.
func commandNames() []string {
	var names []string
	for _, command := range newRoot().Commands() {
		names = append(names, command.Name())
	}
	return names
}
