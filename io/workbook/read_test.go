package workbook_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"padturn/model"
)

func TestReadSmallDay(t *testing.T) {
	day := read(t, made(t, smallSheets()))
	assert.Empty(t, day.Warnings)
	require.Len(t, day.Input.Jobs, 2)
	assert.Equal(t, "120.5", day.Input.Jobs[0].Acres.String())
	assert.Equal(t, "2026-05-04", day.Input.Settings.Date)
	assert.Equal(t, "05:30", day.Input.Settings.Pad.Opens.HHMM())
	assert.Equal(t, model.DefaultSettings().Pad.Bays, day.Input.Settings.Pad.Bays)
}

// TestTimes reads what spreadsheets keep times as.
func TestTimes(t *testing.T) {
	for _, tc := range []struct {
		name, format string
		value        any
		want         string
	}{
		{"a text", "", "18:30", "18:30"},
		{"a text without a zero", "", " 6:30 ", "06:30"},
		{"a text after midnight", "", "01:15+1", "01:15+1"},
		{"a time", "hh:mm", 18.5 / 24, "18:30"},
		{"a time whose fraction is not exact", "h:mm", 0.27083333333333331, "06:30"},
		{"a time of a twelve-hour clock", "h:mm AM/PM", 18.5 / 24, "18:30"},
		{"hours counted on", "[h]:mm:ss", 25.25 / 24, "01:15+1"},
		{"midnight", "hh:mm", 0, "00:00"},
		{"a time with a date format beside it", "dd/mm/yyyy hh:mm", 0.5, "12:00"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			day := read(t, made(t, smallSheets(), cell(t, "jobs", "H2", tc.value, tc.format)))
			require.NotNil(t, day.Input.Jobs[0].Due)
			assert.Equal(t, tc.want, day.Input.Jobs[0].Due.HHMM())
		})
	}
}

// TestNumbers reads what spreadsheets keep numbers as.
func TestNumbers(t *testing.T) {
	for _, tc := range []struct {
		name, format string
		value        any
		want         string
	}{
		{"a number", "", 80, "80"},
		{"a number as text", "@", "80.25", "80.25"},
		{"shown with two decimals", "0.00", 80.126, "80.126"},
		{"shown with thousands", "#,##0", 1234.5, "1234.5"},
		{"seventeen digits of a binary fraction", "", 1.1000000000000001, "1.1"},
		{"the sum of a tenth and two tenths", "", 0.1 + 0.2, "0.3"},
		{"a third is rounded to nine decimals", "", 80.0 / 3, "26.666666667"},
		{"nine decimals", "", 0.000000001, "0.000000001"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			day := read(t, made(t, smallSheets(), cell(t, "jobs", "E2", tc.value, tc.format)))
			assert.Equal(t, tc.want, day.Input.Jobs[0].Acres.String())
		})
	}
}

func TestNamesStayAsTheyAre(t *testing.T) {
	day := read(t, made(t, smallSheets(),
		cell(t, "jobs", "A2", 12, ""), cell(t, "jobs", "B2", "Café ½ ° é µ 農", ""), cell(t, "jobs", "F2", 007, "000")))
	assert.Equal(t, "12", day.Input.Jobs[0].Job)
	assert.Equal(t, "Café ½ ° é µ 農", day.Input.Jobs[0].Field)
}

func TestDates(t *testing.T) {
	for name, value := range map[string]any{"a text": "2026-05-04", "a date": 46146, "a date of the library": time.Date(2026, 5, 4, 0, 0, 0, 0, time.UTC)} {
		t.Run(name, func(t *testing.T) {
			sheets := smallSheets()
			format := ""
			if value == 46146 {
				format = "m/d/yyyy"
			}
			assert.Equal(t, "2026-05-04", read(t, made(t, sheets, cell(t, "day", "B2", value, format))).Input.Settings.Date)
		})
	}
	t.Run("of a workbook that counts from 1904", func(t *testing.T) {
		data := made(t, smallSheets(), cell(t, "day", "B2", 46146-1462, "yyyy-mm-dd"), func(f *excelize.File) {
			yes := true
			require.NoError(t, f.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &yes}))
		})
		assert.Equal(t, "2026-05-04", read(t, data).Input.Settings.Date)
	})
}

func TestFormulas(t *testing.T) {
	formula := func(sheet, name, text string) func(*excelize.File) {
		return func(f *excelize.File) { require.NoError(t, f.SetCellFormula(sheet, name, text)) }
	}
	blank := func(f *excelize.File) { require.NoError(t, f.SetCellValue("jobs", "E3", nil)) }
	t.Run("with its value", func(t *testing.T) {
		// Setting the formula beside a value keeps the value, as a file that
		// was saved by a spreadsheet has it.
		day := read(t, made(t, smallSheets(), cell(t, "jobs", "E3", 80, ""), formula("jobs", "E3", "E2/2+1000")))
		assert.Equal(t, "80", day.Input.Jobs[1].Acres.String())
	})
	t.Run("without, calculated", func(t *testing.T) {
		day := read(t, made(t, smallSheets(), blank, formula("jobs", "E3", "E2*2")))
		assert.Equal(t, "241", day.Input.Jobs[1].Acres.String())
	})
	t.Run("without, a text", func(t *testing.T) {
		day := read(t, made(t, smallSheets(), cell(t, "jobs", "B3", nil, ""), formula("jobs", "B3", `"so"&"uth"`)))
		assert.Equal(t, "south", day.Input.Jobs[1].Field)
	})
	t.Run("that comes to nothing", func(t *testing.T) {
		day := read(t, made(t, smallSheets(), cell(t, "jobs", "C2", nil, ""), formula("jobs", "C2", `IF(E2>0,"","S1")`)))
		assert.Empty(t, day.Input.Jobs[0].Sprayer)
	})
	t.Run("that cannot be calculated", func(t *testing.T) {
		assert.Equal(t, `day.xlsx: jobs!E3: acres: "=NOSUCH(1)" is a formula without a value; open the workbook in a spreadsheet program and save it, or write the value in its place`,
			refused(t, made(t, smallSheets(), blank, formula("jobs", "E3", "NOSUCH(1)"))))
	})
}

