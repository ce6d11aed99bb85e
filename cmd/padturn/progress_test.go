package main

import (
	"bytes"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"

	"padturn/planner"
)

func TestProgressLine(t *testing.T) {
	for _, row := range []struct {
		name  string
		takes time.Duration
		heard planner.Progress
		width int
		says  string // on the way; blank: nothing at all
	}{
		{"a short search says nothing", 499 * time.Millisecond, planner.Progress{Steps: 1, Of: 2}, 80, ""},
		{"a longer one says where it is", 900 * time.Millisecond, planner.Progress{Steps: 12_000, Of: 200_000, Dollars: 1234.6}, 80,
			"planning: step 12,000 of 200,000, best $1,235 (Ctrl-C takes it)"},
		{"work left undone", 900 * time.Millisecond, planner.Progress{Steps: 1, Of: 2, Left: 40}, 80, "best $0, work left undone"},
		{"a proof says for how long", 62*time.Second + 500*time.Millisecond, planner.Progress{Steps: 2, Of: 2, Dollars: 1010.97, Proving: true, Bound: 994.49}, 80,
			"proving, 1:02: best $1,010.97, none below $994.49 (1.7 %), Ctrl-C takes it"},
		{"a proof without a bound yet", 900 * time.Millisecond, planner.Progress{Steps: 2, Of: 2, Dollars: 1010.97, Proving: true}, 80,
			"proving, 0:00: best $1,010.97, Ctrl-C takes it"},
		{"nothing heard yet", 600 * time.Millisecond, planner.Progress{}, 80, "planning (Ctrl-C"},
		{"a narrow terminal", 600 * time.Millisecond, planner.Progress{}, 12, "\rplanning (C\r"},
	} {
		t.Run(row.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				var out bytes.Buffer
				p := showProgress(&out, row.width)
				p.heard(row.heard)
				time.Sleep(row.takes)
				p.end()
				assert.Contains(t, out.String(), row.says)
				assert.Equal(t, row.says == "", out.Len() == 0)
				assert.Empty(t, screen(out.String()), "the line is taken away at the end")
				assert.NotContains(t, out.String(), "\x1b", "plain text only")
			})
		})
	}
}

// screen returns what stands on a terminal's line in the end: \r goes back to
// its beginning, what follows overwrites.
func screen(written string) string {
	var line []rune
	at := 0
	for _, r := range written {
		if r == '\r' {
			at = 0
			continue
		}
		for len(line) <= at {
			line = append(line, ' ')
		}
		line[at] = r
		at++
	}
	return strings.TrimSpace(string(line))
}
