package tomorrow

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"padturn/io/dayfiles"
	"padturn/io/table"
	"padturn/model"
)

// copied are the files that the next day's folder takes as they are.
var copied = []string{"mixes.csv", "recipes.csv", "products.csv", "rules.csv"}

// Files are the files of the next day's folder, after that of the folder dir:
// what does not change stays to the letter, and so do the comments of day.yaml.
// Its error is a file that cannot be read.
func Files(dir string, next model.Input) (map[string][]byte, error) {
	files := map[string][]byte{}
	for _, name := range append(slices.Clone(copied), settingsFile) {
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err == nil {
			files[name] = data
		} else if !os.IsNotExist(err) {
			return nil, err
		}
	}
	settings, err := printSettings(files[settingsFile], &next.Settings)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", settingsFile, err)
	}
	files[settingsFile] = settings
	for _, s := range dayfiles.Print(next) {
		switch model.Table(s.Name) {
		case model.JobsTable, model.SprayersTable, model.StockTable:
			files[s.Name+".csv"] = printRows(s)
		case model.DeliveriesTable, model.HoldsTable, model.ForecastTable:
			if len(s.Rows) > 0 {
				files[s.Name+".csv"] = printRows(s)
			}
		}
	}
	return files, nil
}

// printRows writes a sheet as a CSV file. Words for people are guarded; names
// never begin like a formula, and numbers may.
func printRows(s dayfiles.Sheet) []byte {
	header := make([]string, len(s.Columns))
	for i, c := range s.Columns {
		header[i] = c.Name
		if c.Name == "note" || c.Name == "reason" {
			for _, row := range s.Rows {
				row[i] = table.Safe(row[i])
			}
		}
	}
	return table.CSV(strings.Join(header, ","), s.Rows)
}
