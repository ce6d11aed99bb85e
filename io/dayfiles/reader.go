package dayfiles

import (
	"io/fs"
	"strings"

	"padturn/io/table"
	"padturn/model"
)

// reader carries a day folder on its way to an input.
type reader struct {
	fsys    fs.FS
	present []string // names of the folder's files
	found   table.Findings
	places  map[model.Table]place
	bad     map[cellKey]bool // cells whose text is no value; reported
	unread  []string         // files that could not be read as a whole
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
		r.found.Warn(table.Fault{
			File: strings.Join(r.unread, ", "),
			Want: "could not be read, so names and what belongs together were not checked yet",
		})
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
	if at, ok := r.places[f.Table]; ok {
		return at.Fault(f.Row, f.Column, f.Value, f.Want)
	}
	return table.Fault{File: fileName(f.Table), Column: f.Column, Value: f.Value, Want: f.Want}
}
