package main

import (
	"bytes"
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"padturn/io/dayfiles"
	"padturn/io/planfile"
	"padturn/io/workbook"
	"padturn/model"
	"padturn/planner"
	"padturn/planner/scenario"
)

// exampleWorkbook writes an example as a workbook and returns its path.
func exampleWorkbook(t testing.TB, name string) string {
	day, err := dayfiles.Read(filepath.Join(examplesDir, name))
	require.NoError(t, err)
	data, err := workbook.Day(day.Input)
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), name+".xlsx")
	require.NoError(t, os.WriteFile(path, data, 0o600))
	return path
}

// TestFolderAndWorkbookGiveTheSamePlan, byte for byte.
func TestFolderAndWorkbookGiveTheSamePlan(t *testing.T) {
	for _, name := range []string{"small", "spring-rush", "short-stock"} {
		t.Run(name, func(t *testing.T) {
			path, out := exampleWorkbook(t, name), filepath.Join(t.TempDir(), "plan")
			ofFolder := padturn("plan", filepath.Join(examplesDir, name), "--effort", "200", "-o", out)
			ofWorkbook := padturn("plan", path, "--effort", "200")
			assert.Equal(t, ofFolder.code, ofWorkbook.code)
			assert.Equal(t, ofFolder.stdout, ofWorkbook.stdout)
			for _, file := range planfile.FileNames() {
				want, err := os.ReadFile(filepath.Join(out, file))
				require.NoError(t, err)
				got, err := os.ReadFile(filepath.Join(strings.TrimSuffix(path, ".xlsx")+"-plan", file))
				require.NoError(t, err)
				assert.Equal(t, string(want), string(got), file)
			}
		})
	}
}

// TestWorkbookAgreesWithTheFiles reads a plan's workbook back and compares it
// with the CSV files beside it.
func TestWorkbookAgreesWithTheFiles(t *testing.T) {
	for _, name := range []string{"small", "spring-rush", "short-stock"} {
		t.Run(name, func(t *testing.T) {
			out := filepath.Join(t.TempDir(), "plan")
			padturn("plan", filepath.Join(examplesDir, name), "--effort", "200", "-o", out)
			got := padturn("workbook", out)
			require.Equal(t, exitPlanned, got.code, got.stderr)
			f, err := excelize.OpenFile(filepath.Join(out, planWorkbook))
			require.NoError(t, err)
			defer f.Close()
			loads := func(row map[string]string) string { return row["bay"] + "\x00" + row["seq"] }
			compare(t, f, "Load order", filepath.Join(out, "loads.csv"), loads, map[string]string{
				"bay": "bay", "seq": "seq", "load": "load", "sprayer": "sprayer", "mix": "mix", "gal": "gal", "set-up": "setup_start",
				"start": "start", "end": "end", "rinse before": "rinse", "sprayer cleaned": "cleanout", "ready": "ready",
				"wait, min": "wait_min", "held, min": "held_min", "back at": "back_at",
			})
			steps := func(row map[string]string) string { return row["load"] + "\x00" + row["step"] }
			compare(t, f, "Amounts", filepath.Join(out, "amounts.csv"), steps, map[string]string{
				"load": "load", "step": "step", "product": "product", "exact amount": "amount", "stock unit": "unit",
			})
			compare(t, f, "Stock events", filepath.Join(out, "stock.csv"), nil, map[string]string{
				"product": "product", "at": "at", "event": "event", "change": "change", "level": "level", "low": "low",
			})
			compare(t, f, "Sprayers", filepath.Join(out, "turns.csv"), nil, map[string]string{
				"sprayer": "sprayer", "load": "load", "what": "what", "from": "from", "to": "to",
			})
			checkTotal(t, f, filepath.Join(out, "cost.csv"))
		})
	}
}

// compare matches the rows of a sheet with those of a file, by a key or, where
// it is nil, by their place, and compares the columns: sheet -> file.
func compare(t *testing.T, f *excelize.File, sheet, file string, key func(map[string]string) string, columns map[string]string) {
	t.Helper()
	rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
	require.NoError(t, err)
	got := named(rows)
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	records, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	require.NoError(t, err)
	want := named(records)
	require.Len(t, got, len(want), sheet)
	require.NotEmpty(t, want, sheet)
	place := map[string]int{}
	for i, row := range got {
		if key != nil {
			place[key(row)] = i
		}
	}
	for i, row := range want {
		if key != nil {
			i = place[key(row)]
		}
		for mine, theirs := range columns {
			require.Contains(t, got[i], mine)
			require.Contains(t, row, theirs)
			assert.True(t, sameCell(got[i][mine], row[theirs]), "%s row %d: %s is %q, %s says %q", sheet, i+2, mine, got[i][mine], theirs, row[theirs])
		}
	}
}

// named turns rows below a header into maps by column.
func named(rows [][]string) []map[string]string {
	var all []map[string]string
	for _, row := range rows[1:] {
		cells := map[string]string{}
		for i, column := range rows[0] {
			cells[column] = ""
			if i < len(row) {
				cells[column] = row[i]
			}
		}
		all = append(all, cells)
	}
	return all
}

// sameCell compares a stored cell with a text of a plan file: the same text,
// the same number, or the same second of the day.
func sameCell(cell, text string) bool {
	if cell == text {
		return true
	}
	stored, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		return false
	}
	if at, err := model.ParseClock(text); err == nil {
		return math.Abs(stored*86400-float64(at)) < 1e-3
	}
	number, err := strconv.ParseFloat(text, 64)
	return err == nil && stored == number
}

