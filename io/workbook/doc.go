// Package workbook reads and writes workbooks in the format of ECMA-376
// (.xlsx): a day as one file with a sheet for every table, and a plan for a
// dispatcher who lives in a spreadsheet.
//
// In: what a workbook's cells hold (numbers, times, formulas, merged cells) as
// the text that a CSV would have, styles, validation lists, charts and the
// layout of sheets.
//
// Not in: which columns a day has and what may stand in them (io/dayfiles, by
// whose checks every cell goes), and what a plan says (io/planfile).
package workbook
