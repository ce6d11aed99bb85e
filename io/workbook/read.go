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
	var pathError *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, problem(path, "there is no such file")
	case errors.As(err, &pathError):
		return nil, problem(path, "cannot be read: "+pathError.Err.Error())
	case err != nil:
		return nil, problem(path, err.Error())
	}
	return ReadBytes(filepath.Base(path), data)
}

// ReadBytes reads the day that is in the bytes of a workbook; file is what it
// is called in messages. Its error is always [*dayfiles.Problems].
func ReadBytes(file string, data []byte) (*dayfiles.Day, error) {
	sheets, err := sheetsOf(file, data)
	if err != nil {
		return nil, problem(file, err.Error())
	}
	return dayfiles.ReadSheets(sheets)
}

func problem(file, want string) error {
	return &dayfiles.Problems{Errors: []table.Fault{{File: file, Want: want}}}
}

// sheetsOf turns the sheets of a day into grids of text.
func sheetsOf(file string, data []byte) (sheets dayfiles.Sheets, err error) {
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
		if slices.Contains(dayfiles.DaySheets(), r.sheetKey) {
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
	if err := r.lookAround(); err != nil {
		return err
	}
	rows, err := r.file.Rows(r.sheet)
	if err != nil {
		return err
	}
	defer rows.Close()
	for line := 1; rows.Next(); line++ {
		texts, err := rows.Columns(excelize.Options{RawCellValue: true})
		if err != nil {
			return err
		}
		if len(texts) > table.MaxColumns && len(r.grid.Header.Cells) == 0 {
			return fmt.Errorf("it has %d columns; at most %d are read", len(texts), table.MaxColumns)
		}
		if len(texts) == 0 {
			continue
		}
		r.add(r.row(line, texts[:min(len(texts), table.MaxColumns)]), rows.GetRowOpts().Hidden)
		if len(r.grid.Rows) > table.MaxRows {
			return fmt.Errorf("it has more than %d rows", table.MaxRows)
		}
	}
	if r.hidden > 0 {
		r.warn(fmt.Sprintf("has %d hidden rows, which are read like the others", r.hidden))
	}
	r.pad()
	return rows.Error()
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
