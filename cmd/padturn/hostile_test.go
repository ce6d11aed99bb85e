package main

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// expectation is a row of testdata/hostile/expect.csv: where a message must
// point, and words that it must hold.
type expectation struct{ kind, at, says string }

// TestHostileDays checks every day with mistakes: each must be told, at its
// place, with exit code 2; a day with warnings only is in order.
func TestHostileDays(t *testing.T) {
	expected := readExpectations(t)
	entries, err := os.ReadDir(hostileDir)
	require.NoError(t, err)
	for _, e := range entries {
		if !e.IsDir() {
			continue
		}
		t.Run(e.Name(), func(t *testing.T) {
			got := padturn("check", filepath.Join(hostileDir, e.Name()))
			code := exitPlanned
			for _, want := range expected[e.Name()] {
				at := want.at
				if want.kind == "warning" {
					at = "warning: " + at
				} else {
					code = exitInput
				}
				assert.True(t, tells(got.stderr, at, want.says), "no line begins with %q and says %q:\n%s", at, want.says, got.stderr)
			}
			assert.Equal(t, code, got.code, got.stderr)
			assert.Equal(t, code == exitPlanned, got.stdout != "", "a result only where the day is sound")
		})
		delete(expected, e.Name())
	}
	assert.Empty(t, expected, "expect.csv names folders that are not there")
}

func tells(text, at, says string) bool {
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, at) && strings.Contains(line, says) {
			return true
		}
	}
	return false
}

func readExpectations(t *testing.T) map[string][]expectation {
	f, err := os.Open(filepath.Join(hostileDir, "expect.csv"))
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Equal(t, []string{"folder", "kind", "at", "says"}, rows[0])
	all := map[string][]expectation{}
	for _, row := range rows[1:] {
		all[row[0]] = append(all[row[0]], expectation{row[1], row[2], row[3]})
	}
	return all
}