// checkTotal finds the total of the cost in the summary.
func checkTotal(t *testing.T, f *excelize.File, file string) {
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	records, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	require.NoError(t, err)
	last := records[len(records)-1]
	require.Equal(t, "total", last[0])
	rows, err := f.GetRows("Summary", excelize.Options{RawCellValue: true})
	require.NoError(t, err)
	for _, row := range rows {
		if len(row) > 1 && row[0] == "total" {
			got, err := strconv.ParseFloat(row[1], 64)
			require.NoError(t, err)
			want, err := strconv.ParseFloat(last[2], 64)
			require.NoError(t, err)
			assert.InDelta(t, want, got, 0.005)
			return
		}
	}
	t.Error("the summary has no total")
}

// TestMeasuredAmountsAreTheExactOnes, to the steps that they are rounded to: at
// most a hundredth of the smallest dose, carried on from load to load, so that
// a product's total over the day is far closer.
func TestMeasuredAmountsAreTheExactOnes(t *testing.T) {
	out := filepath.Join(t.TempDir(), "plan")
	padturn("plan", filepath.Join(examplesDir, "spring-rush"), "--effort", "200", "-o", out)
	require.Equal(t, exitPlanned, padturn("workbook", out).code)
	f, err := excelize.OpenFile(filepath.Join(out, planWorkbook))
	require.NoError(t, err)
	defer f.Close()
	rows, err := f.GetRows("Amounts", excelize.Options{RawCellValue: true})
	require.NoError(t, err)
	measured, exact := map[string]float64{}, map[string]float64{}
	for i, row := range named(rows) {
		of, amount, want := row["product"], inStockUnit(t, row), mustFloat(t, row["exact amount"])
		assert.InEpsilon(t, want, amount, 0.03, "row %d: %v", i+2, row)
		measured[of], exact[of] = measured[of]+amount, exact[of]+want
	}
	assert.Greater(t, len(exact), 10)
	for product := range exact {
		assert.InEpsilon(t, exact[product], measured[product], 0.003, product)
	}
}

func inStockUnit(t *testing.T, row map[string]string) float64 {
	measured := mustFloat(t, row["to measure"])
	from, known := model.FindUnit(strings.ReplaceAll(row["unit"], "fl oz", "floz"))
	require.True(t, known, row["unit"])
	to, known := model.FindUnit(row["stock unit"])
	require.True(t, known, row["stock unit"])
	factor, _ := from.Per(to).Float64()
	return measured * factor
}

func mustFloat(t *testing.T, text string) float64 {
	value, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err, text)
	return value
}

// TestVastPlanIsWrittenSoon writes the workbook of a day of 400 loads.
func TestVastPlanIsWrittenSoon(t *testing.T) {
	if testing.Short() {
		t.Skip("plans a day of 400 loads")
	}
	problem, report := model.NewProblem(scenario.Vast.Day(scenario.Busy, 1))
	require.True(t, report.OK(), report.Errors)
	result, err := planner.Plan(t.Context(), problem, planner.Settings{Steps: 1, Seed: 1})
	require.NoError(t, err)
	doc, err := planfile.Build(problem, result)
	require.NoError(t, err)
	began := time.Now()
	data, err := workbook.Plan(doc)
	require.NoError(t, err)
	t.Logf("%d loads: %d bytes in %s", len(doc.Loads), len(data), time.Since(began))
	assert.Greater(t, len(doc.Loads), 350)
}

// TestProgressOfAWorkbook: the sheet is read as progress.csv is, with its
// mistakes told by their cells.
func TestProgressOfAWorkbook(t *testing.T) {
	day := exampleWorkbook(t, "small")
	require.Equal(t, exitPlanned, padturn("plan", day, "--effort", "1").code)
	for _, row := range []struct {
		name  string
		cells [][]any
		code  int
		says  string
	}{
		{"no sheet", nil, exitInput, "small.xlsx, sheet progress is not there or holds nothing"},
		{"a wrong state", [][]any{{"load", "state", "at"}, {"Heron-1", "gone", "07:00"}}, exitInput,
			"small.xlsx: progress!B2: state: \"gone\": expected waiting, filling, filled, spraying, done or dropped"},
		{"an unknown load", [][]any{{"load", "state", "at"}, {"Heron-77", "filled", "07:00"}}, exitInput, "small.xlsx, sheet progress: "},
		{"in order", [][]any{{"load", "state", "at"}, {"Heron-1", "filled", "07:00"}}, exitPlanned, "sheet progress: 1 row, 1 of them new"},
		{"read already", [][]any{{"load", "state", "at"}, {"Heron-1", "filled", "07:00"}}, exitPlanned, "sheet progress: 1 row, 0 of them new"},
	} {
		t.Run(row.name, func(t *testing.T) {
			f, err := excelize.OpenFile(day)
			require.NoError(t, err)
			if row.cells != nil {
				_, err := f.NewSheet("progress")
				require.NoError(t, err)
			}
			for i := range row.cells {
				require.NoError(t, f.SetSheetRow("progress", "A"+strconv.Itoa(i+1), &row.cells[i]))
			}
			require.NoError(t, f.Save())
			require.NoError(t, f.Close())
			got := padturn("mark", day, "progress")
			assert.Equal(t, row.code, got.code, got.stderr)
			assert.Contains(t, got.stderr, row.says)
		})
	}
}
