package workbook

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"
)

// book is a workbook that is being written. Its first error is kept, and what
// follows it does nothing, so that a sheet reads as a list of what is on it.
type book struct {
	file   *excelize.File
	styles map[string]int
	err    error
}

func newBook() *book {
	return &book{file: excelize.NewFile(), styles: map[string]int{}}
}

// do keeps the first error.
func (b *book) do(act func() error) {
	if b.err == nil {
		b.err = act()
	}
}

// sheet appends a sheet; the one that a new file has becomes the first.
func (b *book) sheet(name string) {
	b.do(func() error {
		if first := b.file.GetSheetList()[0]; first == "Sheet1" {
			return b.file.SetSheetName(first, name)
		}
		_, err := b.file.NewSheet(name)
		return err
	})
}

// bytes returns the finished file. The order of its parts is the library's
// affair, so two runs may differ in bytes, but not in cells.
func (b *book) bytes() ([]byte, error) {
	defer b.file.Close()
	var out bytes.Buffer
	b.do(func() error { return b.file.Write(&out) })
	if b.err != nil {
		return nil, fmt.Errorf("the workbook cannot be made: %w", b.err)
	}
	return out.Bytes(), nil
}

// Looks of cells. The number formats are codes of ECMA-376 part 1, 18.8.30.
const (
	asText   = "@"
	asCount  = "0"
	asAmount = "#,##0.0000"
	asGallon = "#,##0.0"
	asMoney  = `"$"#,##0.00`
	asClock  = "hh:mm"
	// These two count hours on, for durations and for times after midnight.
	asMoment  = "[hh]:mm"
	asLong    = "[hh]:mm:ss"
	asMinutes = "0.0"
	asShare   = `0.0" %"`
	asIs      = "General"
)

const (
	font       = "Calibri"
	headerFill = "DDE6EE" // light, so that it prints well
	lowFill    = "F8D7A0"
	lines      = "B8C2CC"
)

// style returns a style of the library, made once.
func (b *book) style(name string, make func() *excelize.Style) int {
	if index, ok := b.styles[name]; ok {
		return index
	}
	b.do(func() error {
		index, err := b.file.NewStyle(make())
		b.styles[name] = index
		return err
	})
	return b.styles[name]
}

func thin(sides ...string) []excelize.Border {
	var all []excelize.Border
	for _, side := range sides {
		all = append(all, excelize.Border{Type: side, Color: lines, Style: 1})
	}
	return all
}

// data is the look of a column's cells: numbers to the right, texts to the left
// and wrapped where they may be long.
func (b *book) data(format string, wrap bool) int {
	return b.style("data "+format+strconv.FormatBool(wrap), func() *excelize.Style {
		s := &excelize.Style{
			Font:      &excelize.Font{Family: font, Size: 11},
			Alignment: &excelize.Alignment{Vertical: "top", WrapText: wrap},
			Border:    thin("bottom"),
		}
		if format == asText {
			s.Alignment.Horizontal, s.Alignment.Indent = "left", 1
		}
		if format != asIs {
			s.CustomNumFmt = &format
		}
		return s
	})
}

// header is the look of a header cell, over the column's cells; that of a
// required column is underlined.
func (b *book) header(format string, required bool) int {
	side := "right"
	if format == asText {
		side = "left"
	}
	return b.style("header"+side+strconv.FormatBool(required), func() *excelize.Style {
		underline := ""
		if required {
			underline = "single"
		}
		return &excelize.Style{
			Font:      &excelize.Font{Family: font, Size: 11, Bold: true, Underline: underline},
			Fill:      excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{headerFill}},
			Alignment: &excelize.Alignment{Vertical: "center", Horizontal: side, Indent: 1, WrapText: true},
			Border:    thin("top", "bottom", "left", "right"),
		}
	})
}

func (b *book) title(size float64) int {
	return b.style(fmt.Sprintf("title %g", size), func() *excelize.Style {
		return &excelize.Style{Font: &excelize.Font{Family: font, Size: size, Bold: true}}
	})
}

// cellName is the name of a cell; columns and rows count from 1.
func cellName(column, row int) string {
	name, err := excelize.CoordinatesToCellName(column, row)
	if err != nil {
		panic("workbook: " + err.Error()) // a sheet beyond the format's million rows
	}
	return name
}

// letters is what a column is called.
func letters(column int) string { return strings.TrimRight(cellName(column, 1), "1") }
