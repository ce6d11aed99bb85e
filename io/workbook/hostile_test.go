package workbook_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"padturn/io/workbook"
)

// TestEveryFaultIsTold breaks one thing in a good day.
func TestEveryFaultIsTold(t *testing.T) {
	one := func(sheet, name string, value any, format string) []byte {
		return made(t, smallSheets(), cell(t, sheet, name, value, format))
	}
	with := func(sheet string, rows ...[]any) []byte {
		sheets := smallSheets()
		sheets[sheet] = rows
		return made(t, sheets)
	}
	merge := func(from, to string) []byte {
		return made(t, smallSheets(), func(f *excelize.File) { require.NoError(t, f.MergeCell("jobs", from, to)) })
	}
	for _, tc := range []struct {
		name string
		data []byte
		want string // all errors, a line each
	}{
		{"missing sheet", made(t, without("mixes")), "day.xlsx: mixes: the sheet is missing; every day needs it"},
		{"empty sheet", with("jobs"), "day.xlsx: jobs: is empty; the first row must name the columns"},
		{"misspelt sheet", func() []byte {
			sheets := without("mixes")
			sheets["mixs"] = smallSheets()["mixes"]
			return made(t, sheets)
		}(), `day.xlsx: mixes: the sheet is missing; every day needs it; did you mean "mixs"?`},
		{"sheet twice", func() []byte {
			sheets := smallSheets()
			sheets["jobs "] = sheets["jobs"]
			return made(t, sheets)
		}(), "day.xlsx: jobs : the sheet stands twice, first as jobs"},
		{"missing column", one("jobs", "E1", "acers", ""), "day.xlsx: jobs, row 1: acres: column is missing; found job, field, sprayer, mix, acers, crop, drive_min, due"},
		{"title above the header", with("mixes", []any{"Mixes of the day"}, []any{"mix", "gpa"}, []any{"burndown", 15}),
			"day.xlsx: mixes, row 1: mix: column is missing; found Mixes of the day\nday.xlsx: mixes, row 1: gpa: column is missing; found Mixes of the day"},
		{"blank required cell", one("jobs", "B3", nil, ""), "day.xlsx: jobs!B3: field: is blank; a value is required"},

		{"thousands comma in a text", one("jobs", "E2", "1,200", ""), `day.xlsx: jobs!E2: acres: "1,200" is not a plain number; write 1200 if the comma is between thousands, 1.2 if it is a decimal comma`},
		{"unit in a number", one("jobs", "E2", "40 ac", ""), `day.xlsx: jobs!E2: acres: "40 ac" is not a plain number; write only the number, without a unit`},
		{"percentage", one("recipes", "C2", 0.025, "0.0%"),
			`day.xlsx: recipes!C2: rate: "2.5%" is formatted as a percentage and stored as 0.025; format the cell as a number and write the one that is meant`},
		{"number that became a date", one("jobs", "E2", 46146, "d-mmm"),
			`day.xlsx: jobs!E2: acres: "2026-05-04" is a date, which spreadsheets also make of texts such as 3-4; format the cell as text and type it again`},
		{"name that became a date", one("jobs", "B2", 46146, "d-mmm"),
			`day.xlsx: jobs!B2: field: "2026-05-04" is a date, which spreadsheets also make of texts such as 3-4; format the cell as text and type it again`},
		{"time with a date", one("jobs", "H2", 46146.5, "m/d/yy h:mm"),
			`day.xlsx: jobs!H2: due: "2026-05-04 12:00" is a date with a time; write only the time, as HH:MM`},
		{"time without a format", one("jobs", "H2", 0.5, ""),
			`day.xlsx: jobs!H2: due: "0.5": expected a time as HH:MM from 00:00 to 23:59, or HH:MM+1 for the next day`},
		{"minutes written as a time", one("jobs", "G2", 12.0/1440, "h:mm"),
			`day.xlsx: jobs!G2: drive_min: "00:12" is not a plain number; write digits with at most one point, such as 40.5`},
		{"time to the second", one("jobs", "H2", 0.5+1.0/86400, "h:mm:ss"),
			`day.xlsx: jobs!H2: due: "12:00:01": expected a time as HH:MM from 00:00 to 23:59, or HH:MM+1 for the next day`},
		{"too small a number", one("jobs", "E2", 1e-12, ""), `day.xlsx: jobs!E2: acres: "0.000000000001" has 12 digits after the point; at most 9 are kept exactly`},
		{"huge number", one("jobs", "E2", 1e30, ""), `day.xlsx: jobs!E2: acres: "1000000000000000000000000000000" is too large; at most 9 digits may stand before the point`},
		{"negative", one("jobs", "E2", -4, ""), `day.xlsx: jobs!E2: acres: "-4": expected more than 0 and at most 100000 acres`},
		{"error of the spreadsheet", edited(t, jobsPart, `<c r="E2"><v>120.5</v></c>`, `<c r="E2" t="e"><f>1/0</f><v>#DIV/0!</v></c>`),
			`day.xlsx: jobs!E2: acres: "#DIV/0!" is an error of the spreadsheet; mend the formula`},
		{"formula that comes to an error", edited(t, jobsPart, `<c r="E2"><v>120.5</v></c>`, `<c r="E2"><f>1/0</f></c>`),
			`day.xlsx: jobs!E2: acres: "=1/0" is a formula without a value; open the workbook in a spreadsheet program and save it, or write the value in its place`},
		{"formula for a name", one("jobs", "B2", "=1+1", ""), `day.xlsx: jobs!B2: field: "=1+1" starts with "="; a name may not start with = + - @`},
		{"control character", one("jobs", "B2", "nor\x7fth", ""), `day.xlsx: jobs!B2: field: "nor\x7fth" holds the control character U+007F; remove it`},
		{"merged cells", merge("C2", "C3"), "day.xlsx: jobs!C3: sprayer: is part of the merged cells C2:C3; unmerge them and write the value into each"},
		{"merged across", merge("F2", "G2"), "day.xlsx: jobs!G2: drive_min: is part of the merged cells F2:G2; unmerge them and write the value into each"},
		{"merged where the rows end", merge("H2", "H3"), "day.xlsx: jobs!H3: due: is part of the merged cells H2:H3; unmerge them and write the value into each"},
		{"unknown name", one("jobs", "D2", "burn down", ""), `day.xlsx: jobs!D2: mix: "burn down" is not in sheet mixes; did you mean "burndown"?`},
		{"name twice", with("mixes", []any{"mix", "gpa"}, []any{"burndown", 15}, []any{"burndown", 12}),
			`day.xlsx: mixes!A3: mix: "burndown" stands twice; each name may be used once`},

		{"unknown setting", one("day", "A3", "pad.open", ""), `day.xlsx: day!A3: pad.open: unknown setting; did you mean "pad.opens"?`},
		{"unknown setting without a value", made(t, smallSheets(), cell(t, "day", "A4", "opens", "")),
			`day.xlsx: day!A4: opens: unknown setting; did you mean "pad.opens"?`},
		{"setting twice", made(t, smallSheets(), cell(t, "day", "A4", "pad.opens", ""), cell(t, "day", "B4", "06:00", "")),
			"day.xlsx: day!A4: pad.opens: stands twice, first in row 3"},
		{"value without a setting", made(t, smallSheets(), cell(t, "day", "B4", "06:00", "")), "day.xlsx: day!A4: setting: is blank, but the row has a value"},
		{"wrong word", with("day", []any{"setting", "value"}, []any{"units", "imperial"}), `day.xlsx: day!B2: units: "imperial": expected us or metric`},
		{"time that is none", one("day", "B3", "dawn", ""), `day.xlsx: day!B3: pad.opens: "dawn": expected a time as HH:MM from 00:00 to 23:59, or HH:MM+1 for the next day`},
		{"list among the settings", with("day", []any{"setting", "value"}, []any{"pad.bays[0].name", "north"}),
			"day.xlsx: day!A2: pad.bays[0].name: stands in sheet bays, a row for each, and not here"},
		{"bad count in a list", with("bays", []any{"name", "connections"}, []any{"north", "two"}),
			`day.xlsx: bays!B2: connections: "two" is not a plain number; write digits with at most one point, such as 40.5`},
		{"unknown product in a list", with("bays", []any{"name", "hooked"}, []any{"north", "glyphosate 5.4 SL; atrazine"}),
			`day.xlsx: bays!B2: hooked: "atrazine" is not in sheet products`},
		{"bay without a name", with("bays", []any{"name", "connections"}, []any{nil, 2}), "day.xlsx: bays, row 2: name: a name is required"},
		{"merged cells in a list", made(t, func() map[string][][]any {
			sheets := smallSheets()
			sheets["bays"] = [][]any{{"name", "connections"}, {"north", 2}, {"south", nil}}
			return sheets
		}(), func(f *excelize.File) { require.NoError(t, f.MergeCell("bays", "B2", "B3")) }),
			"day.xlsx: bays!B3: connections: is part of the merged cells B2:B3; unmerge them and write the value into each"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			assert.Equal(t, tc.want, refused(t, tc.data))
		})
	}
}

