package workbook

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"
)

// checkExtents refuses a workbook with a sheet that is laid out far beyond what
// it holds, as when a format was given to all of a million rows: the library
// makes a cell of every place left of the last one in a row, also where there
// are only formats.
func checkExtents(f *excelize.File) error {
	var err error
	f.Pkg.Range(func(name, data any) bool {
		part, isBytes := data.([]byte)
		if isBytes && strings.HasPrefix(name.(string), "xl/worksheets/sheet") && cellsOf(part) > maxCells {
			err = fmt.Errorf("has a sheet laid out over more than %d cells; delete the empty rows and columns behind the tables", maxCells)
		}
		return err == nil
	})
	return err
}

// cellsOf counts the cells that a sheet takes in memory, and gives up where it
// is clear that they are too many.
func cellsOf(sheet []byte) int {
	decoder := xml.NewDecoder(bytes.NewReader(sheet))
	cells, widest := 0, 0
	for cells+widest <= maxCells {
		token, err := decoder.RawToken()
		if err != nil {
			break // a damaged part is told by whoever reads it
		}
		element, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		switch element.Name.Local {
		case "row":
			cells, widest = cells+widest+1, 0
		case "c":
			widest = max(widest+1, columnOf(element))
		}
	}
	return cells + widest
}

// columnOf is the column of a cell element, or 0 where it does not say.
func columnOf(cell xml.StartElement) int {
	for _, a := range cell.Attr {
		if a.Name.Local == "r" {
			column, _, _ := excelize.CellNameToCoordinates(a.Value)
			return column
		}
	}
	return 0
}
