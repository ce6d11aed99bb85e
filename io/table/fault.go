package table

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Fault is one thing wrong with a file, or worth a warning, and its place.
type Fault struct {
	File   string // as the user knows it, such as jobs.csv
	Sheet  string // of a workbook; blank for other files
	Line   int    // of the file or sheet, from 1; 0 where the whole of it is meant
	Field  int    // number of the cell in its line, from 1 (in YAML the text column); 0 where no cell is meant
	Column string // column name or key path; may be blank
	Value  string // what stands there; may be blank
	Want   string // what is wrong and what was expected, in words that can follow the value
}

// maxShown is how many characters of a value a message shows.
const maxShown = 60

// String returns the fault on one line, for example
// `jobs.csv:7: mix: "corn pre" is not in mixes.csv`, or, in a workbook,
// `monday.xlsx: jobs!C7: mix: "corn pre" is not in sheet mixes`.
func (f Fault) String() string {
	var s strings.Builder
	s.WriteString(f.place())
	s.WriteString(": ")
	if f.Column != "" {
		fmt.Fprintf(&s, "%s: ", f.Column)
	}
	if f.Value != "" {
		fmt.Fprintf(&s, "%q", clip(f.Value))
		if strings.HasPrefix(f.Want, "expected ") {
			s.WriteString(":")
		}
		s.WriteString(" ")
	}
	s.WriteString(f.Want)
	return s.String()
}

// place is where the fault is, in the notation of the file's kind.
func (f Fault) place() string {
	switch {
	case f.Sheet == "" && f.Line == 0:
		return f.File
	case f.Sheet == "":
		return fmt.Sprintf("%s:%d", f.File, f.Line)
	case f.Line == 0:
		return fmt.Sprintf("%s: %s", f.File, f.Sheet)
	case f.Field == 0:
		return fmt.Sprintf("%s: %s, row %d", f.File, f.Sheet, f.Line)
	}
	return fmt.Sprintf("%s: %s!%s%d", f.File, f.Sheet, columnLetters(f.Field), f.Line)
}

// columnLetters is what a spreadsheet calls a column: 1 is A, 27 is AA.
func columnLetters(column int) string {
	letters := ""
	for ; column > 0; column = (column - 1) / 26 {
		letters = string(rune('A'+(column-1)%26)) + letters
	}
	return letters
}

// clip cuts a long value, so that a message stays a line.
func clip(value string) string {
	shown := 0
	for i := range value {
		if shown == maxShown {
			return value[:i] + "…"
		}
		shown++
	}
	return value
}

// Findings gathers what is wrong or odd, so that all of it is told at once.
type Findings struct {
	Errors, Warnings []Fault
}

// Fail adds an error.
func (f *Findings) Fail(fault Fault) { f.Errors = append(f.Errors, fault) }

// Warn adds a warning.
func (f *Findings) Warn(fault Fault) { f.Warnings = append(f.Warnings, fault) }

// Sort puts errors and warnings in the order of files, sheets, lines and
// fields.
func (f *Findings) Sort() {
	for _, list := range [][]Fault{f.Errors, f.Warnings} {
		slices.SortStableFunc(list, func(a, b Fault) int {
			return cmp.Or(
				strings.Compare(a.File, b.File), strings.Compare(a.Sheet, b.Sheet), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Field, b.Field))
		})
	}
}
