package workbook

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"padturn/io/table"
	"padturn/model"
)

// cell reads one cell. What a CSV of the sheet would have is its text; where it
// holds something no CSV of a day could have, it says why.
func (r *sheetReader) cell(line, field int, raw string) table.Cell {
	c := table.Cell{Line: line, Field: field}
	name, err := excelize.CoordinatesToCellName(field, line)
	if err != nil {
		c.Bad = err.Error()
		return c
	}
	if within := mergedOver(r.merged, field, line); within != "" {
		c.Bad = "is part of the merged cells " + within + "; unmerge them and write the value into each"
		return c
	}
	kind, err := r.file.GetCellType(r.sheet, name)
	if err != nil {
		c.Bad = err.Error()
		return c
	}
	if raw == "" {
		return r.formula(c, name)
	}
	c.Text, c.Bad = r.text(name, kind, raw)
	return c
}

// formula is a cell without a value: blank, or a formula that comes to an empty
// text or that nobody has calculated yet, as programs write them. The library
// does not tell those two apart, so it is calculated here.
func (r *sheetReader) formula(c table.Cell, name string) table.Cell {
	formula, err := r.file.GetCellFormula(r.sheet, name)
	if err != nil || formula == "" {
		return c
	}
	value, err := r.file.CalcCellValue(r.sheet, name, excelize.Options{RawCellValue: true})
	if err != nil {
		c.Text = "=" + formula
		c.Bad = "is a formula without a value; open the workbook in a spreadsheet program and save it, or write the value in its place"
		return c
	}
	c.Text, c.Bad = r.text(name, excelize.CellTypeUnset, value)
	return c
}

// text is what a cell's stored value reads as, or why it cannot be used.
func (r *sheetReader) text(name string, kind excelize.CellType, raw string) (text, bad string) {
	switch kind {
	case excelize.CellTypeError:
		return raw, "is an error of the spreadsheet; mend the formula"
	case excelize.CellTypeBool:
		return yesOrNo(raw), ""
	case excelize.CellTypeUnset, excelize.CellTypeNumber:
		if number, err := strconv.ParseFloat(raw, 64); err == nil {
			return r.number(name, number)
		}
	}
	return strings.TrimSpace(strings.ReplaceAll(raw, "\r\n", "\n")), ""
}

func yesOrNo(raw string) string {
	if raw == "1" || strings.EqualFold(raw, "true") {
		return "yes"
	}
	return "no"
}

// number is a stored number as its format shows what it is: a time, a date, a
// share, or a number.
func (r *sheetReader) number(name string, number float64) (text, bad string) {
	switch r.formatOf(name) {
	case timeFormat:
		if number >= 0 && number < 2 {
			return clockText(number), ""
		}
		fallthrough
	case dateFormat:
		return r.date(number)
	case percentFormat:
		stored := plain(number)
		return plain(number*100) + "%", "is formatted as a percentage and stored as " + stored +
			"; format the cell as a number and write the one that is meant"
	}
	return plain(number), ""
}

// clockText is a time of the day or, from 1 on, of the next.
func clockText(days float64) string {
	seconds := int64(days*86400 + 0.5)
	text := model.Clock(seconds).String()
	// A whole minute reads as people write it.
	head, tail := text[:len("15:04")], text[len("15:04"):]
	if rest, ok := strings.CutPrefix(tail, ":00"); ok {
		return head + rest
	}
	return text
}

// date is a day of the calendar. Only the settings have one; elsewhere the
// spreadsheet has made it of something else, as it does of 3-4.
func (r *sheetReader) date(serial float64) (text, bad string) {
	at, err := excelize.ExcelDateToTime(serial, r.date1904)
	if err != nil {
		return plain(serial), "is no date"
	}
	if at.Hour() != 0 || at.Minute() != 0 || at.Second() != 0 {
		return at.Format("2006-01-02 15:04"), "is a date with a time; write only the time, as HH:MM"
	}
	text = at.Format("2006-01-02")
	if r.sheetKey == string(model.DayTable) {
		return text, ""
	}
	return text, "is a date, which spreadsheets also make of texts such as 3-4; format the cell as text and type it again"
}

// plain is a number in digits. A workbook stores binary fractions, which are
// good for fifteen digits (1.1 may be stored as 1.1000000000000001), and the
// inputs have nine decimals, which a result such as =80/3 is rounded to.
func plain(number float64) string {
	fifteen, err := strconv.ParseFloat(fmt.Sprintf("%.15g", number), 64)
	if err != nil {
		fifteen = number
	}
	text := strconv.FormatFloat(fifteen, 'f', -1, 64)
	_, decimals, _ := strings.Cut(text, ".")
	if len(decimals) <= model.DecimalPlaces {
		return text
	}
	rounded := strings.TrimRight(strconv.FormatFloat(fifteen, 'f', model.DecimalPlaces, 64), "0")
	if rounded = strings.TrimSuffix(rounded, "."); strings.Trim(rounded, "-0.") == "" {
		return text // too small to be kept, which the reader says
	}
	return rounded
}
