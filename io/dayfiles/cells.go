package dayfiles

import (
	"strings"

	"padturn/io/table"
	"padturn/model"
)

// cells reads the values of one row. A cell whose text is no value is reported
// and something harmless put in its place, so that the row stays and its names
// can be looked up: 1 for a number, which no other check takes offence at.
type cells struct {
	r     *reader
	table model.Table
	row   int
}

func (c cells) fail(column, text, want string) {
	c.r.fail(cellKey{c.table, c.row, column}, text, want)
}

// read reads a cell by a parser; a blank one is zero, a bad one is instead.
func read[T any](c cells, column, text string, parse func(string) (T, error), instead T) T {
	if text == "" {
		var zero T
		return zero
	}
	value, err := parse(text)
	if err != nil {
		c.fail(column, text, err.Error())
		return instead
	}
	return value
}

// readOptional is read for a cell that may be blank, which is nil.
func readOptional[T any](c cells, column, text string, parse func(string) (T, error), instead T) *T {
	if text == "" {
		return nil
	}
	value := read(c, column, text, parse, instead)
	return &value
}

func (c cells) number(column, text string) model.Decimal {
	return read(c, column, text, table.ParseDecimal, model.One)
}

func (c cells) numberOrBlank(column, text string) *model.Decimal {
	return readOptional(c, column, text, table.ParseDecimal, model.One)
}

func (c cells) count(column, text string) model.Decimal {
	return read(c, column, text, table.ParseCount, model.One)
}

func (c cells) clock(column, text string) model.Clock {
	return read(c, column, text, model.ParseHHMM, 0)
}

func (c cells) clockOrBlank(column, text string) *model.Clock {
	if text == "" {
		return nil
	}
	clock, err := model.ParseHHMM(text)
	if err != nil {
		c.fail(column, text, err.Error())
		return nil
	}
	return &clock
}

func (c cells) yesNo(column, text string) bool {
	return read(c, column, text, table.ParseYesNo, false)
}

func (c cells) latitude(column, text string) *float64 {
	return readOptional(c, column, text, parseLatitude, 0)
}

func (c cells) longitude(column, text string) *float64 {
	return readOptional(c, column, text, parseLongitude, 0)
}

func parseLatitude(text string) (float64, error)  { return table.ParseDegrees(text, 90) }
func parseLongitude(text string) (float64, error) { return table.ParseDegrees(text, 180) }

// name reads a cell that gives something its name.
func (c cells) name(column, text string) string {
	if err := table.CheckName(text); err != nil {
		c.fail(column, text, err.Error())
	}
	return text
}

// names reads a cell that holds several names with semicolons between them.
func (c cells) names(column, text string) []string {
	var list []string
	for part := range strings.SplitSeq(text, ";") {
		if part = strings.TrimSpace(part); part != "" {
			list = append(list, c.name(column, part))
		}
	}
	return list
}
