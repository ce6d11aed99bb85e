package dayfiles_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/io/dayfiles"
)

var update = flag.Bool("update", false, "write the golden files anew")

// Each row breaks one thing in a good day, and must be told exactly that.
func TestEveryFaultIsTold(t *testing.T) {
	day := smallDay()
	jobs := func(old, new string) files {
		return day.with("jobs.csv", strings.Replace(day["jobs.csv"], old, new, 1))
	}
	sprayers := func(header, row string) files {
		return day.with("sprayers.csv", "sprayer,tank_gal,ac_per_h,"+header+"\nS1,1200,80,"+row+"\n")
	}
	for _, tc := range []struct {
		name string
		day  files
		want string // all errors, one a line
	}{
		{"missing file", day.without("mixes.csv"), "mixes.csv: the file is missing; every day needs it"},
		{"misspelt file", day.without("mixes.csv").with("mix.csv", day["mixes.csv"]),
			`mixes.csv: the file is missing; every day needs it; did you mean "mix.csv"?`},
		{"file of a name with the same end", day.without("mixes.csv").with("rules.csv", "where,after,before,level\n").with(".keep", ""),
			"mixes.csv: the file is missing; every day needs it"},
		{"empty file", day.with("jobs.csv", ""), "jobs.csv: is empty; the first line must name the columns"},
		{"file of blank lines", day.with("stock.csv", "\n ,\n\n"), "stock.csv: is empty; the first line must name the columns"},
		{"UTF-16", day.with("jobs.csv", "\xff\xfej\x00o\x00"), "jobs.csv: is UTF-16; save it as CSV in UTF-8"},
		{"UTF-16 without a mark", day.with("jobs.csv", "j\x00o\x00"),
			"jobs.csv: holds NUL bytes, so it is UTF-16 or no text at all; save it as CSV in UTF-8"},
		{"workbook", day.with("jobs.csv", "PK\x03\x04"), "jobs.csv: is a workbook or an archive; save the sheet as CSV in UTF-8"},
		{"missing column", jobs("acres", "acers"), "jobs.csv:1: acres: column is missing; found job, field, sprayer, mix, acers, crop, drive_min"},
		{"column twice", jobs("crop", "Acres"), "jobs.csv:1: acres: column stands twice (fields 5 and 6)"},
		{"row too short", jobs("J2,south,,burndown,80,corn,9", "J2,south,,burndown,80,corn"), "jobs.csv:3: the row has 6 fields, the header has 7"},
		{"decimal comma outside quotes", jobs("120.5", "120,5"),
			"jobs.csv:2: the row has 8 fields, the header has 7; a value that holds ',' must stand in quotes"},
		{"quote inside a value", jobs("north", `nor"th`),
			`jobs.csv:2: field: has a quote mark inside a value; put the whole value in quotes and write "" for the mark`},
		{"blank required cell", jobs("J2,south", "J2, "), "jobs.csv:3: field: is blank; a value is required"},

		{"thousands comma", jobs("120.5", `"1,200"`), `jobs.csv:2: acres: "1,200" is not a plain number; write 1200 if the comma is between thousands, 1.2 if it is a decimal comma`},
		{"decimal comma", jobs("120.5", `"40,5"`), `jobs.csv:2: acres: "40,5" is not a plain number; write 40.5, not 40,5`},
		{"not a number", jobs("120.5", "NaN"), `jobs.csv:2: acres: "NaN" is not a number`},
		{"infinite", jobs("120.5", "-Inf"), `jobs.csv:2: acres: "-Inf" is not a number`},
		{"exponent", jobs("120.5", "1e3"), `jobs.csv:2: acres: "1e3" is not a plain number; write it without an exponent`},
		{"hexadecimal", jobs("120.5", "0x1F"), `jobs.csv:2: acres: "0x1F" is not a plain number; write only the number, without a unit`},
		{"with a unit", jobs("120.5", "40 ac"), `jobs.csv:2: acres: "40 ac" is not a plain number; write only the number, without a unit`},
		{"negative", jobs("120.5", "-4"), `jobs.csv:2: acres: "-4": expected more than 0 and at most 100000 acres`},
		{"absurd", jobs("120.5", "120500000"), `jobs.csv:2: acres: "120500000": expected more than 0 and at most 100000 acres`},
		{"more than absurd", jobs("120.5", "12050000000"), `jobs.csv:2: acres: "12050000000" is too large; at most 9 digits may stand before the point`},
		{"ten decimals", jobs("120.5", "1.0123456789"), `jobs.csv:2: acres: "1.0123456789" has 10 digits after the point; at most 9 are kept exactly`},
		{"part of a tote", day.with("stock.csv", "product,container,size,full\nglyphosate 5.4 SL,tote,265,2.7\n"),
			`stock.csv:2: full: "2.7" is not a whole number`},
		{"off the globe", day.with("jobs.csv", "field,mix,acres,drive_min,lat,lon\nnorth,burndown,80,5,91,-93\n"),
			`jobs.csv:2: lat: "91": expected decimal degrees from -90 to 90`},

		{"no such hour", sprayers("available_from", "24:00"),
			`sprayers.csv:2: available_from: "24:00": expected a time as HH:MM from 00:00 to 23:59, or HH:MM+1 for the next day`},
		{"minute of one digit", sprayers("available_from", "6:3"),
			`sprayers.csv:2: available_from: "6:3": expected a time as HH:MM from 00:00 to 23:59, or HH:MM+1 for the next day`},
		{"times out of order", sprayers("available_from,available_until", "14:00,12:00"),
			`sprayers.csv:2: available_until: "12:00" must be later than available_from (14:00)`},
		{"neither yes nor no", day.with("products.csv", "product,form,unit,handling,restricted\nglyphosate 5.4 SL,SL,gal,metered,true\n"),
			`products.csv:2: restricted: "true": expected yes or no`},
		{"formula for a name", jobs("north", "=1+1"), `jobs.csv:2: field: "=1+1" starts with "="; a name may not start with = + - @`},
		{"semicolon in a name", jobs("north", `"north;south"`), `jobs.csv:2: field: "north;south" holds ';'; a name may not hold ; = |`},
		{"control character", jobs("north", "nor\x1bth"), `jobs.csv:2: field: "nor\x1bth" holds the control character U+001B; remove it`},
		{"invisible character", jobs("north", "nor\u200bth"), `jobs.csv:2: field: "nor\u200bth" holds the invisible character U+200B; remove it`},
		{"line break in a name", jobs("north", "\"nor\nth\""), `jobs.csv:2: field: "nor\nth" holds the invisible character U+000A; remove it`},
		{"bad group", day.with("products.csv", "product,form,unit,handling,groups\nglyphosate 5.4 SL,SL,gal,metered,\"group 9;@x\"\n"),
			`products.csv:2: groups: "@x" starts with "@"; a name may not start with = + - @`},

		{"unknown reference", jobs("burndown", "burn down"), `jobs.csv:2: mix: "burn down" is not in mixes.csv; did you mean "burndown"?`},
		{"duplicate name", day.with("mixes.csv", "mix,gpa\nburndown,15\nburndown,12\n"),
			`mixes.csv:3: mix: "burndown" stands twice; each name may be used once`},
		{"wrong container", day.with("stock.csv", day["stock.csv"]+"glyphosate 5.4 SL,tank,265,2\n"),
			`stock.csv:3: container: "tank": expected bulk, tote, drum, jug or bag`},
		{"no rows", day.with("sprayers.csv", "sprayer,tank_gal\n").with("jobs.csv", "field,mix,acres,drive_min\nnorth,burndown,80,5\n"),
			"sprayers.csv:1: sprayer: at least one sprayer is needed"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			assert.Equal(t, tc.want, tc.day.refuse(t).Error())
		})
	}
}

