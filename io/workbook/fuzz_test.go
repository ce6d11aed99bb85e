package workbook_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/require"

	"padturn/io/dayfiles"
	"padturn/io/workbook"
)

// FuzzSheet reads any bytes as a sheet, as the styles and as the texts of a good
// workbook. A day that is accepted must say the same when it is written as a
// workbook and read again; one that is refused must say why.
func FuzzSheet(f *testing.F) {
	parts := unzipped(f, made(f, smallSheets()))
	sheet, styles, texts := parts[jobsPart], parts["xl/styles.xml"], parts["xl/sharedStrings.xml"]
	f.Add(sheet, styles, texts)
	for _, bad := range []string{
		"", "<worksheet", "<worksheet/>", `<worksheet><sheetData><row r="1048577"><c r="A1"/></row></sheetData></worksheet>`,
		`<worksheet><sheetData><row r="2"><c r="ZZZZ9" s="9999" t="s"><v>-1</v></c><c t="e"><v>#N/A</v></c></row></sheetData></worksheet>`,
		`<worksheet><sheetData><row r="5"><c r="A5"><f>A5</f></c></row><row r="1"><c r="A1" t="inlineStr"><is><t>job</t></is></c></row></sheetData><mergeCells><mergeCell ref="A1:XFD9"/><mergeCell ref="B"/></mergeCells></worksheet>`,
		`<worksheet><sheetData><row><c t="n"><v>1e999</v></c><c t="b"><v>2</v></c><c t="d"><v>2026-05-04T06:30:00</v></c><c><f t="shared" si="7"/></c></row></sheetData></worksheet>`,
	} {
		f.Add([]byte(bad), styles, texts)
	}
	f.Add(sheet, []byte(`<styleSheet><numFmts><numFmt numFmtId="200" formatCode="[h]:mm;@;%&quot;"/></numFmts><cellXfs><xf numFmtId="200" fillId="7" applyFill="1"/></cellXfs></styleSheet>`), []byte("<sst/>"))
	f.Fuzz(func(t *testing.T, sheet, styles, texts []byte) {
		parts[jobsPart], parts["xl/styles.xml"], parts["xl/sharedStrings.xml"] = sheet, styles, texts
		day, err := workbook.ReadBytes("day.xlsx", zipped(t, parts))
		if err != nil {
			var problems *dayfiles.Problems
			require.True(t, errors.As(err, &problems))
			require.NotEmpty(t, problems.Errors)
			for _, fault := range problems.Errors {
				require.NotEmpty(t, fault.Want)
			}
			return
		}
		checkReadsBack(t, day.Input)
	})
}
