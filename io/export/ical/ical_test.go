package ical

import (
	"bytes"
	"flag"
	"os"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	library "github.com/arran4/golang-ical"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"padturn/io/planfile"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func long(t testing.TB) *planfile.Document {
	d, err := planfile.Read("../../planfile/testdata/long")
	require.NoError(t, err)
	return d
}

func TestGolden(t *testing.T) {
	data, err := All(long(t))
	require.NoError(t, err)
	checkLines(t, data)
	const path = "testdata/long.ics"
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(path, data, 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), string(data))
}

// checkLines holds a calendar to the structure of content lines: CRLF, 75
// octets at most, no split character, and begins that meet their ends.
func checkLines(t testing.TB, data []byte) {
	t.Helper()
	text := string(data)
	require.True(t, strings.HasSuffix(text, "\r\n"))
	assert.NotContains(t, strings.ReplaceAll(text, "\r\n", ""), "\n", "a bare LF")
	assert.NotContains(t, strings.ReplaceAll(text, "\r\n", ""), "\r", "a bare CR")
	for _, line := range strings.Split(strings.TrimSuffix(text, "\r\n"), "\r\n") {
		assert.LessOrEqual(t, len(line), 75, line)
		assert.True(t, utf8.ValidString(line), line)
	}
	var open []string
	for _, line := range strings.Split(strings.ReplaceAll(text, "\r\n ", ""), "\r\n") {
		if name, ok := strings.CutPrefix(line, "BEGIN:"); ok {
			open = append(open, name)
		}
		if name, ok := strings.CutPrefix(line, "END:"); ok {
			require.NotEmpty(t, open)
			assert.Equal(t, open[len(open)-1], name)
			open = open[:len(open)-1]
		}
	}
	assert.Empty(t, open)
}

// events has a general library read the calendar.
func events(t testing.TB, data []byte) []*library.VEvent {
	t.Helper()
	cal, err := library.ParseCalendar(bytes.NewReader(data))
	require.NoError(t, err)
	return cal.Events()
}

func text(e *library.VEvent, p library.ComponentProperty) string {
	if got := e.GetProperty(p); got != nil {
		return library.FromText(got.Value)
	}
	return ""
}

func TestALibraryReadsWhatThePlanSays(t *testing.T) {
	d := long(t)
	data, err := All(d)
	require.NoError(t, err)
	got := events(t, data)
	require.Len(t, got, len(d.Loads)+1)
	day, err := time.Parse(time.DateOnly, d.Day.Date)
	require.NoError(t, err)
	seen := map[string]bool{}
	for i, l := range d.Loads {
		e := got[i]
		start, err := e.GetStartAt()
		require.NoError(t, err)
		end, err := e.GetEndAt()
		require.NoError(t, err)
		assert.Equal(t, int64(l.Start), seconds(day, start), l.Load)
		assert.Equal(t, int64(l.End), seconds(day, end), l.Load)
		assert.Contains(t, text(e, library.ComponentPropertySummary), l.Load)
		assert.Equal(t, l.Bay, text(e, library.ComponentPropertyLocation))
		assert.Equal(t, l.Sprayer, text(e, library.ComponentPropertyCategories))
		assert.False(t, seen[e.Id()], "a UID used twice")
		seen[e.Id()] = true
	}
	assert.Equal(t, "Delivery: atrazine 4 SC, 110 gal", text(got[len(d.Loads)], library.ComponentPropertySummary))
}

// seconds counts from midnight by the wall clock: floating times have no zone.
func seconds(day, at time.Time) int64 {
	wall := time.Date(at.Year(), at.Month(), at.Day(), at.Hour(), at.Minute(), at.Second(), 0, time.UTC)
	return int64(wall.Sub(day) / time.Second)
}

func TestOneSprayer(t *testing.T) {
	data, err := OfSprayer(long(t), "R1")
	require.NoError(t, err)
	assert.Len(t, events(t, data), 2)
	data, err = Deliveries(long(t))
	require.NoError(t, err)
	assert.Len(t, events(t, data), 1)
}

func TestUIDsStayWhenTimesMove(t *testing.T) {
	d := long(t)
	before, err := All(d)
	require.NoError(t, err)
	for i := range d.Loads {
		d.Loads[i].Start += 600
		d.Loads[i].End += 600
	}
	after, err := All(d)
	require.NoError(t, err)
	for i, e := range events(t, before) {
		assert.Equal(t, e.Id(), events(t, after)[i].Id())
	}
	assert.NotEqual(t, before, after)
}

func TestTwinDeliveriesAreTwoEvents(t *testing.T) {
	d := long(t)
	twin := planfile.StockEvent{Product: "a", At: 100, Event: planfile.EventDelivery, Change: 1, Unit: "gal"}
	d.Stock = []planfile.StockEvent{twin, twin}
	data, err := Deliveries(d)
	require.NoError(t, err)
	got := events(t, data)
	require.Len(t, got, 2)
	assert.NotEqual(t, got[0].Id(), got[1].Id())
}

func TestDates(t *testing.T) {
	d := long(t)
	d.Day.Date = ""
	_, err := All(d)
	assert.ErrorIs(t, err, ErrNoDate)
	d.Day.Date = "next Tuesday"
	_, err = All(d)
	assert.ErrorContains(t, err, `"next Tuesday" is not a date`)
}

func TestNothingToWrite(t *testing.T) {
	_, err := OfSprayer(long(t), "nobody")
	assert.ErrorIs(t, err, ErrEmpty)
}

// TestAnyTextComesBack: whatever a name is made of, lines keep their form and a
// reader gets the name back, less what no text may hold.
func TestAnyTextComesBack(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		name := rapid.String().Draw(rt, "name")
		d := &planfile.Document{Day: planfile.Day{Date: "2026-05-04"}, Loads: []planfile.Load{{Load: "S-1", Bay: name}}}
		data, err := All(d)
		require.NoError(t, err)
		checkLines(t, data)
		unfolded := strings.ReplaceAll(string(data), "\r\n ", "")
		_, rest, found := strings.Cut(unfolded, "\r\nLOCATION:")
		require.True(t, found)
		got, _, _ := strings.Cut(rest, "\r\n")
		plain := strings.NewReplacer(`\\`, `\`, `\;`, ";", `\,`, ",", `\n`, "\n").Replace(got)
		assert.Equal(t, valid(name), plain)
	})
}
