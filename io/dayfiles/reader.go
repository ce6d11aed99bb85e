package dayfiles

import (
	"strings"

	"padturn/io/table"
	"padturn/model"
)

// source is where the tables of a day come from: a folder of files, or the
// sheets of a workbook. What the cells mean is the same for both.
type source interface {
	// at is the place of a table as a whole.
	at(model.Table) table.Fault
	// inWords puts words about the files of a day into those of the source.
	inWords(want string) string
	// look warns of what looks like a part of a day and has another name.
	look(*table.Findings)
	// grid returns the cells of a table, or nil where it is left out, as it
	// may be. False means that it cannot be read; that is reported.
	grid(model.Table, *table.Findings) (*table.Grid, bool)
	// settings returns the settings as a tree, without a root where nothing is
	// said. False means that they cannot be read; that is reported.
	settings(*table.Findings) (*settingsTree, bool)
}

// reader carries a day on its way from a source to an input.
type reader struct {
	source source
	found  table.Findings
	places map[model.Table]place
	bad    map[cellKey]bool // cells whose text is no value; reported
	unread []model.Table    // tables that could not be read as a whole
}

// readDay reads the day of a source; what is found goes on top of what was
// found already. Its error is always [*Problems].
func readDay(from source, found table.Findings) (*Day, error) {
	r := &reader{source: from, found: found, places: map[model.Table]place{}, bad: map[cellKey]bool{}}
	from.look(&r.found)
	day := &Day{Input: r.readInput()}
	day.Problem = r.check(day.Input)
	r.found.Sort()
	if len(r.found.Errors) > 0 {
		return nil, &Problems{r.found.Errors, r.found.Warnings}
	}
	day.Warnings = r.found.Warnings
	return day, nil
}

// cellKey names a cell as the model does.
type cellKey struct {
	table  model.Table
	row    int
	column string
}

// place finds the cells of one file. [table.Table] is one, and so is day.yaml.
type place interface {
	Fault(row int, column, value, want string) table.Fault
	IsKnownBad(row int, column string) bool
}

// fail reports a cell whose text is no value, unless the cell is known to be
// bad already.
func (r *reader) fail(key cellKey, value, want string) {
	at := r.places[key.table]
	if at.IsKnownBad(key.row, key.column) || r.bad[key] {
		return
	}
	r.bad[key] = true
	r.found.Fail(at.Fault(key.row, key.column, value, want))
}

// check has the model check the input and adds what it finds, with its place
// in the files.
func (r *reader) check(in model.Input) *model.Problem {
	if len(r.unread) > 0 {
		// Every name in the missing files would be reported as unknown.
		where := r.atUnread()
		where.Want = "could not be read, so names and what belongs together were not checked yet"
		r.found.Warn(where)
		return nil
	}
	problem, report := model.NewProblem(in)
	for _, f := range report.Errors {
		if !r.isKnownBad(f) {
			r.found.Fail(r.locate(f))
		}
	}
	for _, f := range report.Warnings {
		if !r.isKnownBad(f) {
			r.found.Warn(r.locate(f))
		}
	}
	return problem
}

// atUnread is the place of all tables that could not be read.
func (r *reader) atUnread() table.Fault {
	where := r.source.at(r.unread[0])
	var files, sheets []string
	for _, t := range r.unread {
		at := r.source.at(t)
		files, sheets = append(files, at.File), append(sheets, at.Sheet)
	}
	if where.Sheet != "" {
		where.Sheet = strings.Join(sheets, ", ")
		return where
	}
	where.File = strings.Join(files, ", ")
	return where
}

// isKnownBad says whether a fault is about a cell that was reported already.
func (r *reader) isKnownBad(f model.Fault) bool {
	if r.bad[cellKey{f.Table, f.Row, f.Column}] {
		return true
	}
	at, ok := r.places[f.Table]
	return ok && at.IsKnownBad(f.Row, f.Column)
}

// locate gives a fault of the model its place in the files.
func (r *reader) locate(f model.Fault) table.Fault {
	want := r.source.inWords(f.Want)
	if at, ok := r.places[f.Table]; ok {
		return at.Fault(f.Row, f.Column, f.Value, want)
	}
	fault := r.source.at(f.Table)
	fault.Column, fault.Value, fault.Want = f.Column, f.Value, want
	return fault
}
