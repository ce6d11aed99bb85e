package workbook

import (
	"fmt"

	"github.com/xuri/excelize/v2"
)

// area is a block of merged cells: only the first holds a value, and the rest
// would read as blank, which for a sprayer means any of them.
type area struct {
	name                     string // such as B2:B4
	left, top, right, bottom int
}

func mergedAreas(f *excelize.File, sheet string) ([]area, error) {
	merged, err := f.GetMergeCells(sheet, true)
	if err != nil {
		return nil, err
	}
	areas := make([]area, len(merged))
	for i, m := range merged {
		a := area{name: fmt.Sprintf("%s:%s", m.GetStartAxis(), m.GetEndAxis())}
		if a.left, a.top, err = excelize.CellNameToCoordinates(m.GetStartAxis()); err != nil {
			return nil, err
		}
		if a.right, a.bottom, err = excelize.CellNameToCoordinates(m.GetEndAxis()); err != nil {
			return nil, err
		}
		areas[i] = a
	}
	return areas, nil
}

// mergedOver returns the name of the area that covers a cell other than as its
// first, or nothing.
func mergedOver(areas []area, column, row int) string {
	for _, a := range areas {
		isFirst := column == a.left && row == a.top
		if !isFirst && column >= a.left && column <= a.right && row >= a.top && row <= a.bottom {
			return a.name
		}
	}
	return ""
}
