package terminal

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/jedib0t/go-pretty/v6/text"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/io/planfile"
)

var update = flag.Bool("update", false, "write the golden files anew")

func TestMain(m *testing.M) {
	// The width of an ellipsis follows the machine's language; the goldens must not.
	text.OverrideRuneWidthEastAsianWidth(false)
	m.Run()
}

// sample reads one of the plans that planfile keeps as goldens: long has a
// rinse, changeovers, overtime past midnight, names of other alphabets and a
// bound; short is one load in metric units, proved; empty sprays nothing.
func sample(t testing.TB, name string) *planfile.Document {
	t.Helper()
	d, err := planfile.Read(filepath.Join("..", "planfile", "testdata", name))
	require.NoError(t, err)
	return d
}

func show(t testing.TB, d *planfile.Document, width int) string {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, Show(&out, d, width))
	return out.String()
}

func TestShowGoldens(t *testing.T) {
	for _, name := range []string{"long", "short", "empty"} {
		for _, width := range []int{60, 80, 120} {
			t.Run(fmt.Sprintf("%s %d", name, width), func(t *testing.T) {
				got := show(t, sample(t, name), width)
				path := filepath.Join("testdata", fmt.Sprintf("%s-%d.txt", name, width))
				if *update {
					require.NoError(t, os.MkdirAll("testdata", 0o755))
					require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
				}
				want, err := os.ReadFile(path)
				require.NoError(t, err)
				assert.Empty(t, cmp.Diff(string(want), got))
			})
		}
	}
}

func TestNoLineIsWiderThanAsked(t *testing.T) {
	long := sample(t, "long")
	long.Warnings = append(long.Warnings, strings.Repeat("unbroken", 30), strings.Repeat("農", 100))
	long.Unsprayed[0].Reason = strings.Repeat("no room; ", 40)
	long.Day.Date = strings.Repeat("date ", 40)
	for i := range long.Loads {
		long.Loads[i].Mix = strings.Repeat("農業", 30)
		long.Loads[i].Gal *= 100
		long.Loads[i].Rinse = strings.Repeat("wash ", 30)
		long.Loads[i].WaitS = 90_000
	}
	for i := range long.Products {
		long.Products[i].Product = strings.Repeat("é", 90)
	}
	for i := range long.Stock {
		long.Stock[i].Product = strings.Repeat("水", 90)
	}
	for _, d := range []*planfile.Document{long, sample(t, "long"), sample(t, "short"), sample(t, "empty")} {
		for _, row := range []struct{ asked, width int }{{60, 60}, {61, 61}, {75, 75}, {76, 76}, {80, 80}, {0, 80}, {200, 200}, {20, 60}} {
			for line := range strings.SplitSeq(show(t, d, row.asked), "\n") {
				assert.LessOrEqual(t, text.StringWidth(line), row.width, "%q", line)
				assert.Equal(t, strings.TrimRight(line, " "), line, "no blanks at the end")
			}
		}
	}
}

func TestOutputIsPlainText(t *testing.T) {
	d := sample(t, "long")
	d.Loads[0].Mix, d.Warnings[0] = "\x1b[31mred\x07", "a\nb\x1b]0;title\x07"
	for _, r := range show(t, d, 80) {
		assert.False(t, r < ' ' && r != '\n', "%q", r)
	}
}

func TestSaving(t *testing.T) {
	dollars := func(n int64) planfile.Number { return planfile.Number(n * 1_000_000_000) }
	for _, row := range []struct {
		name                string
		mine, first         int64
		leftMine, leftFirst int64
		want                string
	}{
		{"saves", 75, 100, 0, 0, "It saves $25.00 (25.0 %) against first come, first served."},
		{"same", 100, 100, 5, 5, "It costs the same as first come, first served."},
		{"dearer", 110, 100, 0, 0, "It costs $10.00 (10.0 %) more than first come, first served."},
		{"both cost nothing", 0, 0, 0, 0, "It costs the same as first come, first served."},
		{"sprays more", 500, 100, 10, 40, "It leaves less undone than first come, first served (10.0 ac against 40.0 ac), so the two costs are not for the same work."},
		{"sprays more for less", 60, 100, 10, 40, "It sprays 30.0 ac more than first come, first served, and costs $40.00 (40.0 %) less."},
		{"sprays less", 100, 500, 40, 10, "It leaves more undone than first come, first served (40.0 ac against 10.0 ac), so the two costs are not for the same work."},
	} {
		t.Run(row.name, func(t *testing.T) {
			p := newPage(&planfile.Document{
				Totals:   planfile.Totals{Cost: planfile.Cost{Dollars: dollars(row.mine)}, LeftAcres: dollars(row.leftMine), LeftWeight: dollars(row.leftMine)},
				Baseline: planfile.Totals{Cost: planfile.Cost{Dollars: dollars(row.first)}, LeftAcres: dollars(row.leftFirst), LeftWeight: dollars(row.leftFirst)},
			}, 80)
			assert.Equal(t, row.want, p.saving())
		})
	}
}

