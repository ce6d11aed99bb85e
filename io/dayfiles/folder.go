package dayfiles

import (
	"errors"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"

	"padturn/io/table"
	"padturn/model"
)

// required are the files without which there is no day.
var required = []model.Table{
	model.JobsTable, model.MixesTable, model.RecipesTable, model.ProductsTable, model.SprayersTable,
}

// optional are the files that may be left out.
var optional = []model.Table{
	model.StockTable, model.DeliveriesTable, model.RulesTable, model.HoldsTable, model.ForecastTable, model.DayTable,
}

// progressFile belongs to a day folder too; only a replan reads it.
const progressFile = "progress.csv"

// fileName is what a table is called in the folder.
func fileName(t model.Table) string {
	if t == model.DayTable {
		return "day.yaml"
	}
	return string(t) + ".csv"
}

// listFolder notes which files there are and warns of those that look like a
// day's but have another name: a holds.csv that is called hold.csv would else
// be left out without a word.
func (r *reader) listFolder(entries []fs.DirEntry) {
	known := []string{progressFile}
	for _, t := range slices.Concat(required, optional) {
		known = append(known, fileName(t))
	}
	for _, e := range entries {
		name := e.Name()
		r.present = append(r.present, name)
		isOurs := slices.Contains([]string{".csv", ".yaml", ".yml"}, strings.ToLower(path.Ext(name)))
		if isOurs && !e.IsDir() && !slices.Contains(known, name) {
			r.found.Warn(table.Fault{File: name, Want: "unknown file, not read" + model.Suggest(name, known)})
		}
	}
}

// readFile returns the bytes of a table's file, or false where there are none
// to go on with; it reports what is wrong.
func (r *reader) readFile(t model.Table) ([]byte, bool) {
	name := fileName(t)
	data, err := readPlain(r.fsys, name)
	switch {
	case err == nil:
		return data, true
	case !errors.Is(err, fs.ErrNotExist):
		r.failFile(name, "cannot be read: "+cause(err))
	case slices.Contains(required, t):
		r.failFile(name, "the file is missing; every day needs it"+model.Suggest(name, r.present))
	}
	return nil, false
}

// failFile reports a file that cannot be read as a whole.
func (r *reader) failFile(name, want string) {
	r.unread = append(r.unread, name)
	r.found.Fail(table.Fault{File: name, Want: want})
}

var errNotPlain = errors.New("it is not a plain file")

// readPlain reads a file, and one byte too many of one that is too large. It
// does not open what is no file: a pipe would never end.
func readPlain(fsys fs.FS, name string) ([]byte, error) {
	info, err := fs.Stat(fsys, name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, errNotPlain
	}
	f, err := fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, table.MaxFileBytes+1))
}
