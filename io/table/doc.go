// Package table turns the bytes of a table into rows of named cells, each of
// which knows where in the file it stands, and reads the values that cells
// hold: exact decimals, times of day, yes and no, names. It also writes rows as
// CSV ([CSV]), so that every file is written alike.
//
// In: encodings, separators, quoting, matching of headers, the size and the
// characters of a cell, and the syntax of one value. A [Grid] is made by
// [ReadCSV]; any other reader of rows (a workbook's) can make one too, and all
// that follows is the same.
//
// Not in: which tables there are, what a column means, and whether the values
// of several cells fit together.
package table
