package table

import (
	"fmt"
	"unicode"
)

// Limits of a file. A day's tables are kilobytes; what is beyond these is not
// a table of a day, and is refused before it costs time and memory.
const (
	MaxFileBytes = 16 << 20
	MaxCellBytes = 64 << 10
	MaxRows      = 20_000
	MaxColumns   = 200
)

// Grid is the cells of a file before it is known what its columns mean. Lines
// that hold nothing are left out.
type Grid struct {
	File   string // for messages
	Sheet  string // of a workbook; blank for other files
	Header Row
	Rows   []Row
}

// Row is one row of a grid.
type Row struct {
	Line  int // where it begins in the file
	Cells []Cell
	// Broken rows have the wrong number of cells or bad quoting. That is
	// reported; what their cells say is a guess.
	Broken bool
}

// Cell is one value and its place.
type Cell struct {
	Text  string // without the blanks around it
	Line  int    // where it begins, which in a row with line breaks is not the row's
	Field int    // from 1
	// Refused cells were too large or held control characters. That is
	// reported, and their text is gone.
	Refused bool
	// Bad says why the cell holds no text that can be used, where only its
	// reader can know (a workbook's #N/A, say), in words that can follow Text.
	// It is reported by [Match] if the cell's column is read, and only then.
	Bad string
}

// IsBlank says whether no cell of the row holds anything.
func (r Row) IsBlank() bool {
	for _, c := range r.Cells {
		if c.Text != "" || c.Refused {
			return false
		}
	}
	return true
}

// checkCell refuses a text that cannot be a cell's, and returns why, or
// nothing.
func checkCell(text string) string {
	if len(text) > MaxCellBytes {
		return fmt.Sprintf("is %d bytes long; a cell may have %d", len(text), MaxCellBytes)
	}
	for _, r := range text {
		if unicode.IsControl(r) && r != '\n' {
			return fmt.Sprintf("holds the control character %U; remove it", r)
		}
	}
	return ""
}
