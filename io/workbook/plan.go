package workbook

import (
	"strconv"

	"github.com/xuri/excelize/v2"

	"padturn/io/handout"
	"padturn/io/planfile"
	"padturn/model"
)

// The sheets of a plan's workbook, in their order.
const (
	orderSheet   = "Load order"
	amountsSheet = "Amounts"
	stockSheet   = "Stock"
	sprayerSheet = "Sprayers"
	summarySheet = "Summary"
	eventsSheet  = "Stock events"
	curvesSheet  = "Stock curves"
)

// planMark is the category of a plan's workbook, by which it is known again.
const planMark = "padturn plan"

// plan carries a plan on its way into a workbook.
type plan struct {
	*book
	doc     *planfile.Document
	handout *handout.Handout
}

// Plan writes a plan as a workbook. Numbers are those of the plan's CSV files,
// times are times, and what is measured out is as on the crew's sheets.
func Plan(doc *planfile.Document) ([]byte, error) {
	h, err := handout.Of(doc)
	if err != nil {
		return nil, err
	}
	p := plan{newBook(), doc, h}
	p.do(func() error {
		return p.file.SetDocProps(&excelize.DocProperties{
			Category: planMark, Creator: "padturn", Title: p.doc.Title(), Subject: "revision " + h.Revision,
		})
	})
	p.loadOrder()
	p.amounts()
	p.stock()
	p.sprayers()
	p.summary()
	p.stockEvents()
	p.stockCurves()
	return p.bytes()
}

// IsPlan says whether a file is a workbook that Plan wrote. A day's workbook,
// which somebody filled in, is not.
func IsPlan(path string) bool {
	data, err := load(path)
	if err != nil {
		return false
	}
	f, err := open(data)
	if err != nil {
		return false
	}
	defer f.Close()
	props, err := f.GetDocProps()
	return err == nil && props.Category == planMark
}

// quantityPlaces is how many decimals the CSV files have.
const quantityPlaces = 4

// number is a quantity as the CSV files have it.
func number(n planfile.Number) float64 { return rounded(n, quantityPlaces) }

// dollars are whole cents: nobody sums a workbook to the micro-dollar.
func dollars(n planfile.Number) float64 { return rounded(n, 2) }

func rounded(n planfile.Number, places int) float64 {
	value, err := strconv.ParseFloat(n.Fixed(places), 64)
	if err != nil {
		panic("workbook: " + err.Error()) // Fixed writes plain digits
	}
	return value
}

// clock is a moment as a part of the day, which cells hold times as.
func clock(t planfile.Time) float64 { return days(int64(t)) }

func days(seconds int64) float64 { return float64(seconds) / (24 * 3600) }

// clockOrNone is blank for a moment that never comes.
func clockOrNone(t *planfile.Time) any {
	if t == nil {
		return nil
	}
	return clock(*t)
}

func numberOrNone(n *planfile.Number) any {
	if n == nil {
		return nil
	}
	return number(*n)
}

// area is acres in what the day is printed in.
func (p plan) area(acres planfile.Number) float64 {
	from, known := model.FindUnit("ac")
	to, alsoKnown := model.FindUnit(p.areaUnit())
	if !known || !alsoKnown {
		return number(acres)
	}
	exact := model.Decimal(acres).Rat()
	return number(planfile.Number(model.RoundRat(exact.Mul(exact, from.Per(to)))))
}

func (p plan) areaUnit() string {
	if p.handout.Metric {
		return "ha"
	}
	return "ac"
}

// text is a text cell, blank where there is none.
func text(s string) any {
	if s == "" {
		return nil
	}
	return s
}

// amountFormat shows an amount to its last digit, which is a step of its
// scale.
func amountFormat(places int) string {
	if places == 0 {
		return "#,##0"
	}
	return "#,##0." + "0000000000"[:min(places, 10)]
}

// amount is an amount of the handout as a number.
func amount(a handout.Amount) float64 {
	value, _ := a.Exact().Float64()
	return value
}

// unit is a stock unit as it is written for people.
func unit(u string) string {
	if u == "floz" {
		return "fl oz"
	}
	return u
}

// minutes are as in loads.csv.
func minutes(seconds int64) float64 {
	return number(planfile.Number(seconds * int64(model.One) / 60))
}
