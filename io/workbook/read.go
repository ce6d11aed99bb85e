package workbook

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"padturn/io/dayfiles"
	"padturn/io/table"
)

// Read reads the day that is in a workbook. Its error is always
// [*dayfiles.Problems].
func Read(path string) (*dayfiles.Day, error) {
	data, err := load(path)
	if err != nil {
		return nil, problem(path, unreadable(err))
	}
	return ReadBytes(filepath.Base(path), data)
}

// unreadable says why a file could not be loaded.
func unreadable(err error) string {
	var pathError *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "there is no such file"
	case errors.As(err, &pathError):
		return "cannot be read: " + pathError.Err.Error()
	}
	return err.Error()
}

// ReadSheet reads one sheet of a workbook, which is no part of the day itself,
// and tells what it finds. The grid is nil where the sheet is not there, holds
// nothing or cannot be read.
func ReadSheet(path, sheet string, found *table.Findings) *table.Grid {
	data, err := load(path)
	if err != nil {
		found.Fail(table.Fault{File: path, Want: unreadable(err)})
		return nil
	}
	file := filepath.Base(path)
	sheets, err := sheetsOf(file, data, []string{sheet})
	if err != nil {
		found.Fail(table.Fault{File: file, Want: err.Error()})
		return nil
	}
	found.Errors = append(found.Errors, sheets.Found.Errors...)
	found.Warnings = append(found.Warnings, sheets.Found.Warnings...)
	for _, g := range sheets.Grids {
		if len(g.Header.Cells) > 0 {
			return g
		}
	}
	return nil
}

// ReadBytes reads the day that is in the bytes of a workbook; file is what it
// is called in messages. Its error is always [*dayfiles.Problems].
func ReadBytes(file string, data []byte) (*dayfiles.Day, error) {
	sheets, err := sheetsOf(file, data, dayfiles.DaySheets())
	if err != nil {
		return nil, problem(file, err.Error())
	}
	return dayfiles.ReadSheets(sheets)
}

func problem(file, want string) error {
	return &dayfiles.Problems{Errors: []table.Fault{{File: file, Want: want}}}
}

// sheetsOf turns the sheets that are wanted into grids of text; the grids of
// others are empty.
func sheetsOf(file string, data []byte, wanted []string) (sheets dayfiles.Sheets, err error) {
	// The library takes the inside of a file for sound: a style that is named
	// and not there is an index out of range.
	defer func() {
		if why := recover(); why != nil {
			err = fmt.Errorf("is a damaged workbook: %v", why)
		}
	}()
	f, err := open(data)
	if err != nil {
		return sheets, err
	}
	defer f.Close()
	sheets.File = file
	for _, name := range f.GetSheetList() {
		r := sheetReader{file: f, sheet: name, grid: &table.Grid{File: file, Sheet: name}, found: &sheets.Found, formats: map[int]format{}}
		r.sheetKey = strings.ToLower(strings.TrimSpace(name))
		if slices.Contains(wanted, r.sheetKey) {
			if err := r.read(); err != nil {
				sheets.Unread = append(sheets.Unread, name)
				r.fail("cannot be read: " + err.Error())
			}
		}
		sheets.Grids = append(sheets.Grids, r.grid)
	}
	return sheets, nil
}

// sheetReader reads one sheet.
type sheetReader struct {
	file     *excelize.File
	sheet    string
	sheetKey string // without regard to case
	grid     *table.Grid
	found    *table.Findings
	date1904 bool
	formats  map[int]format // by style
	merged   []area
	hidden   int // rows
}

func (r *sheetReader) fail(want string) {
	r.found.Fail(table.Fault{File: r.grid.File, Sheet: r.sheet, Want: want})
}

func (r *sheetReader) warn(want string) {
	r.found.Warn(table.Fault{File: r.grid.File, Sheet: r.sheet, Want: want})
}

// read reads the rows below the first one that holds something, which is the
// header.
func (r *sheetReader) read() error {
	rows, err := r.rows()
	if err != nil || len(rows) == 0 {
		return err
	}
	if width := len(rows[0].texts); width > table.MaxColumns {
		return fmt.Errorf("it has %d columns; at most %d are read", width, table.MaxColumns)
	}
	if err := r.lookAround(); err != nil {
		return err
	}
	for _, row := range rows {
		r.add(r.row(row.line, row.texts[:min(len(row.texts), table.MaxColumns)]), row.hidden)
	}
	if r.hidden > 0 {
		r.warn(fmt.Sprintf("has %s, read like the others", hiddenRows(r.hidden)))
	}
	r.pad()
	return nil
}

func hiddenRows(n int) string {
	if n == 1 {
		return "1 hidden row"
	}
	return fmt.Sprintf("%d hidden rows", n)
}

// storedRow is a row as the file has it: the values as they are stored, not as
// they are shown, up to the last that is not blank.
type storedRow struct {
	line   int
	texts  []string
	hidden bool
}

// rows returns the rows that hold something. They come first, while the sheet
// is still a stream of bytes: afterwards the library would write it out again.
func (r *sheetReader) rows() ([]storedRow, error) {
	rows, err := r.file.Rows(r.sheet)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []storedRow
	for line := 1; rows.Next(); line++ {
		texts, err := rows.Columns(excelize.Options{RawCellValue: true})
		if err != nil {
			return nil, err
		}
		if len(texts) > 0 {
			all = append(all, storedRow{line, texts, rows.GetRowOpts().Hidden})
		}
		if len(all) > table.MaxRows {
			return nil, fmt.Errorf("it has more than %d rows", table.MaxRows)
		}
	}
	return all, rows.Error()
}

// lookAround notes what is true of the sheet as a whole.
func (r *sheetReader) lookAround() error {
	if visible, err := r.file.GetSheetVisible(r.sheet); err == nil && !visible {
		r.warn("is a hidden sheet and is read all the same")
	}
	props, err := r.file.GetWorkbookProps()
	if err != nil {
		return err
	}
	r.date1904 = props.Date1904 != nil && *props.Date1904
	r.merged, err = mergedAreas(r.file, r.sheet)
	return err
}

// row makes cells of the texts of one row, which end with the last that is not
// blank; the row goes on as far as the header.
func (r *sheetReader) row(line int, texts []string) table.Row {
	for len(texts) < len(r.grid.Header.Cells) {
		texts = append(texts, "")
	}
	row := table.Row{Line: line, Cells: make([]table.Cell, len(texts))}
	for i, text := range texts {
		row.Cells[i] = r.cell(line, i+1, text)
	}
	return row
}

// add takes the first row that holds something for the header, and of the
// others those that hold something below it.
func (r *sheetReader) add(row table.Row, hidden bool) {
	header := r.grid.Header.Cells
	if len(header) == 0 {
		if !row.IsBlank() {
			r.grid.Header = row
		}
		return
	}
	for i, c := range row.Cells[:min(len(row.Cells), len(header))] {
		if header[i].Text != "" && (c.Text != "" || c.Bad != "") {
			r.grid.Rows = append(r.grid.Rows, row)
			if hidden {
				r.hidden++
			}
			return
		}
	}
}

// pad gives the header a nameless cell above every column that holds something,
// so that what stands beside the table is told like that in a CSV.
func (r *sheetReader) pad() {
	h := &r.grid.Header
	for _, row := range r.grid.Rows {
		for len(h.Cells) < len(row.Cells) {
			h.Cells = append(h.Cells, table.Cell{Line: h.Line, Field: len(h.Cells) + 1})
		}
	}
}
