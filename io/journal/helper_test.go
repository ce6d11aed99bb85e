package journal

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"padturn/model"
	"padturn/model/standing"
)

var noon = time.Date(2026, 6, 9, 12, 0, 0, 0, time.UTC)

// put appends notes without looking at the journal.
// in is the journal of a day folder.
func in(dir string) string { return filepath.Join(dir, File) }

func put(dir string, notes ...Note) (*Journal, error) {
	return Append(in(dir), noon, func(*Journal) ([]Note, error) { return notes, nil })
}

// someNotes is one note of every kind.
func someNotes() []Note {
	hour := model.Clock(3600)
	return []Note{
		{At: 9 * hour, News: standing.LoadMark{Load: "Heron-1", State: standing.Filled, Drew: []standing.Drew{{Product: `2,4-D "choline"`, Amount: 13_125_000_001}}}},
		{At: 9*hour + 61, News: standing.LoadMark{Load: "Heron-1", State: standing.Spraying, AcresLeft: model.Some(model.Decimal(0))}, Cause: "by radio"},
		{At: 10 * hour, News: standing.SprayerMark{Sprayer: "Sora", Out: true, Until: model.Some(25 * hour)}},
		{At: 11 * hour, News: standing.SprayerMark{Sprayer: "Sora"}},
		{At: 11 * hour, News: standing.DeliveryMark{Product: "atrazine 4 SC", Planned: 10 * hour, Until: model.Some(14 * hour)}},
		{At: 12 * hour, News: standing.StockCount{Product: "glü,5 \U0001F69C", Container: "tote", Size: 120 * model.One, Full: 2 * model.One, Open: []model.Decimal{46 * model.One, 1}}},
		{At: 12 * hour, News: standing.JobMark{
			Change: standing.JobAdded,
			Row: model.JobRow{Job: "J13", Field: "north", Mix: "m", Acres: 12_500_000_000, Lat: model.Some(41.5), Lon: model.Some(-93.25),
				Due: model.Some(15 * hour), GPA: model.Some(15 * model.One)},
			Given: []string{"field", "mix", "acres", "lat", "lon", "due", "gpa"},
		}},
		{At: 12 * hour, News: standing.JobMark{Change: standing.JobChanged, Row: model.JobRow{Job: "J13"}, Given: []string{"sprayer", "due"}}},
		{At: 12 * hour, News: standing.JobMark{Change: standing.JobDropped, Row: model.JobRow{Job: "J01"}}},
		{At: 12 * hour, News: standing.HoldMark{Hold: model.HoldRow{From: 10 * hour, To: 13 * hour, Kind: "rain", Scope: "field:north", Reason: "shower"}}},
		{At: 13 * hour, Undo: 1, Cause: "it was Sora"},
	}
}

// journalOf writes the notes into a new folder and returns the file's bytes.
func journalOf(t testing.TB, notes []Note) (dir string, data []byte) {
	t.Helper()
	dir = t.TempDir()
	for _, n := range notes {
		_, err := put(dir, n)
		require.NoError(t, err)
	}
	data, err := os.ReadFile(in(dir))
	require.NoError(t, err)
	return dir, data
}

func notesOf(j *Journal) []Note {
	var notes []Note
	for _, e := range j.Entries {
		notes = append(notes, e.Note)
	}
	return notes
}

// anyNote draws a note; undo may name entries up to n.
func anyNote(t *rapid.T, n int) Note {
	name := rapid.StringMatching(`[ -~é]{0,12}`).Draw(t, "name")
	at := model.Clock(rapid.IntRange(0, 2*86_400-1).Draw(t, "at"))
	number := model.Decimal(rapid.Int64Range(0, 1e15).Draw(t, "number"))
	switch kind := rapid.IntRange(0, 4).Draw(t, "kind"); {
	case kind == 0 && n > 0:
		return Note{At: at, Undo: rapid.IntRange(1, n).Draw(t, "undo"), Cause: name}
	case kind <= 1:
		return Note{At: at, News: standing.LoadMark{Load: name, State: rapid.SampledFrom(standing.States()).Draw(t, "state"), AcresLeft: &number}}
	case kind == 2:
		return Note{At: at, News: standing.SprayerMark{Sprayer: name, Out: rapid.Bool().Draw(t, "out"), Until: &at}}
	case kind == 3:
		return Note{At: at, News: standing.HoldMark{Hold: model.HoldRow{From: at, To: at + 60, Reason: name}}}
	}
	return Note{At: at, News: standing.StockCount{Product: name, Container: "tote", Size: number, Open: []model.Decimal{number}}}
}

// describe writes notes out, for comparing and for reading.
func describe(notes []Note) string {
	var text strings.Builder
	for _, n := range notes {
		data, err := json.Marshal(lineOf(&Entry{Note: n}))
		if err != nil {
			panic(err)
		}
		fmt.Fprintf(&text, "%s\n", data)
	}
	return text.String()
}