func TestYesAndNo(t *testing.T) {
	sheets := smallSheets()
	sheets["products"] = [][]any{{"product", "form", "unit", "handling", "restricted"}, {"glyphosate 5.4 SL", "SL", "gal", "metered", true}}
	assert.True(t, read(t, made(t, sheets)).Input.Products[0].Restricted)
}

// TestSettings reads settings and their lists from their sheets.
func TestSettings(t *testing.T) {
	sheets := smallSheets()
	sheets["Day "] = [][]any{
		{"Setting", "Value", "about"},
		{"units", "metric", "printed"}, {nil, nil, nil}, {"spray_until", nil, "the default"},
		{"pad.carrier_first", 0.4}, {"pad.water.on_hand_gal", 6000}, {"pad.water.capacity_gal", 6000}, {"pad.water.refill_gpm", 40},
	}
	delete(sheets, "day")
	sheets["bays"] = [][]any{
		{"name", "connections", "plumbed", "hooked", "carriers"},
		{"north", 4, "glyphosate 5.4 SL", nil, " water ; "}, {"south", nil, nil, "glyphosate 5.4 SL", nil},
	}
	sheets["rinse_levels"] = [][]any{{"name", "min", "gal"}, {"flush", 2, 10}}
	sheets["cleanout_levels"] = [][]any{{"name", "min", "gal"}}
	got := read(t, made(t, sheets)).Input.Settings
	want := model.DefaultSettings()
	assert.Equal(t, "metric", got.Units)
	assert.Equal(t, want.SprayUntil, got.SprayUntil)
	assert.Equal(t, "0.4", got.Pad.CarrierFirst.String())
	assert.Equal(t, "40", got.Pad.Water.RefillGpm.String())
	assert.Equal(t, []model.BaySettings{
		{Name: "north", Connections: 4, Plumbed: []string{"glyphosate 5.4 SL"}, Carriers: []string{"water"}},
		{Name: "south", Connections: 3, Hooked: []string{"glyphosate 5.4 SL"}, Carriers: []string{"water"}},
	}, got.Pad.Bays)
	assert.Equal(t, want.RinseLevels[:1], got.RinseLevels)
	assert.Empty(t, got.CleanoutLevels, "a sheet with only its header has none")
}

// TestWhatIsSaidOfASheet are warnings: the day is read all the same.
func TestWhatIsSaidOfASheet(t *testing.T) {
	with := func(sheet string, rows ...[]any) map[string][][]any {
		sheets := smallSheets()
		sheets[sheet] = append(sheets[sheet], rows...)
		return sheets
	}
	for _, tc := range []struct {
		name, want string
		data       []byte
	}{
		{"unknown sheet", `day.xlsx: hold: unknown sheet, not read; did you mean "holds"?`, made(t, with("hold", []any{"from", "to"}))},
		{"for people", "", made(t, with("Notes", []any{"call Joe"}))},
		{"blank sheet that may be left out", "", made(t, with("holds"))},
		{"no settings", "day.xlsx: day: is not there or says nothing; all settings are the defaults", made(t, without("day"))},
		{"column of one's own, with errors in it", "day.xlsx: jobs!I1: mine: unknown column, not read", made(t, smallSheets(),
			cell(t, "jobs", "I1", "mine", ""), cell(t, "jobs", "I2", 46146, "m/d/yyyy"), cell(t, "jobs", "I3", 0.1, "0%"))},
		{"scribble beside the table", `day.xlsx: jobs!J2: "ask Joe" stands in a column without a name; the column is not read`,
			made(t, smallSheets(), cell(t, "jobs", "J2", "ask Joe", ""))},
		{"scribble below and beside the table", "", made(t, smallSheets(), cell(t, "jobs", "L40", "ask Joe", ""))},
		{"hidden rows", "day.xlsx: jobs: has 1 hidden row, read like the others",
			made(t, smallSheets(), func(f *excelize.File) { require.NoError(t, f.SetRowVisible("jobs", 3, false)) })},
		{"hidden sheet", "day.xlsx: stock: is a hidden sheet and is read all the same",
			made(t, smallSheets(), func(f *excelize.File) { require.NoError(t, f.SetSheetVisible("stock", false)) })},
	} {
		t.Run(tc.name, func(t *testing.T) {
			day := read(t, tc.data)
			assert.Equal(t, tc.want, warnings(day))
			assert.Len(t, day.Input.Jobs, 2)
		})
	}
}

func without(sheet string) map[string][][]any {
	sheets := smallSheets()
	delete(sheets, sheet)
	return sheets
}

// TestBlankRowsAndCase keeps row numbers and reads names in any case.
func TestBlankRowsAndCase(t *testing.T) {
	sheets := without("jobs")
	sheets["JOBS"] = [][]any{nil, nil, {" Field ", "MIX", "acres", "drive_min"}, nil, {"north", "burndown", 80, 9}, nil, {"south", "burn down", 80, 9}}
	assert.Equal(t, `day.xlsx: JOBS!B7: mix: "burn down" is not in sheet mixes; did you mean "burndown"?`, refused(t, made(t, sheets)))
}
