package workbook

import (
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"
	"github.com/xuri/nfp"
)

// format is what a cell's number format says that its number is.
type format int

const (
	plainFormat format = iota
	timeFormat
	dateFormat
	percentFormat
)

// formatOf returns what the format of a cell makes of a number.
func (r *sheetReader) formatOf(name string) format {
	index, err := r.file.GetCellStyle(r.sheet, name)
	if err != nil {
		return plainFormat
	}
	kind, known := r.formats[index]
	if known {
		return kind
	}
	if style, err := r.file.GetStyle(index); err == nil {
		kind = formatOfStyle(style)
	}
	r.formats[index] = kind
	return kind
}

// formatOfStyle looks the numbers of ECMA-376 part 1, 18.8.30 up, and reads the
// codes of others.
func formatOfStyle(style *excelize.Style) format {
	if style.CustomNumFmt != nil {
		return formatOfCode(*style.CustomNumFmt)
	}
	switch n := style.NumFmt; {
	case n == 9, n == 10:
		return percentFormat
	case n >= 18 && n <= 22, n >= 45 && n <= 47, n >= 32 && n <= 35, n == 55, n == 56:
		return timeFormat
	case n >= 14 && n <= 17, n >= 27 && n <= 36, n >= 50 && n <= 58:
		return dateFormat
	}
	return plainFormat
}

// formatOfCode reads the section for positive numbers.
func formatOfCode(code string) format {
	parser := nfp.NumberFormatParser()
	sections := parser.Parse(code)
	if len(sections) == 0 {
		return plainFormat
	}
	kind := plainFormat
	for _, token := range sections[0].Items {
		switch token.TType {
		case nfp.TokenTypePercent:
			return percentFormat
		case nfp.TokenTypeElapsedDateTimes:
			return timeFormat
		case nfp.TokenTypeDateTimes:
			if isOfClock(token.TValue) {
				return timeFormat
			}
			kind = dateFormat
		}
	}
	return kind
}

// isOfClock says whether a date code is one of hours, seconds or halves of the
// day; m is minutes only beside those.
func isOfClock(code string) bool {
	return slices.ContainsFunc([]string{"H", "S", "AM/PM", "A/P"}, func(part string) bool {
		return strings.HasPrefix(strings.ToUpper(code), part)
	})
}