// TestAllIsToldAtOnce in the order of sheets and rows.
func TestAllIsToldAtOnce(t *testing.T) {
	got := refused(t, made(t, smallSheets(),
		cell(t, "sprayers", "B2", "1,200", ""), cell(t, "jobs", "E3", "40 ac", ""), cell(t, "jobs", "D2", "burn down", ""), cell(t, "day", "B3", "dawn", "")))
	var places []string
	for line := range strings.Lines(got) {
		places = append(places, strings.Join(strings.SplitN(line, ": ", 4)[:3], ": "))
	}
	assert.Equal(t, []string{
		"day.xlsx: day!B3: pad.opens", "day.xlsx: jobs!D2: mix", "day.xlsx: jobs!E3: acres", "day.xlsx: sprayers!B2: tank_gal",
	}, places)
}

// TestFilesThatAreNoWorkbook are told in a line, and cost neither time nor
// memory.
func TestFilesThatAreNoWorkbook(t *testing.T) {
	locked := fileOf(t, smallSheets())
	var lockedBytes bytes.Buffer
	require.NoError(t, locked.Write(&lockedBytes, excelize.Options{Password: "secret"}))
	good := made(t, smallSheets())
	for _, tc := range []struct {
		name string
		data []byte
		want string
	}{
		{"nothing", nil, "day.xlsx: is no workbook (.xlsx)"},
		{"text", []byte("job,field\n1,north\n"), "day.xlsx: is no workbook (.xlsx)"},
		{"protected with a password", lockedBytes.Bytes(), "day.xlsx: is protected with a password, or is an old .xls; save it as .xlsx without a password"},
		{"cut short", good[:len(good)/2], "day.xlsx: is no workbook (.xlsx), or a damaged one: zip: not a valid zip file"},
		{"an archive of something else", zipped(t, map[string][]byte{"mimetype": []byte("application/vnd.oasis.opendocument.spreadsheet"), "content.xml": []byte("<a/>")}),
			"day.xlsx: is no workbook (.xlsx): it has no sheets"},
		{"too large", append([]byte("PK\x03\x04"), make([]byte, 17<<20)...), "day.xlsx: is larger than 16 MiB; a day's workbook is far smaller"},
		{"zip bomb", zipped(t, map[string][]byte{"xl/workbook.xml": []byte("<workbook/>"), "xl/worksheets/sheet1.xml": make([]byte, 100<<20)}),
			"day.xlsx: unpacks to more than 64 MiB; a day's workbook is far smaller"},
		{"a million wide rows", replaced(t, good, jobsPart, "<worksheet><sheetData>"+wideRows(200_000)+"</sheetData></worksheet>"),
			"day.xlsx: has a sheet laid out over more than 2000000 cells; delete the empty rows and columns behind the tables"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			before := allocated()
			assert.Equal(t, tc.want, refused(t, tc.data))
			assert.Less(t, allocated()-before, uint64(1<<30))
		})
	}
}