func TestMetric(t *testing.T) {
	u := units{metric: true}
	assert.Equal(t, "40.5", u.area(planfile.Number(100_000_000_000)))    // 100 ac = 40.4686 ha
	assert.Equal(t, "3785", u.volume(planfile.Number(1000_000_000_000))) // 1000 gal = 3785.41 L
	got := show(t, sample(t, "short"), 80)
	assert.Contains(t, got, "1 load, 16.2 ha")
	assert.Contains(t, got, "1514") // 400 gal
	assert.NotContains(t, got, " gal")
	assert.NotContains(t, got, " ac\n")
}

func TestClip(t *testing.T) {
	for _, row := range []struct {
		name, in string
		width    int
		tail     bool
		want     string
	}{
		{"fits", "R1-12", 5, true, "R1-12"},
		{"end cut", "glyphosate", 6, false, "glyph…"},
		{"middle cut", "Big red sprayer-12", 9, true, "Big r…-12"},
		{"wide letters", "農場農場農場", 6, false, "農場…"},
		{"wide letters, middle cut", "農場農場-3", 7, true, "農場…-3"},
		{"no number at the end", "rampe-rouge", 6, true, "rampe…"},
	} {
		t.Run(row.name, func(t *testing.T) { assert.Equal(t, row.want, clip(row.in, row.width, row.tail)) })
	}
}

type fullPipe struct{}

var errFull = errors.New("pipe closed")

func (fullPipe) Write([]byte) (int, error) { return 0, errFull }

func TestWriterErrorsComeBack(t *testing.T) {
	assert.ErrorIs(t, Summary(fullPipe{}, sample(t, "short"), 80), errFull)
	assert.ErrorIs(t, Show(fullPipe{}, sample(t, "short"), 80), errFull)
}

func TestSummaryIsTheTopOfShow(t *testing.T) {
	var out bytes.Buffer
	d := sample(t, "long")
	require.NoError(t, Summary(&out, d, 80))
	assert.True(t, strings.HasPrefix(show(t, d, 80), out.String()))
	assert.Contains(t, out.String(), "NOT SPRAYED")
}

// What must be decided about a tank comes before anything else of the plan.
func TestDecisionsComeFirst(t *testing.T) {
	d := sample(t, "long")
	d.Warnings = []string{"waits: S2", "decide now: S1 has 30 ac in its tank"}
	got := show(t, d, 80)
	assert.Equal(t, []string{"", "DECIDE NOW", "- S1 has 30 ac in its tank", ""}, strings.Split(got, "\n")[1:5])
	assert.Contains(t, got, "Warnings\n- waits: S2\n\n")
	assert.Equal(t, 1, strings.Count(got, "S1 has 30 ac"))
}

func TestLateJobs(t *testing.T) {
	d := sample(t, "long")
	assert.NotContains(t, show(t, d, 80), "\nLate\n")
	due := planfile.Time(7 * 3600)
	for i := range d.Jobs {
		d.Jobs[i].Due = &due
	}
	got := show(t, d, 120)
	assert.Contains(t, got, "- J1 (Home 80): due 07:00, sprayed by 07:51, 0:51 late\n") // 07:51:40
	assert.NotContains(t, got, "- J5 (=far): due", "a job not finished is not late but not sprayed")
}

// A table that cannot be clipped enough leaves out what it can spare.
func TestLoadsFilledEarlyAreNamed(t *testing.T) {
	earliest := planfile.Time(10 * 3600)
	pause := func(from, to planfile.Time) planfile.Turn {
		return planfile.Turn{Sprayer: "S1", Load: "S1-1", What: "pause", From: from, To: to}
	}
	d := &planfile.Document{
		Jobs: []planfile.Job{{Job: "J1", Field: "Ridge", Earliest: &earliest}, {Job: "J2", Field: "Pond"}},
		Loads: []planfile.Load{{Load: "S1-1", Sprayer: "S1", End: earliest - 7200,
			Parts: []planfile.Part{{Job: "J2"}, {Job: "J1"}}}},
	}
	for _, tt := range []struct {
		name  string
		turns []planfile.Turn
		want  string
	}{
		{"long", []planfile.Turn{pause(earliest-3660, earliest)}, "- S1-1 is filled by 08:00 and stands 61 min in the field for J1 (Ridge), earliest 10:00\n"},
		{"an hour", []planfile.Turn{pause(earliest-3600, earliest)}, ""},
		{"a hold that was over before", []planfile.Turn{pause(earliest-7200, earliest-60)}, ""},
		{"until a hold's end", []planfile.Turn{pause(earliest-3600, earliest+3600)}, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d.Turns = tt.turns
			p := newPage(d, 200)
			p.filledEarly()
			var text strings.Builder
			require.NoError(t, p.writeTo(&text))
			if tt.want == "" {
				assert.Empty(t, text.String())
			} else {
				assert.Contains(t, text.String(), tt.want)
			}
		})
	}
}

func TestNarrowTablesLeaveOutSpareColumns(t *testing.T) {
	d := sample(t, "long")
	wide, narrow := show(t, d, 120), show(t, d, 60)
	for _, title := range []string{"first fill", "cleanouts\n", "delivered", "sprayer  "} {
		assert.Contains(t, wide, title)
	}
	assert.Contains(t, narrow, "opening")
	assert.NotContains(t, narrow, "delivered")
	assert.NotContains(t, narrow, "back  wait  held  cleanouts")
}
