package dayfiles_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/io/dayfiles"
	"padturn/io/table"
	"padturn/model"
)

// sheetsOf prints an input as a workbook's sheets, without a workbook.
func sheetsOf(in model.Input) dayfiles.Sheets {
	s := dayfiles.Sheets{File: "day.xlsx"}
	for _, sheet := range dayfiles.Print(in) {
		g := &table.Grid{File: s.File, Sheet: sheet.Name, Header: table.Row{Line: 1}}
		for i, c := range sheet.Columns {
			g.Header.Cells = append(g.Header.Cells, table.Cell{Text: c.Name, Line: 1, Field: i + 1})
		}
		for i, texts := range sheet.Rows {
			row := table.Row{Line: i + 2}
			for j, text := range texts {
				row.Cells = append(row.Cells, table.Cell{Text: text, Line: row.Line, Field: j + 1})
			}
			g.Rows = append(g.Rows, row)
		}
		s.Grids = append(s.Grids, g)
	}
	return s
}

// checkSheets: an accepted day must say the same as sheets.
func checkSheets(t *testing.T, want model.Input) {
	t.Helper()
	got, err := dayfiles.ReadSheets(sheetsOf(want))
	require.NoError(t, err)
	if diff := cmp.Diff(want, got.Input, cmpopts.EquateEmpty()); diff != "" {
		t.Fatalf("-files +sheets:\n%s", diff)
	}
}

func TestDaysReadBackFromSheets(t *testing.T) {
	checkSheets(t, smallDay().read(t).Input)
	checkSheets(t, smallDay().with("day.yaml", wholeDayYAML).read(t).Input)
}

func TestUnreadSheetsAreNotMissing(t *testing.T) {
	s := sheetsOf(smallDay().read(t).Input)
	s.Unread = []string{"Mixes", "bays"}
	s.Found.Fail(table.Fault{File: s.File, Sheet: "Mixes", Want: "cannot be read"})
	_, err := dayfiles.ReadSheets(s)
	var problems *dayfiles.Problems
	require.ErrorAs(t, err, &problems)
	assert.Equal(t, "day.xlsx: Mixes: cannot be read", problems.Error())
	var warnings []string
	for _, w := range problems.Warnings {
		warnings = append(warnings, w.String())
	}
	assert.Equal(t, "day.xlsx: day, mixes: could not be read, so names and what belongs together were not checked yet", strings.Join(warnings, "\n"))
}
