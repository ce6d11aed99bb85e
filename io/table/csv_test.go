package table_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/io/table"
)

// gridText is the texts of a grid, the header first.
func gridText(g *table.Grid) [][]string {
	var rows [][]string
	for _, r := range append([]table.Row{g.Header}, g.Rows...) {
		var row []string
		for _, c := range r.Cells {
			row = append(row, c.Text)
		}
		rows = append(rows, row)
	}
	return rows
}

func TestReadCSV(t *testing.T) {
	for _, tc := range []struct {
		name, data string
		want       [][]string
		warnings   int
	}{
		{"commas", "a,b\n1,2\n", [][]string{{"a", "b"}, {"1", "2"}}, 0},
		{"no line end at the end", "a,b\n1,2", [][]string{{"a", "b"}, {"1", "2"}}, 0},
		{"semicolons", "a;b\n1,5;2\n", [][]string{{"a", "b"}, {"1,5", "2"}}, 0},
		{"tabs", "a\tb\tc\n\t\t3\n", [][]string{{"a", "b", "c"}, {"", "", "3"}}, 0},
		{"separator in a quoted header", "\"a;b;c\",d\n1,2\n", [][]string{{"a;b;c", "d"}, {"1", "2"}}, 0},
		{"separators below the header do not count", "a,b\n1;;;,2\n", [][]string{{"a", "b"}, {"1;;;", "2"}}, 0},
		{"one column", "a\n1\n", [][]string{{"a"}, {"1"}}, 0},
		{"byte-order mark", "\uFEFFa,b\n1,2\n", [][]string{{"a", "b"}, {"1", "2"}}, 0},
		{"byte-order mark before a quote", "\uFEFF\"a\",b\n1,2\n", [][]string{{"a", "b"}, {"1", "2"}}, 0},
		{"CRLF", "a,b\r\n1,2\r\n", [][]string{{"a", "b"}, {"1", "2"}}, 0},
		{"blanks around", " a ,b \n 1 ,\"2 \"\n", [][]string{{"a", "b"}, {"1", "2"}}, 0},
		{"blank before a quote", "a, \"b\"\n1, \"2 \"\n", [][]string{{"a", "b"}, {"1", "2"}}, 0},
		{"blank lines", "\n\na,b\n\n , \n1,2\n   \n", [][]string{{"a", "b"}, {"1", "2"}}, 0},
		{"line break in quotes", "a,b\n\"x\r\ny\",2\n", [][]string{{"a", "b"}, {"x\ny", "2"}}, 0},
		{"quote mark in quotes", "a,b\n\"6\"\" pipe\",2\n", [][]string{{"a", "b"}, {`6" pipe`, "2"}}, 0},
		{"Windows-1252", "a,b\nCaf\xe9 \x80,\xbd\n", [][]string{{"a", "b"}, {"Café €", "½"}}, 1},
	} {
		t.Run(tc.name, func(t *testing.T) {
			var found table.Findings
			g := table.ReadCSV("x.csv", []byte(tc.data), &found)
			require.NotNil(t, g)
			assert.Empty(t, found.Errors)
			assert.Len(t, found.Warnings, tc.warnings)
			assert.Equal(t, tc.want, gridText(g))
		})
	}
}

func TestReadCSVRefusesWholeFiles(t *testing.T) {
	for _, tc := range []struct{ name, data, want string }{
		{"nothing", "", "x.csv: is empty; the first line must name the columns"},
		{"only a byte-order mark", "\uFEFF", "x.csv: is empty; the first line must name the columns"},
		{"UTF-16 little-endian", "\xff\xfea\x00", "x.csv: is UTF-16; save it as CSV in UTF-8"},
		{"UTF-16 big-endian", "\xfe\xff\x00a", "x.csv: is UTF-16; save it as CSV in UTF-8"},
		{"lone CR", "a,b\r1,2\r", "x.csv: ends its lines with a lone CR; save it with LF or CRLF line ends"},
		{"only separators", strings.Repeat(",", 300), "x.csv: is empty; the first line must name the columns"},
		{"too many columns", strings.Repeat("a,", 300) + "\n", "x.csv: has 301 columns; at most 200 are read"},
		{"too many rows", "a\n" + strings.Repeat("1\n", table.MaxRows+1), "x.csv: has more than 20000 rows"},
		{"too large", strings.Repeat("a", table.MaxFileBytes+1), "x.csv: is larger than 16 MiB; a day's table is far smaller"},
		{"bad quoting in the header", "a,b\"c\n1,2\n", `x.csv:1: has a quote mark inside a value; put the whole value in quotes and write "" for the mark`},
	} {
		t.Run(tc.name, func(t *testing.T) {
			var found table.Findings
			assert.Nil(t, table.ReadCSV("x.csv", []byte(tc.data), &found))
			require.Len(t, found.Errors, 1)
			assert.Equal(t, tc.want, found.Errors[0].String())
		})
	}
}

func TestCellsKnowTheirPlace(t *testing.T) {
	var found table.Findings
	g := table.ReadCSV("x.csv", []byte("a,b,c\n"+ // 1
		"\"1\n2\n3\",x,y\n"+ // 2 to 4: x and y stand in 4
		"\n"+ // 5
		"4,5,6\n"), &found) // 6
	require.Len(t, g.Rows, 2)
	assert.Equal(t, 2, g.Rows[0].Line)
	assert.Equal(t, table.Cell{Text: "x", Line: 4, Field: 2}, g.Rows[0].Cells[1])
	assert.Equal(t, table.Cell{Text: "y", Line: 4, Field: 3}, g.Rows[0].Cells[2])
	assert.Equal(t, table.Cell{Text: "6", Line: 6, Field: 3}, g.Rows[1].Cells[2])
}

// Rows behind a bad one are still read.
func TestBadRowsAreKeptAndMarked(t *testing.T) {
	var found table.Findings
	g := table.ReadCSV("x.csv", []byte("a,b\n1\n1,2,3\n1,x\"y\n\"1\"x,2\n1,2\n1,\"2\n"), &found)
	var broken []bool
	for _, r := range g.Rows {
		broken = append(broken, r.Broken)
	}
	assert.Equal(t, []bool{true, true, true, true, false, true}, broken)
	var lines []int
	for _, f := range found.Errors {
		lines = append(lines, f.Line)
	}
	assert.Equal(t, []int{2, 3, 4, 5, 7}, lines)
	assert.Equal(t, "1", g.Rows[2].Cells[0].Text, "the cells before the fault stay")
}

func TestHugeCellIsRefused(t *testing.T) {
	data := []byte("a,b\n1," + strings.Repeat("x", 10<<20) + "\n3,4\n")
	var found table.Findings
	g := table.ReadCSV("x.csv", data, &found)
	require.Len(t, found.Errors, 1)
	assert.Equal(t, "x.csv:2: b: \""+strings.Repeat("x", 60)+"…\" is 10485760 bytes long; a cell may have 65536", found.Errors[0].String())
	assert.True(t, g.Rows[0].Cells[1].Refused)
	assert.Empty(t, g.Rows[0].Cells[1].Text)
	assert.Equal(t, "4", g.Rows[1].Cells[1].Text)
}
