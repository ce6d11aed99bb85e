package workbook_test

import (
	"bytes"
	"encoding/csv"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"padturn/io/dayfiles"
	"padturn/io/workbook"
	"padturn/model"
)

func exampleInput(t testing.TB, name string) model.Input {
	day, err := dayfiles.Read("../../examples/" + name)
	require.NoError(t, err)
	return day.Input
}

// A day says the same as a folder and as a workbook.
func TestDaysReadBackAsTheyWereWritten(t *testing.T) {
	for _, name := range []string{"small", "spring-rush", "short-stock"} {
		t.Run(name, func(t *testing.T) {
			checkReadsBack(t, exampleInput(t, name))
		})
	}
}

func checkReadsBack(t *testing.T, want model.Input) {
	t.Helper()
	data, err := workbook.Day(want)
	require.NoError(t, err)
	day := read(t, data)
	assert.Empty(t, day.Warnings)
	if diff := cmp.Diff(want, day.Input, cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("-folder +workbook:\n%s", diff)
	}
}

// Values that a cell could not hold as a number or a time are texts.
func TestWhatCellsCannotHoldIsText(t *testing.T) {
	in := exampleInput(t, "small")
	in.Jobs[0].Acres = 99_999_123_456_789
	in.Jobs[0].Due = new(model.Clock(25*3600 + 15*60))
	in.Jobs[0].Job = "007"
	in.Jobs[1].Note = "=1+1"
	in.Jobs[1].Field = "Café ½ ° é µ 農"
	in.Products[0].EPARegNo = "3-4"
	in.Settings.Pad.Opens, in.Settings.Date = 5*3600+60, "2026-05-04"
	checkReadsBack(t, in)
}

// TestGuideKnowsEveryColumn and nothing else, and refers only to what is there.
func TestGuideKnowsEveryColumn(t *testing.T) {
	data, err := os.ReadFile("guide.csv")
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	require.NoError(t, err)
	var told, want, sheets []string
	for _, row := range rows[1:] {
		told = append(told, row[0]+" "+row[1])
	}
	for _, s := range dayfiles.Print(model.Input{Settings: model.DefaultSettings()}) {
		sheets = append(sheets, s.Name)
		if s.Name == "day" {
			for _, setting := range s.Rows {
				want = append(want, "day "+setting[0])
			}
			continue
		}
		for _, c := range s.Columns {
			want = append(want, s.Name+" "+c.Name)
		}
	}
	assert.Equal(t, dayfiles.DaySheets(), sheets)
	assert.ElementsMatch(t, want, told)
	for _, row := range rows[1:] {
		assert.Contains(t, []string{"text", "number", "time", "date"}, row[2])
		if from, isReference := strings.CutPrefix(row[3], "="); isReference {
			assert.Contains(t, want, strings.Replace(from, ".", " ", 1))
		}
	}
}

// TestDayWorkbookHelps looks at what helps to fill it in.
func TestDayWorkbookHelps(t *testing.T) {
	data, err := workbook.Day(exampleInput(t, "small"))
	require.NoError(t, err)
	f, err := excelize.OpenReader(bytes.NewReader(data))
	require.NoError(t, err)
	defer f.Close()
	assert.Equal(t, append([]string{"readme"}, dayfiles.DaySheets()...), f.GetSheetList())
	assert.Equal(t, "jobs", f.GetSheetName(f.GetActiveSheetIndex()))

	offers, err := f.GetDataValidations("products")
	require.NoError(t, err)
	i := slices.IndexFunc(offers, func(v *excelize.DataValidation) bool { return v.Sqref == "D2:D1000" })
	require.GreaterOrEqual(t, i, 0, "handling offers its words")
	assert.Equal(t, `"metered,hopper"`, strings.TrimSuffix(strings.TrimPrefix(offers[i].Formula1, "<formula1>"), "</formula1>"))
	assert.False(t, offers[i].ShowErrorMessage, "check has better words")

	notes, err := f.GetComments("jobs")
	require.NoError(t, err)
	assert.Len(t, notes, 14, "every column but acres says what it holds")
	for _, sheet := range dayfiles.DaySheets() {
		panes, err := f.GetPanes(sheet)
		require.NoError(t, err)
		assert.True(t, panes.Freeze, sheet)
	}
}