func allocated() uint64 {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.TotalAlloc
}

// wideRows have a cell with nothing but a format in the format's last column.
func wideRows(n int) string {
	var rows strings.Builder
	for i := range n {
		fmt.Fprintf(&rows, `<row r="%d"><c r="XFD%d" s="1"/></row>`, i+1, i+1)
	}
	return rows.String()
}

// replaced returns a workbook with another text for one of its parts.
func replaced(t *testing.T, data []byte, name, text string) []byte {
	parts := unzipped(t, data)
	require.NotEmpty(t, parts[name], name)
	parts[name] = []byte(text)
	return zipped(t, parts)
}

// jobsPart is where the small day has its jobs.
const jobsPart = "xl/worksheets/sheet3.xml"

// edited is the small day with something else in one of its parts.
func edited(t *testing.T, name, old, new string) []byte {
	data := made(t, smallSheets())
	text := string(unzipped(t, data)[name])
	require.Contains(t, text, old)
	return replaced(t, data, name, strings.Replace(text, old, new, 1))
}

// A style that is named and not there is an index out of range in the library.
func TestDamagedInsideIsTold(t *testing.T) {
	good := made(t, smallSheets(), cell(t, "jobs", "E2", 80, "0.00"))
	for _, part := range []string{"xl/styles.xml", "xl/sharedStrings.xml", "xl/workbook.xml", jobsPart, "xl/_rels/workbook.xml.rels"} {
		for _, text := range []string{"", "<", "<styleSheet/>", `<styleSheet><cellXfs><xf fillId="9" fontId="9" borderId="9" numFmtId="9" applyFill="1" applyFont="1" applyBorder="1"/><xf fillId="99" applyFill="1"/></cellXfs></styleSheet>`} {
			data := replaced(t, good, part, text)
			assert.NotPanics(t, func() { _, _ = workbook.ReadBytes("day.xlsx", data) }, "%s: %s", part, text)
		}
	}
}

// TestManyBlankRows reads a sheet whose rows have been given a format far down.
func TestManyBlankRows(t *testing.T) {
	if testing.Short() {
		t.Skip("writes and reads 300,000 cells")
	}
	data := made(t, smallSheets(), func(f *excelize.File) {
		format := "0.00"
		style, err := f.NewStyle(&excelize.Style{CustomNumFmt: &format})
		require.NoError(t, err)
		require.NoError(t, f.SetCellStyle("jobs", "A4", "C100000", style))
	})
	began := time.Now()
	day := read(t, data)
	assert.Len(t, day.Input.Jobs, 2)
	t.Logf("%d bytes in %s", len(data), time.Since(began))
}

func TestReadPath(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "monday.xlsx")
	require.NoError(t, os.WriteFile(path, made(t, smallSheets(), cell(t, "jobs", "E2", "40 ac", "")), 0o600))
	_, err := workbook.Read(path)
	assert.ErrorContains(t, err, "monday.xlsx: jobs!E2: acres: ")
	_, err = workbook.Read(filepath.Join(dir, "tuesday.xlsx"))
	assert.EqualError(t, err, filepath.Join(dir, "tuesday.xlsx")+": there is no such file")
	_, err = workbook.Read(dir)
	assert.EqualError(t, err, dir+": is not a plain file")
}
