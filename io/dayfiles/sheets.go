package dayfiles

import (
	"regexp"
	"slices"
	"strings"

	"padturn/io/table"
	"padturn/model"
)

// Sheets is a day as a workbook has it: a sheet for every file of a day folder,
// named like the file without its extension, and sheets for the lists of
// day.yaml.
type Sheets struct {
	File string // what the workbook is called in messages
	// Grids are the sheets in their order; one that holds nothing has no
	// header.
	Grids []*table.Grid
	// Unread names sheets that could not be read. Why is in Found.
	Unread []string
	Found  table.Findings // what is wrong or odd so far
}

// ReadSheets reads the day of a workbook's sheets. Its error is always
// [*Problems].
func ReadSheets(s Sheets) (*Day, error) {
	from := &workbook{file: s.File, grids: map[string]*table.Grid{}}
	for _, name := range s.Unread {
		from.unread = append(from.unread, sheetKey(name))
	}
	for _, g := range s.Grids {
		from.add(g, &s.Found)
	}
	return readDay(from, s.Found)
}

// forPeople are sheets that a day may have beside its own and that are not
// read.
var forPeople = []string{"readme", "notes"}

// DaySheets lists the sheets that are read, in the order of work: what changes
// daily comes first.
func DaySheets() []string {
	return []string{
		"jobs", "mixes", "recipes", "products", "stock", "deliveries", "sprayers", "rules", "holds", "forecast",
		"day", baysSheet, rinseSheet, cleanoutSheet,
	}
}

// workbook is a day as the sheets of one file.
type workbook struct {
	file   string
	names  []string // of its sheets, as they are written
	grids  map[string]*table.Grid
	unread []string
}

// sheetKey is a sheet's name as names are compared: without regard to case and
// blanks around.
func sheetKey(name string) string { return strings.ToLower(strings.TrimSpace(name)) }

func (w *workbook) add(g *table.Grid, found *table.Findings) {
	key := sheetKey(g.Sheet)
	if first := w.grids[key]; first != nil {
		found.Fail(table.Fault{File: w.file, Sheet: g.Sheet, Want: "the sheet stands twice, first as " + first.Sheet})
		return
	}
	w.names = append(w.names, g.Sheet)
	w.grids[key] = g
}

func (w *workbook) at(t model.Table) table.Fault {
	return table.Fault{File: w.file, Sheet: string(t)}
}

var fileInWords = regexp.MustCompile(`\b([a-z]+)\.(?:csv|yaml)\b`)

// inWords calls the files of a day by the names of their sheets.
func (w *workbook) inWords(want string) string {
	return fileInWords.ReplaceAllString(want, "sheet $1")
}

func (w *workbook) look(found *table.Findings) {
	known := append(DaySheets(), strings.TrimSuffix(progressFile, ".csv"))
	for _, name := range w.names {
		if key := sheetKey(name); !slices.Contains(known, key) && !slices.Contains(forPeople, key) {
			found.Warn(table.Fault{File: w.file, Sheet: name, Want: "unknown sheet, not read" + model.Suggest(key, known)})
		}
	}
}

func (w *workbook) grid(t model.Table, found *table.Findings) (*table.Grid, bool) {
	return w.sheet(string(t), slices.Contains(required, t), found)
}

// sheet returns a sheet that holds something. Whoever empties a sheet that may
// be left out has left it out.
func (w *workbook) sheet(name string, needed bool, found *table.Findings) (*table.Grid, bool) {
	if slices.Contains(w.unread, name) {
		return nil, false
	}
	g := w.grids[name]
	if g != nil && len(g.Header.Cells) > 0 {
		return g, true
	}
	if !needed {
		return nil, true
	}
	fault := table.Fault{File: w.file, Sheet: name, Want: "the sheet is missing; every day needs it" + model.Suggest(name, w.names)}
	if g != nil {
		fault.Want = "is empty; the first row must name the columns"
	}
	found.Fail(fault)
	return nil, false
}
