package dayfiles

import (
	"errors"
	"fmt"
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

// folder is a day as files of their own.
type folder struct {
	fsys    fs.FS
	present []string // the names in it
}

func (f *folder) at(t model.Table) table.Fault { return table.Fault{File: fileName(t)} }

// inWords leaves the model's words alone: they name the files.
func (f *folder) inWords(want string) string { return want }

// look warns of files that look like a day's but have another name: a
// holds.csv that is called hold.csv would else be left out without a word.
func (f *folder) look(found *table.Findings) {
	known := []string{progressFile}
	for _, t := range slices.Concat(required, optional) {
		known = append(known, fileName(t))
	}
	for _, name := range f.present {
		isOurs := slices.Contains([]string{".csv", ".yaml", ".yml"}, strings.ToLower(path.Ext(name)))
		if isOurs && !slices.Contains(known, name) && !f.isFolder(name) {
			found.Warn(table.Fault{File: name, Want: "unknown file, not read" + suggestFile(name, known)})
		}
	}
}

// suggestFile offers the nearest of some files, as [model.Suggest] does. Ends of names
// do not count: they would make any two names alike.
func suggestFile(name string, files []string) string {
	stems := make([]string, len(files))
	for i, f := range files {
		stems[i] = stem(f)
	}
	near := model.Nearest(stem(name), stems)
	best := slices.IndexFunc(stems, func(s string) bool {
		begins := near == "" && len(s) >= len("mix") && strings.HasPrefix(stem(name), s)
		return s == near && s != "" || begins
	})
	if best < 0 {
		return ""
	}
	return fmt.Sprintf("; did you mean %q?", files[best])
}

func stem(file string) string { return strings.ToLower(strings.TrimSuffix(file, path.Ext(file))) }

func (f *folder) isFolder(name string) bool {
	info, err := fs.Stat(f.fsys, name)
	return err == nil && info.IsDir()
}

func (f *folder) grid(t model.Table, found *table.Findings) (*table.Grid, bool) {
	data, there, ok := f.read(t, found)
	if !ok || !there {
		return nil, ok
	}
	g := table.ReadCSV(fileName(t), data, found)
	return g, g != nil
}

func (f *folder) settings(found *table.Findings) (*settingsTree, bool) {
	data, there, ok := f.read(model.DayTable, found)
	if !ok {
		return nil, false
	}
	y := newSettingsTree(f.at(model.DayTable), found)
	if !there {
		y.warn("there is no such file; all settings are the defaults")
		return y, true
	}
	return y, y.parse(data)
}

// read returns the bytes of a table's file. It reports what is wrong; then, and
// only then, ok is false.
func (f *folder) read(t model.Table, found *table.Findings) (data []byte, there, ok bool) {
	name := fileName(t)
	data, err := readPlain(f.fsys, name)
	switch {
	case err == nil:
		return data, true, true
	case !errors.Is(err, fs.ErrNotExist):
		found.Fail(table.Fault{File: name, Want: "cannot be read: " + cause(err)})
		return nil, true, false
	case slices.Contains(required, t):
		found.Fail(table.Fault{File: name, Want: "the file is missing; every day needs it" + suggestFile(name, f.present)})
		return nil, false, false
	}
	return nil, false, true
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
