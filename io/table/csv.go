package table

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
)

// ReadCSV reads a text table: UTF-8 or, with a warning, Windows-1252;
// separated by comma, semicolon or tab, whichever the header line has. It
// returns nil where the file as a whole cannot be read; all that is wrong
// goes to the findings under the name file.
func ReadCSV(file string, data []byte, found *Findings) *Grid {
	fail := func(format string, args ...any) *Grid {
		found.Fail(Fault{File: file, Want: fmt.Sprintf(format, args...)})
		return nil
	}
	if len(data) > MaxFileBytes {
		return fail("is larger than %d MiB; a day's table is far smaller", MaxFileBytes>>20)
	}
	if why := notCSV(data); why != "" {
		return fail("%s", why)
	}
	text, fromWindows := decodeText(data)
	if fromWindows {
		found.Warn(Fault{File: file, Want: "is not UTF-8 and was read as Windows-1252; check the letters with accents"})
	}
	r := newCSVReader(file, text, found)
	header, err := r.next()
	if errors.Is(err, io.EOF) {
		return fail("is empty; the first line must name the columns")
	}
	if err != nil || header.Broken {
		return nil // reported
	}
	if len(header.Cells) > MaxColumns {
		return fail("has %d columns; at most %d are read", len(header.Cells), MaxColumns)
	}
	r.header = header
	g := &Grid{File: file, Header: header}
	for {
		row, err := r.next()
		if err != nil {
			return g
		}
		if len(g.Rows) == MaxRows {
			return fail("has more than %d rows", MaxRows)
		}
		r.checkWidth(&row)
		g.Rows = append(g.Rows, row)
	}
}

// csvReader reads rows with the places of their cells.
type csvReader struct {
	*csv.Reader
	file   string
	found  *Findings
	header Row // none while the header itself is read
}

func newCSVReader(file string, text []byte, found *Findings) *csvReader {
	r := &csvReader{Reader: csv.NewReader(bytes.NewReader(text)), file: file, found: found}
	r.Comma = sniffSeparator(text)
	r.FieldsPerRecord = -1 // widths are checked here, with better words
	// A blank before a quoted cell is harmless; with tabs as separators the
	// library would take empty cells for blanks.
	r.TrimLeadingSpace = r.Comma != '\t'
	return r
}

// next returns the next row that holds something; its only error is io.EOF. A
// row with bad quoting comes back broken, with the cells before the fault.
func (r *csvReader) next() (Row, error) {
	for {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			return Row{}, io.EOF
		}
		var syntax *csv.ParseError
		if errors.As(err, &syntax) {
			r.failQuoting(syntax, len(record)+1)
			return r.brokenRow(syntax.StartLine, record), nil
		}
		if row := r.row(record); !row.IsBlank() {
			return row, nil
		}
	}
}

func (r *csvReader) failQuoting(syntax *csv.ParseError, field int) {
	want := `has a quote mark inside a value; put the whole value in quotes and write "" for the mark`
	if errors.Is(syntax.Err, csv.ErrQuote) {
		want = fmt.Sprintf(`has a quote mark that opens in line %d and does not close before a separator; write "" for a mark inside a value`, syntax.StartLine)
	}
	r.found.Fail(Fault{File: r.file, Line: syntax.Line, Field: field, Column: r.column(field), Want: want})
}

// column is what the header calls a field.
func (r *csvReader) column(field int) string {
	if field > len(r.header.Cells) {
		return ""
	}
	return strings.ToLower(r.header.Cells[field-1].Text)
}

func (r *csvReader) brokenRow(line int, record []string) Row {
	row := Row{Line: line, Broken: true}
	for i, text := range record {
		row.Cells = append(row.Cells, r.cell(text, line, i+1))
	}
	return row
}

func (r *csvReader) row(record []string) Row {
	line, _ := r.FieldPos(0)
	row := Row{Line: line, Cells: make([]Cell, len(record))}
	for i, text := range record {
		line, _ := r.FieldPos(i)
		row.Cells[i] = r.cell(text, line, i+1)
	}
	return row
}

func (r *csvReader) cell(text string, line, field int) Cell {
	c := Cell{Text: strings.TrimSpace(text), Line: line, Field: field}
	if why := checkCell(c.Text); why != "" {
		r.found.Fail(Fault{File: r.file, Line: line, Field: field, Column: r.column(field), Value: clip(c.Text), Want: why})
		c.Text, c.Refused = "", true
	}
	return c
}

// checkWidth reports a row with more or fewer cells than the header. Even one
// that is blank may mean that all cells beside it have slipped.
func (r *csvReader) checkWidth(row *Row) {
	has, want := len(row.Cells), len(r.header.Cells)
	if row.Broken || has == want {
		return
	}
	row.Broken = true
	hint := ""
	if has > want {
		hint = fmt.Sprintf("; a value that holds %q must stand in quotes", r.Comma)
	}
	r.found.Fail(Fault{
		File: r.file, Line: row.Line,
		Want: fmt.Sprintf("the row has %s, the header has %d%s", fields(has), want, hint),
	})
}

func fields(n int) string {
	if n == 1 {
		return "1 field"
	}
	return fmt.Sprintf("%d fields", n)
}
