// Package dayfiles reads a day: the tables that say what is to be sprayed, with
// what and by whom, and the settings of the pad. They stand in a folder of CSV
// files and day.yaml ([Read]) or are the sheets of a workbook ([ReadSheets]). It
// also prints a day as such sheets ([Print]).
//
// In: which files and columns there are, the syntax of every value, and the
// place in the files of everything that is found wrong, by this package or by
// the model. All of it is told at once. And the way back, for days that were made
// in memory.
//
// Not in: how a table's bytes become cells (io/table), what values mean and
// whether they fit together (model), and the writing of plans.
package dayfiles
