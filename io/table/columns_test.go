package table_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/io/table"
)

// text is a table of two columns, the first of which has to be there.
type text struct {
	Name  string `csv:"name" need:"yes"`
	Acres string `csv:"acres"`
}

func match(t testing.TB, data string) (*table.Table[text], table.Findings) {
	var found table.Findings
	g := table.ReadCSV("x.csv", []byte(data), &found)
	require.NotNil(t, g)
	return table.Match[text](g, &found), found
}

func TestMatch(t *testing.T) {
	for _, tc := range []struct {
		name, data string
		rows       []text
		errors     []string
		warnings   []string
	}{
		{"any order", "acres,name\n1,a\n", []text{{"a", "1"}}, nil, nil},
		{"any case, blanks around", " ACRES , Name\n1,a\n", []text{{"a", "1"}}, nil, nil},
		{"an optional one missing", "name\na\n", []text{{"a", ""}}, nil, nil},
		{"no rows", "name,acres\n", nil, nil, nil},
		{"texts are copied as they stand", "name,acres\n0x1F,\"1,200\"\n", []text{{"0x1F", "1,200"}}, nil, nil},
		{"a required one missing", "nam,acres\na,1\n", []text{{"", "1"}},
			[]string{"x.csv:1: name: column is missing; found nam, acres"},
			[]string{`x.csv:1: nam: unknown column, not read; did you mean "name"?`}},
		{"one twice", "name,acres,ACRES\na,1,2\n", []text{{"a", "1"}}, []string{"x.csv:1: acres: column stands twice (fields 2 and 3)"}, nil},
		{"unknown", "name,weather\na,sun\n", []text{{"a", ""}}, nil, []string{"x.csv:1: weather: unknown column, not read"}},
		{"nameless and empty", "name,,\na,,\n", []text{{"a", ""}}, nil, nil},
		{"nameless with values", "name,\na,\nb,9\n", []text{{"a", ""}, {"b", ""}}, nil,
			[]string{`x.csv:3: "9" stands in a column without a name; the column is not read`}},
		{"row too short", "name,acres\na\n", []text{{"a", ""}}, []string{"x.csv:2: the row has 1 field, the header has 2"}, nil},
	} {
		t.Run(tc.name, func(t *testing.T) {
			got, found := match(t, tc.data)
			assert.Equal(t, tc.rows, got.Rows)
			assert.Equal(t, tc.errors, lines(found.Errors))
			assert.Equal(t, tc.warnings, lines(found.Warnings))
		})
	}
}

func lines(faults []table.Fault) []string {
	var list []string
	for _, f := range faults {
		list = append(list, f.String())
	}
	return list
}

// A grid need not come from CSV: a workbook's rows are matched the same way,
// and its row numbers are the lines.
func TestMatchAGridFromElsewhere(t *testing.T) {
	g := &table.Grid{
		File:   "day.xlsx!jobs",
		Header: table.Row{Line: 3, Cells: []table.Cell{{Text: "Name", Line: 3, Field: 2}, {Text: "Acres", Line: 3, Field: 3}}},
		Rows:   []table.Row{{Line: 5, Cells: []table.Cell{{Text: "a", Line: 5, Field: 2}, {Text: "x", Line: 5, Field: 3}}}},
	}
	var found table.Findings
	got := table.Match[text](g, &found)
	assert.Equal(t, []text{{"a", "x"}}, got.Rows)
	assert.Equal(t, "day.xlsx!jobs:5: acres: \"x\" is odd", got.Fault(0, "acres", "x", "is odd").String())
	assert.Equal(t, 3, got.Fault(0, "acres", "x", "is odd").Field)
}

func TestKnownBadCells(t *testing.T) {
	got, _ := match(t, "name,acres\na\nb,x\x01\nc,1\n")
	assert.True(t, got.IsKnownBad(0, "name"), "the row is too short")
	assert.True(t, got.IsKnownBad(1, "acres"), "the cell was refused")
	assert.False(t, got.IsKnownBad(1, "name"))
	assert.False(t, got.IsKnownBad(2, "acres"))
	assert.False(t, got.IsKnownBad(-1, "acres"), "the header")
}

// Cells that their reader could make no text of are told where their column is
// read, and only there.
func TestBadCellsOfReadColumnsAreTold(t *testing.T) {
	cell := func(text string, field int, bad string) table.Cell {
		return table.Cell{Text: text, Line: 2, Field: field, Bad: bad}
	}
	g := &table.Grid{
		File: "day.xlsx", Sheet: "jobs",
		Header: table.Row{Line: 1, Cells: []table.Cell{{Text: "name", Line: 1, Field: 1}, {Text: "acres", Line: 1, Field: 27}, {Text: "mine", Line: 1, Field: 28}}},
		Rows:   []table.Row{{Line: 2, Cells: []table.Cell{cell("a\x7f", 1, ""), cell("#N/A", 27, "is an error"), cell("#N/A", 28, "is an error")}}},
	}
	var found table.Findings
	got := table.Match[text](g, &found)
	found.Sort()
	assert.Equal(t, []string{
		`day.xlsx: jobs!A2: name: "a\x7f" holds the control character U+007F; remove it`,
		`day.xlsx: jobs!AA2: acres: "#N/A" is an error`,
	}, lines(found.Errors))
	assert.Equal(t, []string{"day.xlsx: jobs!AB1: mine: unknown column, not read"}, lines(found.Warnings))
	assert.Equal(t, []text{{"", ""}}, got.Rows)
	assert.True(t, got.IsKnownBad(0, "acres"))
}

func TestPlacesInAWorkbook(t *testing.T) {
	for want, f := range map[string]table.Fault{
		"day.xlsx: jobs: is empty":           {Want: "is empty"},
		"day.xlsx: jobs, row 7: is short":    {Line: 7, Want: "is short"},
		"day.xlsx: jobs!Z7: acres: is blank": {Line: 7, Field: 26, Column: "acres", Want: "is blank"},
		"day.xlsx: jobs!AZ7: is blank":       {Line: 7, Field: 52, Want: "is blank"},
		"day.xlsx: jobs!ZZ7: is blank":       {Line: 7, Field: 702, Want: "is blank"},
		"day.xlsx: jobs!AAA7: is blank":      {Line: 7, Field: 703, Want: "is blank"},
	} {
		f.File, f.Sheet = "day.xlsx", "jobs"
		assert.Equal(t, want, f.String())
	}
}
