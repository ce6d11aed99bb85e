package closing

import (
	"slices"
	"strconv"
	"strings"

	"padturn/io/table"
	"padturn/model"
	"padturn/model/standing"
)

// FillIn stands in a record where a person has to write what padturn can't
// know.
const FillIn = "FILL IN"

// recordHeader has the elements of 7 CFR 110.3(a) (product, registration
// number, total amount, location, size treated, crop or site, date, applicator
// and certification number) and those that 40 CFR 171.303(b)(7) adds for
// commercial applicators (customer with address, start time, noncertified
// applicators, amount at each location). States ask for more.
const recordHeader = "date,start_time,end_time,customer,customer_address,location,lat,lon,size_ac,crop_or_site," +
	"product,epa_reg_no,restricted,total_amount,unit,certified_applicator,certification_no,noncertified_applicators," +
	"job,mix,sprayers,loads,basis"

// recordsCSV has a row for each product on each job.
func recordsCSV(s *standing.Standing, all bool) []byte {
	var rows [][]string
	for _, a := range s.Applications() {
		i := slices.IndexFunc(s.Problem.Products, func(p model.Product) bool { return p.Name == a.Product })
		if p := &s.Problem.Products[i]; p.Restricted || all && p.EPARegNo != "" {
			rows = append(rows, record(s, &a, p))
		}
	}
	return table.CSV(recordHeader, rows)
}

// record is one row. What a person has to write is marked, and so is a figure
// that nobody reported.
func record(s *standing.Standing, a *standing.Applied, p *model.Product) []string {
	job := &s.Problem.Jobs[slices.IndexFunc(s.Problem.Jobs, func(j model.Job) bool { return j.Name == a.Job })]
	basis := "reported"
	switch {
	case a.GivenUp:
		basis = "a load was given up: check amount and acres"
	case a.Presumed:
		basis = "presumed as planned: check"
	}
	return []string{
		orFillIn(s.Day.Settings.Date), a.From.HHMM(), a.To.HHMM(), orFillIn(job.Customer), FillIn, table.Safe(job.Field), degrees(job.Lat), degrees(job.Lon),
		a.Acres.Fixed(places), orFillIn(job.Crop),
		table.Safe(p.Name), orFillIn(p.EPARegNo), table.YesNo(p.Restricted), a.Amount.Fixed(places), p.Unit.Name, FillIn, FillIn, FillIn,
		table.Safe(a.Job), table.Safe(a.Mix), table.Safe(strings.Join(a.Sprayers, ";")), table.Safe(strings.Join(a.Loads, ";")), basis,
	}
}

func orFillIn(text string) string {
	if text == "" {
		return FillIn
	}
	return table.Safe(text)
}

func degrees(x *float64) string {
	if x == nil {
		return ""
	}
	return strconv.FormatFloat(*x, 'f', -1, 64)
}
