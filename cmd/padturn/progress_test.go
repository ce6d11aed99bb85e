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
		says  []string // on the way
	}{
		{"a short search says nothing", 499 * time.Millisecond, nil},
		{"a longer one says where it is", 900 * time.Millisecond, []string{"step 12,000 of 200,000, best so far $1,235"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				var out bytes.Buffer
				p := showProgress(&out)
				p.heard(planner.Progress{Steps: 12_000, Of: 200_000, Dollars: 1234.6})
				time.Sleep(row.takes)
				p.end()
				for _, words := range row.says {
					assert.Contains(t, out.String(), words)
				}
				assert.Equal(t, row.says == nil, out.Len() == 0)
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
