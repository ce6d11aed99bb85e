package workbook_test

import (
	"archive/zip"
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"padturn/io/planfile"
	"padturn/io/workbook"
)

// longPlan is a made-up plan with every kind of step, names that begin with =
// and a load after midnight.
func longPlan(t testing.TB) *planfile.Document {
	doc, err := planfile.Read("../planfile/testdata/long")
	require.NoError(t, err)
	return doc
}

func written(t testing.TB, doc *planfile.Document) ([]byte, *excelize.File) {
	t.Helper()
	data, err := workbook.Plan(doc)
	require.NoError(t, err)
	f, err := excelize.OpenReader(bytes.NewReader(data))
	require.NoError(t, err)
	t.Cleanup(func() { assert.NoError(t, f.Close()) })
	return data, f
}

var planSheets = []string{"Load order", "Amounts", "Stock", "Sprayers", "Summary", "Stock events", "Stock curves"}

func TestPlanSheetsAreLaidOut(t *testing.T) {
	_, f := written(t, longPlan(t))
	assert.Equal(t, planSheets, f.GetSheetList())
	repeated := map[string]string{}
	for _, name := range f.GetDefinedName() {
		if strings.HasSuffix(name.Name, "Print_Titles") {
			repeated[name.Scope] = name.RefersTo
		}
	}
	for _, sheet := range planSheets {
		panes, err := f.GetPanes(sheet)
		require.NoError(t, err)
		assert.True(t, panes.Freeze, sheet)
		layout, err := f.GetPageLayout(sheet)
		require.NoError(t, err)
		props, err := f.GetSheetProps(sheet)
		require.NoError(t, err)
		assert.True(t, *props.FitToPage, sheet)
		assert.Equal(t, 1, *layout.FitToWidth, sheet)
		if sheet == "Summary" {
			continue
		}
		assert.Equal(t, "landscape", *layout.Orientation, sheet)
		assert.Equal(t, "'"+sheet+"'!$1:$1", repeated[sheet])
	}
}

// TestMovingProductsHaveCharts looks for the charts in the file itself: the
// library does not read them.
func TestMovingProductsHaveCharts(t *testing.T) {
	doc := longPlan(t)
	moves := map[string]int{}
	for _, e := range doc.Stock {
		moves[e.Product]++
	}
	want := 0
	for _, n := range moves {
		if n > 1 {
			want++
		}
	}
	require.Positive(t, want)
	data, _ := written(t, doc)
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	got := 0
	for _, part := range r.File {
		if strings.HasPrefix(part.Name, "xl/charts/chart") {
			got++
		}
	}
	assert.Equal(t, want, got)
}

// TestTextStaysText: what looks like a formula is none.
func TestTextStaysText(t *testing.T) {
	doc := longPlan(t)
	for i, text := range []string{"=1+1", "+1", "-2", "@sum"} {
		doc.Jobs[i].Field = text
	}
	doc.Loads[0].Mix = "=cmd|' /C calc'!A0"
	doc.Warnings = append(doc.Warnings, "=HYPERLINK(\"x\")")
	_, f := written(t, doc)
	found := 0
	for _, sheet := range planSheets {
		rows, err := f.GetRows(sheet)
		require.NoError(t, err)
		for i, row := range rows {
			for j, text := range row {
				if text == "" || !strings.ContainsRune("=+-@", rune(text[0])) {
					continue
				}
				name, err := excelize.CoordinatesToCellName(j+1, i+1)
				require.NoError(t, err)
				formula, err := f.GetCellFormula(sheet, name)
				require.NoError(t, err)
				assert.Empty(t, formula, "%s!%s", sheet, name)
				found++
			}
		}
	}
	assert.GreaterOrEqual(t, found, 3)
}

// TestSameCellsEachTime: bytes may differ, cells may not.
func TestSameCellsEachTime(t *testing.T) {
	cells := func() map[string][][]string {
		_, f := written(t, longPlan(t))
		all := map[string][][]string{}
		for _, sheet := range f.GetSheetList() {
			rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
			require.NoError(t, err)
			all[sheet] = rows
		}
		return all
	}
	assert.Equal(t, cells(), cells())
}

func TestPlansWithoutMuchInThem(t *testing.T) {
	for _, name := range []string{"empty", "short"} {
		doc, err := planfile.Read("../planfile/testdata/" + name)
		require.NoError(t, err)
		_, f := written(t, doc)
		assert.Equal(t, planSheets, f.GetSheetList(), name)
	}
}

func TestIsPlan(t *testing.T) {
	data, _ := written(t, longPlan(t))
	day, err := workbook.Day(read(t, made(t, smallSheets())).Input)
	require.NoError(t, err)
	dir := t.TempDir()
	for name, tc := range map[string]struct {
		data []byte
		want bool
	}{
		"plan": {data, true}, "day": {day, false}, "typed": {made(t, smallSheets()), false}, "text": {[]byte("job,field\n"), false}, "empty": {nil, false},
	} {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, tc.data, 0o600))
		assert.Equal(t, tc.want, workbook.IsPlan(path), name)
	}
	assert.False(t, workbook.IsPlan(dir))
	assert.False(t, workbook.IsPlan(filepath.Join(dir, "none")))
}

// TestMetricDay has hectares and litres beside the units of the files.
func TestMetricDay(t *testing.T) {
	doc := longPlan(t)
	doc.Day.Units = "metric"
	_, f := written(t, doc)
	rows, err := f.GetRows("Load order", excelize.Options{RawCellValue: true})
	require.NoError(t, err)
	at := func(title string) float64 {
		column := slices.Index(rows[0], title)
		require.GreaterOrEqual(t, column, 0, title)
		value, err := strconv.ParseFloat(rows[1][column], 64)
		require.NoError(t, err)
		return value
	}
	assert.InEpsilon(t, at("ac")*0.40468564224, at("ha"), 0.01)
	assert.InEpsilon(t, at("gal")*3.785411784, at("L"), 0.01)
	rows, err = f.GetRows("Summary")
	require.NoError(t, err)
	assert.True(t, slices.ContainsFunc(rows, func(row []string) bool { return len(row) > 0 && row[0] == "ha sprayed" }))
}