func TestWrongUnitIsTold(t *testing.T) {
	problems := smallDay().with("recipes.csv", "mix,product,rate,unit\nburndown,glyphosate 5.4 SL,32,oz/acre\n").refuse(t)
	require.Len(t, problems.Errors, 1)
	assert.Equal(t, "unit", problems.Errors[0].Column)
	assert.Equal(t, 4, problems.Errors[0].Field)
	assert.Equal(t, "oz/acre", problems.Errors[0].Value)
	assert.Contains(t, problems.Errors[0].Want, "floz/ac")
}

// After a quoted line break, a blank line and a row of commas, the line is
// still the file's.
func TestLinesAreTheFilesLines(t *testing.T) {
	problems := smallDay().with("jobs.csv", "field,mix,note,acres,drive_min\n"+ // 1
		"north,burndown,\"two\n"+ // 2
		"lines\",80,5\n"+ // 3
		"\n"+ // 4
		" , ,,,\n"+ // 5
		"south,burndown,,x,5\n"+ // 6
		"west,burndown,\"three\n\nlines\",y,5\n"+ // 7 to 9: y stands in 9
		"east,burndown,,-1,5\n").refuse(t) // 10
	var lines []int
	for _, f := range problems.Errors {
		lines = append(lines, f.Line)
		assert.Equal(t, 4, f.Field)
	}
	assert.Equal(t, []int{6, 9, 10}, lines)
}

// What is already known to be wrong is not reported again in the model's
// words, and does not make sound rows look wrong.
func TestOneFaultIsToldOnce(t *testing.T) {
	day := smallDay()
	for name, tc := range map[string]files{
		"bad number":             day.with("mixes.csv", "mix,gpa\nburndown,15 gal\n"),
		"bad name that is used":  day.with("mixes.csv", "mix,gpa\n=a,15\n").with("recipes.csv", "mix,product,rate,unit\n=a,glyphosate 5.4 SL,32,floz/ac\n").with("jobs.csv", "field,mix,acres,drive_min\nnorth,=a,80,5\n"),
		"row with too few cells": day.with("mixes.csv", "mix,gpa,carrier\nburndown\n"),
		"missing file":           day.without("products.csv"),
		"missing key column":     day.with("products.csv", "form,unit,handling\nSL,gal,metered\n"),
		"bad setting":            day.with("day.yaml", "pad:\n  bays: true\n"),
		"day.yaml is no YAML":    day.with("day.yaml", "pad: [\n"),
	} {
		t.Run(name, func(t *testing.T) {
			assert.Len(t, tc.refuse(t).Errors, 1)
		})
	}
}

// Each folder of testdata/hostile has all kinds of mistakes in several files;
// its listing is pinned word by word.
func TestHostileFolders(t *testing.T) {
	for _, name := range []string{"cells", "files"} {
		t.Run(name, func(t *testing.T) {
			dir := filepath.Join("testdata", "hostile", name)
			_, err := dayfiles.Read(dir)
			var problems *dayfiles.Problems
			require.ErrorAs(t, err, &problems)
			var got strings.Builder
			for _, f := range problems.Errors {
				got.WriteString("error: " + f.String() + "\n")
			}
			for _, f := range problems.Warnings {
				got.WriteString("warning: " + f.String() + "\n")
			}
			golden := dir + ".golden"
			if *update {
				require.NoError(t, os.WriteFile(golden, []byte(got.String()), 0o644))
			}
			want, err := os.ReadFile(golden)
			require.NoError(t, err)
			assert.Equal(t, string(want), got.String())
		})
	}
}
