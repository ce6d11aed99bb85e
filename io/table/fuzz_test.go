package table_test

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"padturn/io/table"
)

// FuzzTable reads any bytes as a table. What is accepted must read the same
// again when it is written in plain CSV, and every number in it must print as
// the number that was written.
func FuzzTable(f *testing.F) {
	for _, seed := range []string{
		"", "name,acres\na,1.5\n", "name;acres\r\n\"a\r\nb\";\"1,200\"\r\n", "\uFEFFname\tacres\n\t-0.10\n",
		"name,acres\n\"a\"\"b\",NaN\n\n , \nx", "name,\"acres\na,1", "\xff\xfen\x00", "na\xefve,acres\n\x81,0.000000001\n",
		"name,name,\n1,2,3\n", "\"\"\n\"\"\n", "a,b\n\x00,1\n", "name,acres\n=1+1,007\n", "\r\n\r\nname\r\n\r",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var found table.Findings
		g := table.ReadCSV("x.csv", data, &found)
		if g == nil {
			if len(found.Errors) == 0 {
				t.Fatal("refused without a reason")
			}
			return
		}
		table.Match[text](g, &found)
		for _, fault := range append(found.Errors, found.Warnings...) {
			if fault.Want == "" || len(fault.String()) > 20_000 {
				t.Fatalf("a message without words, or too many: %q", fault)
			}
		}
		checkNumbers(t, g)
		if len(found.Errors) == 0 {
			checkRereads(t, g)
		}
	})
}

// checkNumbers compares the number in each cell with the digits written.
func checkNumbers(t *testing.T, g *table.Grid) {
	for _, row := range g.Rows {
		for _, c := range row.Cells {
			d, err := table.ParseDecimal(c.Text)
			if err != nil {
				continue
			}
			if want := canonical(c.Text); d.String() != want {
				t.Fatalf("%q was read as %s", c.Text, d)
			}
		}
	}
}

// canonical strips what does not change a plain number: zeros at the end and
// the minus of zero.
func canonical(text string) string {
	if strings.Contains(text, ".") {
		text = strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}

func checkRereads(t *testing.T, g *table.Grid) {
	var plain bytes.Buffer
	w := csv.NewWriter(&plain)
	first := gridText(g)
	if len(first[0]) == 1 {
		return // the separator of a single column is anyone's guess
	}
	if err := w.WriteAll(first); err != nil {
		t.Fatal(err)
	}
	var found table.Findings
	again := table.ReadCSV("x.csv", plain.Bytes(), &found)
	if again == nil || len(found.Errors) > 0 {
		t.Fatalf("accepted, but not when written again: %v\n%q", found.Errors, plain.String())
	}
	for i, row := range gridText(again) {
		for j, text := range row {
			if text != first[i][j] {
				t.Fatalf("%q reads as %q when written again", first[i][j], text)
			}
		}
	}
}
