package workbook_test

import (
	"archive/zip"
	"bytes"
	"errors"
	"io"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"padturn/io/dayfiles"
	"padturn/io/workbook"
)

// smallSheets is a day as a person would type it: bare texts and numbers.
func smallSheets() map[string][][]any {
	return map[string][][]any{
		"jobs": {
			{"job", "field", "sprayer", "mix", "acres", "crop", "drive_min", "due"},
			{"J1", "north", "S1", "burndown", 120.5, "corn", 12, nil},
			{"J2", "south", nil, "burndown", 80, "corn", 9, nil},
		},
		"mixes":    {{"mix", "gpa", "carrier"}, {"burndown", 15, "water"}},
		"recipes":  {{"mix", "product", "rate", "unit"}, {"burndown", "glyphosate 5.4 SL", 32, "floz/ac"}},
		"products": {{"product", "form", "unit", "handling"}, {"glyphosate 5.4 SL", "SL", "gal", "metered"}},
		"sprayers": {{"sprayer", "tank_gal", "ac_per_h"}, {"S1", 1200, 80}},
		"stock":    {{"product", "container", "size", "full"}, {"glyphosate 5.4 SL", "tote", 265, 2}},
		"day":      {{"setting", "value"}, {"date", "2026-05-04"}, {"pad.opens", "05:30"}},
	}
}

// made is a workbook of sheets, with changes that only a spreadsheet can make.
func made(t testing.TB, sheets map[string][][]any, changes ...func(*excelize.File)) []byte {
	t.Helper()
	f := fileOf(t, sheets)
	for _, change := range changes {
		change(f)
	}
	return bytesOf(t, f)
}

func fileOf(t testing.TB, sheets map[string][][]any) *excelize.File {
	t.Helper()
	f := excelize.NewFile()
	for _, name := range slices.Sorted(maps.Keys(sheets)) {
		rows := sheets[name]
		_, err := f.NewSheet(name)
		require.NoError(t, err)
		for i, row := range rows {
			cell, err := excelize.CoordinatesToCellName(1, i+1)
			require.NoError(t, err)
			require.NoError(t, f.SetSheetRow(name, cell, &row))
		}
	}
	require.NoError(t, f.DeleteSheet("Sheet1"))
	return f
}

func bytesOf(t testing.TB, f *excelize.File) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, f.Write(&out))
	require.NoError(t, f.Close())
	return out.Bytes()
}

// cell sets one cell, which may be any value, and its number format.
func cell(t testing.TB, sheet, name string, value any, format string) func(*excelize.File) {
	return func(f *excelize.File) {
		require.NoError(t, f.SetCellValue(sheet, name, value))
		if format == "" {
			return
		}
		style, err := f.NewStyle(&excelize.Style{CustomNumFmt: &format})
		require.NoError(t, err)
		require.NoError(t, f.SetCellStyle(sheet, name, name, style))
	}
}

func read(t testing.TB, data []byte) *dayfiles.Day {
	t.Helper()
	day, err := workbook.ReadBytes("day.xlsx", data)
	require.NoError(t, err)
	return day
}

// refused reads a workbook that must be refused, and returns why, a line each.
func refused(t testing.TB, data []byte) string {
	t.Helper()
	_, err := workbook.ReadBytes("day.xlsx", data)
	var problems *dayfiles.Problems
	require.True(t, errors.As(err, &problems), "want *Problems, got %v", err)
	return problems.Error()
}

func warnings(day *dayfiles.Day) string {
	var list []string
	for _, w := range day.Warnings {
		list = append(list, w.String())
	}
	return strings.Join(list, "\n")
}

// unzipped returns the parts of a workbook by name.
func unzipped(t testing.TB, data []byte) map[string][]byte {
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	parts := map[string][]byte{}
	for _, f := range r.File {
		part, err := f.Open()
		require.NoError(t, err)
		parts[f.Name], err = io.ReadAll(part)
		require.NoError(t, err)
	}
	return parts
}

// zipped makes a workbook, or no workbook, of parts.
func zipped(t testing.TB, parts map[string][]byte) []byte {
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for name, text := range parts {
		part, err := w.Create(name)
		require.NoError(t, err)
		_, err = part.Write(text)
		require.NoError(t, err)
	}
	require.NoError(t, w.Close())
	return out.Bytes()
}
