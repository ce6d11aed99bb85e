package workbook

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
)

// column is one column of a table that is written.
type column struct {
	title    string
	width    float64 // characters
	format   string
	required bool
	about    string // a note on the header
}

// sheetTable is a table that fills a sheet from row 1: a header that stays in
// sight and on every page, a filter, landscape and as wide as a page.
type sheetTable struct {
	sheet   string
	columns []column
	rows    [][]any
	// fillIn tables are to be added to: the cells below have the columns' looks.
	fillIn bool
}

// wraps says whether a column's cells grow with what is in them. Those that are
// filled in keep their height: a sheet of data is easier to read so.
func (t sheetTable) wraps(column int) bool { return t.columns[column].format == asText && !t.fillIn }

// table writes a table.
func (b *book) table(t sheetTable) {
	b.sheet(t.sheet)
	b.columns(t)
	for i, c := range t.columns {
		b.put(t.sheet, i+1, 1, c.title, b.header(c.format, c.required))
		if c.about != "" {
			b.note(t.sheet, i+1, c.about)
		}
	}
	b.fitHeader(t)
	for i, row := range t.rows {
		for j, value := range row {
			b.put(t.sheet, j+1, i+2, value, b.data(t.columns[j].format, t.wraps(j)))
		}
		b.fitRow(t, i)
	}
	b.freeze(t.sheet, 1)
	b.filter(t.sheet, len(t.columns), len(t.rows)+1)
	b.page(t.sheet, "landscape")
	b.repeatHeader(t.sheet, 1)
}

// fitHeader makes the header as high as its longest name, beside the button of
// the filter.
func (b *book) fitHeader(t sheetTable) {
	most := 1
	for _, c := range t.columns {
		most = max(most, linesOf(c.title, int(c.width)-3))
	}
	b.do(func() error { return b.file.SetRowHeight(t.sheet, 1, float64(most)*lineHeight+3) })
}

// fitRow makes a row as high as its longest wrapped cell.
func (b *book) fitRow(t sheetTable, row int) {
	most := 1
	for j, value := range t.rows[row] {
		if s, ok := value.(string); ok && t.wraps(j) {
			most = max(most, linesOf(s, int(t.columns[j].width)))
		}
	}
	if most > 1 {
		b.do(func() error { return b.file.SetRowHeight(t.sheet, row+2, float64(most)*lineHeight) })
	}
}

// columns sets widths, and the look of cells that are yet to be filled in.
func (b *book) columns(t sheetTable) {
	for i, c := range t.columns {
		name := letters(i + 1)
		b.do(func() error { return b.file.SetColWidth(t.sheet, name, name, c.width) })
		if t.fillIn {
			b.do(func() error { return b.file.SetColStyle(t.sheet, name, b.data(c.format, false)) })
		}
	}
}

// put writes a value. A text stays a text whatever it begins with: only
// SetCellFormula makes formulas.
func (b *book) put(sheet string, column, row int, value any, style int) {
	name := cellName(column, row)
	if value != nil {
		b.do(func() error { return b.file.SetCellValue(sheet, name, value) })
	}
	b.do(func() error { return b.file.SetCellStyle(sheet, name, name, style) })
}

// fitHeight makes a row as high as a wrapped text needs that many characters
// wide: a program that opens the file need not do it.
func (b *book) fitHeight(sheet string, row int, text string, width int) {
	b.do(func() error { return b.file.SetRowHeight(sheet, row, float64(linesOf(text, width))*lineHeight) })
}

// linesOf is how many lines a text takes when it is wrapped.
func linesOf(text string, width int) int {
	lines := 0
	for line := range strings.SplitSeq(text, "\n") {
		lines += 1 + utf8.RuneCountInString(line)/width
	}
	return lines
}

// lineHeight is the height of a line of text in points.
const lineHeight = 15

// note puts a note on a header cell.
func (b *book) note(sheet string, column int, text string) {
	b.do(func() error {
		return b.file.AddComment(sheet, excelize.Comment{
			Cell: cellName(column, 1), Author: "padturn", Text: text, Width: 260, Height: 90,
		})
	})
}

// freeze keeps the rows above in sight.
func (b *book) freeze(sheet string, rows int) {
	b.do(func() error {
		return b.file.SetPanes(sheet, &excelize.Panes{
			Freeze: true, YSplit: rows, TopLeftCell: cellName(1, rows+1), ActivePane: "bottomLeft",
			Selection: []excelize.Selection{{SQRef: cellName(1, rows+1), ActiveCell: cellName(1, rows+1), Pane: "bottomLeft"}},
		})
	})
}

func (b *book) filter(sheet string, columns, rows int) {
	b.do(func() error { return b.file.AutoFilter(sheet, "A1:"+cellName(columns, rows), nil) })
}

// page has a sheet printed as wide as a page.
func (b *book) page(sheet, orientation string) {
	fit, wide, tall, custom, height := true, 1, 0, true, float64(lineHeight)
	b.do(func() error {
		return b.file.SetPageLayout(sheet, &excelize.PageLayoutOptions{Orientation: &orientation, FitToWidth: &wide, FitToHeight: &tall})
	})
	b.do(func() error { return b.file.SetSheetProps(sheet, &excelize.SheetPropsOptions{FitToPage: &fit}) })
	// Said outright, so that charts stand over the same rows in every program.
	b.do(func() error {
		return b.file.SetSheetProps(sheet, &excelize.SheetPropsOptions{CustomHeight: &custom, DefaultRowHeight: &height})
	})
	margin, side := 0.5, 0.4
	b.do(func() error {
		return b.file.SetPageMargins(sheet, &excelize.PageLayoutMarginsOptions{Left: &side, Right: &side, Top: &margin, Bottom: &margin})
	})
	b.do(func() error {
		return b.file.SetHeaderFooter(sheet, &excelize.HeaderFooterOptions{OddFooter: "&L&F: &A&CThe label is the law. Verify every amount by meter or scale.&Rpage &P of &N"})
	})
}

// repeatHeader prints the first rows on every page.
func (b *book) repeatHeader(sheet string, rows int) {
	b.do(func() error {
		return b.file.SetDefinedName(&excelize.DefinedName{
			Name: "_xlnm.Print_Titles", Scope: sheet,
			RefersTo: fmt.Sprintf("'%s'!$1:$%d", sheet, rows),
		})
	})
}
