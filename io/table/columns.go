package table

import (
	"cmp"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"github.com/gocarina/gocsv"

	"padturn/model"
)

// Table is a grid whose header was matched to the columns of T.
type Table[T any] struct {
	Rows []T // one for each row of the grid, broken ones too
	// Complete says that every required column is there, and none twice.
	Complete bool

	grid    *Grid
	columns []column
	fields  map[string]int // column name -> index into a row's cells
}

// Match matches the header of a grid to the columns of T and hands out the
// cells by name. T is a struct of strings whose fields carry the tag
// csv:"column name", and need:"yes" where the column has to be there. Headers
// match without regard to case and blanks around. A column that is not known
// is a warning; one that is missing or twice is an error.
func Match[T any](g *Grid, found *Findings) *Table[T] {
	t := &Table[T]{grid: g, columns: columnsOf(reflect.TypeFor[T]()), fields: map[string]int{}, Complete: true}
	t.matchHeader(found)
	for _, name := range t.Required() {
		if !t.has(name) {
			t.Complete = false
			found.Fail(Fault{File: g.File, Sheet: g.Sheet, Line: g.Header.Line, Column: name, Want: "column is missing; found " + headerList(g.Header)})
		}
	}
	t.refuseBad(found)
	// The library copies strings into struct fields and no more: it would
	// read "1,200" as 1.2 and a blank number as 0, and does not know lines.
	if err := gocsv.UnmarshalCSV(t.records(), &t.Rows); err != nil {
		t.Complete, t.Rows = false, make([]T, len(g.Rows))
		found.Fail(Fault{File: g.File, Sheet: g.Sheet, Want: "the rows do not fit the columns: " + err.Error()})
	}
	return t
}

// column is what T says of one column.
type column struct {
	name     string
	required bool
}

func columnsOf(t reflect.Type) []column {
	columns := make([]column, t.NumField())
	for i := range columns {
		tag := t.Field(i).Tag
		columns[i] = column{tag.Get("csv"), tag.Get("need") == "yes"}
	}
	return columns
}

// Required names the columns that have to be there.
func (t *Table[T]) Required() []string {
	var names []string
	for _, c := range t.columns {
		if c.required {
			names = append(names, c.name)
		}
	}
	return names
}

func (t *Table[T]) matchHeader(found *Findings) {
	known := make([]string, len(t.columns))
	for i, c := range t.columns {
		known[i] = c.name
	}
	for i, cell := range t.grid.Header.Cells {
		name := strings.ToLower(cell.Text)
		fault := Fault{File: t.grid.File, Sheet: t.grid.Sheet, Line: cell.Line, Field: cell.Field, Column: name}
		first, twice := t.fields[name]
		switch {
		case name == "":
			t.checkNameless(i, found)
		case !slices.Contains(known, name):
			fault.Want = "unknown column, not read" + model.Suggest(name, known)
			found.Warn(fault)
		case twice:
			t.Complete = false
			fault.Want = fmt.Sprintf("column stands twice (fields %d and %d)", first+1, i+1)
			found.Fail(fault)
		default:
			t.fields[name] = i
		}
	}
}

// refuseBad reports cells that cannot be used, in columns that are read. CSV
// cells have been looked at where they were read.
func (t *Table[T]) refuseBad(found *Findings) {
	for name, i := range t.fields {
		for _, row := range t.grid.Rows {
			if i >= len(row.Cells) {
				continue
			}
			c := &row.Cells[i]
			why := cmp.Or(c.Bad, checkCell(c.Text))
			if why == "" {
				continue
			}
			found.Fail(Fault{
				File: t.grid.File, Sheet: t.grid.Sheet, Line: c.Line, Field: c.Field, Column: name, Value: clip(c.Text), Want: why,
			})
			c.Text, c.Refused = "", true
		}
	}
}

// checkNameless warns of values below a header cell that is blank. Spreadsheets
// write such columns when only their format was touched; then they are empty.
func (t *Table[T]) checkNameless(i int, found *Findings) {
	for _, row := range t.grid.Rows {
		if i < len(row.Cells) && row.Cells[i].Text != "" {
			found.Warn(Fault{
				File: t.grid.File, Sheet: t.grid.Sheet, Line: row.Cells[i].Line, Field: i + 1, Value: row.Cells[i].Text,
				Want: "stands in a column without a name; the column is not read",
			})
			return
		}
	}
}

func headerList(header Row) string {
	var names []string
	for _, c := range header.Cells {
		if c.Text != "" {
			names = append(names, c.Text)
		}
	}
	return strings.Join(names, ", ")
}

// records is the grid as the library reads it: the header in the names of the
// columns, a column that is not read under none, every row as wide as the
// header.
func (t *Table[T]) records() records {
	width := len(t.grid.Header.Cells)
	all := make(records, 1+len(t.grid.Rows))
	all[0] = make([]string, width)
	for name, i := range t.fields {
		all[0][i] = name
	}
	for i, row := range t.grid.Rows {
		record := make([]string, width)
		for j, c := range row.Cells[:min(width, len(row.Cells))] {
			record[j] = c.Text
		}
		all[i+1] = record
	}
	return all
}

// records is a file already read, as gocsv wants its reader.
type records [][]string

// ReadAll returns all records.
func (r records) ReadAll() ([][]string, error) { return r, nil }

// Read is not called by the decoder that takes all records at once.
func (r records) Read() ([]string, error) {
	return nil, fmt.Errorf("records are only read all at once")
}

// Cell returns the cell of a row in a column. Where the row or the header has
// no such cell it is blank and carries the row's line. A row below 0 stands
// for the header.
func (t *Table[T]) Cell(row int, column string) Cell {
	r := t.grid.Header
	if row >= 0 {
		r = t.grid.Rows[row]
	}
	i, ok := t.fields[column]
	if !ok || i >= len(r.Cells) {
		return Cell{Line: r.Line}
	}
	return r.Cells[i]
}

// IsKnownBad says whether something is wrong with the row or the cell that was
// reported already, so that more words about it would only mislead.
func (t *Table[T]) IsKnownBad(row int, column string) bool {
	if row < 0 {
		return false
	}
	missing := !t.has(column) && slices.Contains(t.Required(), column)
	return t.grid.Rows[row].Broken || t.Cell(row, column).Refused || missing
}

func (t *Table[T]) has(column string) bool {
	_, ok := t.fields[column]
	return ok
}

// Fault returns a fault at a cell.
func (t *Table[T]) Fault(row int, column, value, want string) Fault {
	c := t.Cell(row, column)
	return Fault{File: t.grid.File, Sheet: t.grid.Sheet, Line: c.Line, Field: c.Field, Column: column, Value: value, Want: want}
}
