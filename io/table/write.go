package table

import (
	"bytes"
	"encoding/csv"
	"strings"
)

// CSV renders a header, its names with commas between, and rows: commas, LF,
// quotes only where needed.
func CSV(header string, rows [][]string) []byte {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	// Writing to memory does not fail.
	_ = w.Write(strings.Split(header, ","))
	_ = w.WriteAll(rows)
	return out.Bytes()
}

// Safe guards a text cell that a spreadsheet would run as a formula. Cells
// with numbers do not pass through it, so that they stay bare.
func Safe(text string) string {
	if text != "" && strings.ContainsRune("=+-@\t\r", rune(text[0])) {
		return "'" + text
	}
	return text
}

// YesNo is how a cell says whether something is so.
func YesNo(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}
