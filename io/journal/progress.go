package journal

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"padturn/io/table"
	"padturn/model"
	"padturn/model/standing"
)

// ProgressFile is the sheet that can be filled in by hand instead of reporting
// facts one by one.
const ProgressFile = "progress.csv"

type progressText struct {
	Load      string `csv:"load" need:"yes"`
	State     string `csv:"state" need:"yes"`
	At        string `csv:"at" need:"yes"`
	AcresLeft string `csv:"acres_left"`
}

// Progress reads a CSV file of how far loads are, as notes in the order of its
// rows. Its error lists all that is wrong, with file, line and column.
func Progress(path string) ([]Note, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("%s cannot be read: %w", path, err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, table.MaxFileBytes+1))
	if err != nil {
		return nil, fmt.Errorf("%s cannot be read: %w", path, err)
	}
	var found table.Findings
	return ProgressOf(table.ReadCSV(filepath.Base(path), data, &found), &found)
}

// ProgressOf takes the rows of a sheet, which is nil where it could not be read,
// as notes. Its error lists what was found on the way too.
func ProgressOf(g *table.Grid, found *table.Findings) ([]Note, error) {
	notes := progressRows(g, found)
	found.Sort()
	if len(found.Errors) > 0 {
		all := make([]error, len(found.Errors))
		for i, fault := range found.Errors {
			all[i] = errors.New(fault.String())
		}
		return nil, errors.Join(all...)
	}
	return notes, nil
}

func progressRows(g *table.Grid, found *table.Findings) []Note {
	if g == nil {
		return nil
	}
	t := table.Match[progressText](g, found)
	if !t.Complete {
		return nil
	}
	var notes []Note
	for i, row := range t.Rows {
		fail := func(column, value string, err error) {
			if err != nil && !t.IsKnownBad(i, column) {
				found.Fail(t.Fault(i, column, value, err.Error()))
			}
		}
		m := standing.LoadMark{Load: row.Load, State: standing.State(strings.ToLower(row.State))}
		if row.Load == "" {
			fail("load", "", errors.New("is blank; a value is required"))
		}
		fail("state", row.State, stateError(m.State))
		at, err := model.ParseHHMM(row.At)
		fail("at", row.At, err)
		fail("acres_left", row.AcresLeft, parsed(&m.AcresLeft, row.AcresLeft, table.ParseDecimal))
		notes = append(notes, Note{At: at, News: m})
	}
	return notes
}

func stateError(s standing.State) error {
	if oneOf("", string(s), stateWords()...) == nil {
		return nil
	}
	return errors.New("expected waiting, filling, filled, spraying, done or dropped")
}
