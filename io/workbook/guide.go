package workbook

import (
	_ "embed"
	"encoding/csv"
	"strings"
	"sync"

	"padturn/model"
)

// guide says what a person who fills in a day's workbook needs to know of a
// column, or of a setting.
type guide struct {
	kind    string // text, number, time or date
	choices string // words with semicolons between them, "=sheet.column", forms or orders
	about   string
}

//go:embed guide.csv
var guideCSV string

// guides returns the guide of every column and setting by "sheet name".
var guides = sync.OnceValue(func() map[string]guide {
	rows, err := csv.NewReader(strings.NewReader(guideCSV)).ReadAll()
	if err != nil {
		panic("workbook: guide.csv: " + err.Error())
	}
	all := map[string]guide{}
	for _, row := range rows[1:] {
		all[row[0]+" "+row[1]] = guide{row[2], row[3], row[4]}
	}
	return all
})

// words lists the choices that are words.
func (g guide) words() []string {
	switch {
	case g.choices == "" || strings.HasPrefix(g.choices, "="):
		return nil
	case g.choices == "forms":
		return model.FormulationCodes()
	case g.choices == "orders":
		return model.AddingOrderNames()
	}
	return strings.Split(g.choices, ";")
}

// format is the look of a cell of this kind.
func (g guide) format() string {
	switch g.kind {
	case "number":
		return asIs
	case "time":
		return asClock
	}
	return asText
}
