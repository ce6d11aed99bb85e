package closing

import (
	"math/big"

	"padturn/io/table"
	"padturn/model"
	"padturn/model/standing"
)

// The names of the sheets.
const (
	UseFile        = "use.csv"
	ContainersFile = "containers.csv"
	ReorderFile    = "reorder.csv"
	RecordsFile    = "records.csv"
)

// Sheets makes the sheets of a day. A product whose real use is off the
// projected by more than tolerance per cent is flagged. Records are of the
// restricted products, or, with all, of every one that has a registration
// number.
func Sheets(s *standing.Standing, tolerance model.Decimal, all bool) map[string][]byte {
	uses := s.Uses()
	return map[string][]byte{
		UseFile:        useCSV(uses, tolerance),
		ContainersFile: containersCSV(uses),
		ReorderFile:    reorderCSV(uses),
		RecordsFile:    recordsCSV(s, all),
	}
}

// Off is by how many per cent real use is off the projected; false where there
// is nothing to compare with.
func Off(u *standing.Use) (percent model.Decimal, known bool) {
	if u.Projected == 0 {
		return 0, false
	}
	off := new(big.Rat).SetFrac64(int64(u.Real-u.Projected), int64(u.Projected))
	return model.RoundRat(off.Mul(off, big.NewRat(100, 1))), true
}

// IsOff says whether a product's use has to be looked into.
func IsOff(u *standing.Use, tolerance model.Decimal) bool {
	percent, known := Off(u)
	if !known {
		return u.Real > model.One/1000 || u.Real < -model.One/1000
	}
	return percent > tolerance || percent < -tolerance
}

const places = 4

func useCSV(uses []standing.Use, tolerance model.Decimal) []byte {
	var rows [][]string
	for i := range uses {
		u := &uses[i]
		percent, known := Off(u)
		rows = append(rows, []string{
			table.Safe(u.Product), u.Unit, u.Opening.Fixed(places), u.Delivered.Fixed(places), u.Closing.Fixed(places),
			u.Projected.Fixed(places), u.Real.Fixed(places), (u.Real - u.Projected).Fixed(places),
			orBlank(percent.Fixed(2), known), table.YesNo(IsOff(u, tolerance)), basis(u),
		})
	}
	return table.CSV("product,unit,opening,delivered,closing,projected,real,difference,percent,look_into,basis", rows)
}

// basis is what the real figure goes by.
func basis(u *standing.Use) string {
	if u.Known {
		return "counted or metered"
	}
	return "as planned; nobody counted"
}

func containersCSV(uses []standing.Use) []byte {
	var rows [][]string
	for _, u := range uses {
		if u.Emptied > 0 {
			rows = append(rows, []string{table.Safe(u.Product), u.Container, u.Emptied.String()})
		}
	}
	return table.CSV("product,container,emptied", rows)
}

// reorderCSV lists what is below its reorder level or does not do for the acres
// that are left.
func reorderCSV(uses []standing.Use) []byte {
	var rows [][]string
	for i := range uses {
		u := &uses[i]
		if why := Reorder(u); why != "" {
			level := ""
			if u.ReorderAt != nil {
				level = u.ReorderAt.Fixed(places)
			}
			rows = append(rows, []string{
				table.Safe(u.Product), u.Unit, u.Closing.Fixed(places), level, u.LeftOver.Fixed(places),
				max(u.LeftOver-u.Closing, 0).Fixed(places), why,
			})
		}
	}
	return table.CSV("product,unit,closing,reorder_at,leftover_needs,short,why", rows)
}

// Reorder says why a product has to be ordered, or nothing.
func Reorder(u *standing.Use) string {
	switch {
	case u.LeftOver > u.Closing:
		return "the acres left need more"
	case u.ReorderAt != nil && u.Closing < *u.ReorderAt:
		return "below its reorder level"
	}
	return ""
}

func orBlank(text string, there bool) string {
	if !there {
		return ""
	}
	return text
}
