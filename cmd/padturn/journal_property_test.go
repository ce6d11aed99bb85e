package main

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"padturn/io/journal"
	"padturn/model/standing"
)

// command draws a report, a hold or a replan for a moment of the day.
func command(t *rapid.T, dir, at string) []string {
	load := fmt.Sprintf("%s-%d", rapid.SampledFrom([]string{"Heron", "Plover", "Sora"}).Draw(t, "sprayer"), rapid.IntRange(1, 7).Draw(t, "load"))
	state := string(rapid.SampledFrom(standing.States()).Draw(t, "state"))
	return rapid.SampledFrom([][]string{
		{"mark", dir, load, state, "--at", at},
		{"mark", dir, load, state, "--at", at},
		{"hold", dir, "12:00-13:00", "--kind", "rain", "--at", at},
		{"mark", dir, "Sora", "out", "--at", at},
		{"mark", dir, "Sora", "back", "--at", at},
		{"mark", dir, "job", "J07", "changed", "acres=170", "--at", at},
		{"mark", dir, "undo", "1", "--at", at},
		{"replan", dir, "--at", at, "--effort", "1"},
	}).Draw(t, "command")
}

// TestAcceptedReportsOutliveReplansAndCrashes runs reports, holds, undos and
// replans in any order, with crashes at any byte of a report before it is
// acknowledged, and opens the journal anew each time: it holds what was accepted,
// and nothing else.
func TestAcceptedReportsOutliveReplansAndCrashes(t *testing.T) {
	top := t.TempDir()
	morning := filepath.Join(top, "morning")
	require.NoError(t, os.CopyFS(morning, os.DirFS(filepath.Join(examplesDir, "small"))))
	require.NoError(t, os.RemoveAll(filepath.Join(morning, "plan")))
	require.Equal(t, exitPlanned, padturn("plan", morning, "--effort", "1").code)
	accepted, replans := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		dir, err := os.MkdirTemp(top, "day")
		require.NoError(t, err)
		require.NoError(t, os.CopyFS(dir, os.DirFS(morning)))
		var want []byte
		for step := range rapid.IntRange(1, 7).Draw(t, "steps") {
			args := command(t, dir, fmt.Sprintf("%02d:%02d", 6+step, rapid.IntRange(0, 59).Draw(t, "minute")))
			got := padturn(args...)
			now, err := os.ReadFile(journalOf(dir))
			require.True(t, err == nil || os.IsNotExist(err), err)
			switch {
			case args[0] == "replan":
				require.Contains(t, []int{exitPlanned, exitWorkLeft}, got.code, "%v: %s", args, got.stderr)
				replans++
			case got.code != exitPlanned:
				require.Contains(t, got.stderr, "nothing was written down", args)
			case rapid.IntRange(0, 3).Draw(t, "crash") == 0: // before the answer, at any byte
				cut := rapid.IntRange(len(want), len(now)-1).Draw(t, "cut")
				require.NoError(t, os.WriteFile(journalOf(dir), now[:cut], 0o644))
				continue
			default:
				accepted++
				want = now
			}
			require.Equal(t, string(want), string(now[:min(len(now), len(want))]), args)
			j, err := journal.Read(journalOf(dir))
			require.NoError(t, err)
			require.Equal(t, len(want), len(now)-len(j.Torn), args)
		}
	})
	t.Logf("%d reports accepted, %d replans", accepted, replans)
	assert.Positive(t, accepted)
	assert.Positive(t, replans)
}
