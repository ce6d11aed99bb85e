package workbook

import (
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"padturn/io/dayfiles"
	"padturn/model"
)

// readmeSheet is for people; no reader of a day takes offence at it.
const readmeSheet = "readme"

const readmeWidth = 80

var readmeLines = []string{
	"A day for padturn",
	"padturn check and padturn plan read this workbook as they read a folder of CSV files.",
	"Each sheet is a table with its columns named in the first row; underlined columns have to be there and filled.",
	"Point at a column's name to see what it holds. Sheets other than these, and columns of your own, are not read.",
	"Sheet day holds the settings: a blank value is the default. Sheets bays, rinse_levels and cleanout_levels have a row for each, levels lightest first.",
	"Times are 13:30; 01:30+1 is after midnight. Numbers carry no unit. Where a cell holds several names, ; stands between them.",
	"Formulas count with the value they show. Don't merge cells: all but the first would be blank.",
	"The label is the law: rates, crops, partners and times are what the labels say, and no plan overrides one.",
}

// Day writes a day as a workbook to be filled in, with everything that can be
// said in it. Read gives the same input back.
func Day(in model.Input) ([]byte, error) {
	b := newBook()
	b.sheet(readmeSheet)
	sheets := dayfiles.Print(in)
	for _, s := range sheets {
		b.daySheet(s)
	}
	for _, s := range sheets {
		b.validations(s, sheets)
	}
	b.readme()
	b.do(func() error { b.file.SetActiveSheet(1); return nil }) // the first is readme
	return b.bytes()
}

func (b *book) readme() {
	b.do(func() error { return b.file.SetColWidth(readmeSheet, "A", "A", readmeWidth) })
	for i, line := range readmeLines {
		style := b.data(asText, true)
		if i == 0 {
			style = b.title(14)
		}
		b.put(readmeSheet, 1, i+1, line, style)
		b.fitHeight(readmeSheet, i+1, line, readmeWidth)
	}
	b.page(readmeSheet, "portrait")
}

func (b *book) daySheet(s dayfiles.Sheet) {
	if s.Name == string(model.DayTable) {
		b.settingsSheet(s)
		return
	}
	t := sheetTable{sheet: s.Name, fillIn: true}
	for i, c := range s.Columns {
		g := guides()[s.Name+" "+c.Name]
		t.columns = append(t.columns, column{
			title: c.Name, required: c.Required, about: g.about, format: g.format(), width: widthOf(s, i),
		})
	}
	for _, row := range s.Rows {
		cells := make([]any, len(row))
		for i, text := range row {
			cells[i] = valueOf(guides()[s.Name+" "+s.Columns[i].Name].kind, text)
		}
		t.rows = append(t.rows, cells)
	}
	b.table(t)
}

// settingsSheet writes the settings, each with a cell of its own kind.
func (b *book) settingsSheet(s dayfiles.Sheet) {
	t := sheetTable{sheet: s.Name, columns: []column{
		{title: "setting", width: 28, format: asText, required: true, about: "its name; don't change it"},
		{title: "value", width: 22, format: asIs, required: true, about: "blank: the default"},
		{title: "about", width: 80, format: asText, about: "for people"},
	}}
	for _, row := range s.Rows {
		t.rows = append(t.rows, []any{row[0], nil, guides()[s.Name+" "+row[0]].about})
	}
	b.table(t)
	for i, row := range s.Rows {
		g := guides()[s.Name+" "+row[0]]
		b.put(s.Name, 2, i+2, valueOf(g.kind, row[1]), b.data(g.format(), false))
	}
}

// maxDigits is how many digits a binary fraction keeps.
const maxDigits = 15

// valueOf is a text as the value of a cell: a number, a time, or the text
// itself where a cell could not hold it exactly.
func valueOf(kind, text string) any {
	if text == "" {
		return nil
	}
	switch kind {
	case "number":
		number, err := strconv.ParseFloat(text, 64)
		if err == nil && len(text) <= maxDigits {
			return number
		}
	case "time":
		if at, err := model.ParseHHMM(text); err == nil && at < 24*3600 {
			return float64(at) / (24 * 3600)
		}
	}
	return text
}

// widthOf fits a column to its name and to what stands in it.
func widthOf(s dayfiles.Sheet, column int) float64 {
	longest := len(s.Columns[column].Name) + 3 // the button of the filter
	for _, row := range s.Rows {
		longest = max(longest, len([]rune(row[column]))+2)
	}
	return float64(min(max(longest, 8), 40))
}

// lastRow is how far down choices are offered.
const lastRow = 1000

// validations offers the choices of each column. They are an offer: other
// values are told by check, with better words.
func (b *book) validations(s dayfiles.Sheet, all []dayfiles.Sheet) {
	if s.Name == string(model.DayTable) {
		for i, row := range s.Rows {
			b.choices(s.Name, cellName(2, i+2), guides()[s.Name+" "+row[0]], all)
		}
		return
	}
	for i, c := range s.Columns {
		cells := cellName(i+1, 2) + ":" + cellName(i+1, lastRow)
		b.choices(s.Name, cells, guides()[s.Name+" "+c.Name], all)
	}
}

func (b *book) choices(sheet, cells string, g guide, all []dayfiles.Sheet) {
	offer := excelize.NewDataValidation(true)
	offer.SetSqref(cells)
	offer.ShowErrorMessage = false
	switch from, isReference := strings.CutPrefix(g.choices, "="); {
	case isReference:
		offer.SetSqrefDropList(cellsOfColumn(from, all))
	case g.words() != nil:
		b.do(func() error { return offer.SetDropList(g.words()) })
	default:
		return
	}
	b.do(func() error { return b.file.AddDataValidation(sheet, offer) })
}

// cellsOfColumn is where the names of "sheet.column" stand.
func cellsOfColumn(reference string, all []dayfiles.Sheet) string {
	sheet, column, _ := strings.Cut(reference, ".")
	for _, s := range all {
		for i, c := range s.Columns {
			if s.Name == sheet && c.Name == column {
				name := letters(i + 1)
				return sheet + "!$" + name + "$2:$" + name + "$" + strconv.Itoa(lastRow)
			}
		}
	}
	panic("workbook: guide.csv refers to " + reference + ", which is not there")
}
