package terminal

import (
	"fmt"
	"io"
	"slices"

	"padturn/io/closing"
	"padturn/io/planfile"
	"padturn/model"
	"padturn/model/standing"
)

// Close prints what somebody has to look at when a day ends: use that is off by
// more than tolerance per cent, empties, what to order, tanks that are not
// sprayed out. Width and error are as for [Summary].
func Close(w io.Writer, s *standing.Standing, tolerance model.Decimal, width int) error {
	p := newPage(&planfile.Document{}, width)
	uses := s.Uses()
	p.heading("Use until " + s.At.HHMM() + ", against the recipes")
	p.use(uses, tolerance)
	var empty, order, open []string
	for i := range uses {
		u := &uses[i]
		if u.Emptied > 0 {
			n := int(u.Emptied / model.One)
			empty = append(empty, count(n, u.Container, u.Container+"s")+" of "+u.Product)
		}
		if why := closing.Reorder(u); why != "" {
			order = append(order, fmt.Sprintf("%s, %s %s left: %s", u.Product, u.Closing.Fixed(2), u.Unit, why))
		}
	}
	for i := range s.Loads {
		if l := &s.Loads[i]; l.InTank() {
			open = append(open, fmt.Sprintf("load %s, %s ac in the tank of %s", l.Told.ID, l.LeftAcres().Fixed(1), l.Told.Sprayer))
		}
	}
	p.list("Empty", empty)
	p.list("To order", order)
	p.list("Not finished", open)
	p.line("")
	if !slices.ContainsFunc(s.Problem.Products, func(p model.Product) bool { return p.Restricted }) {
		p.paragraph("No product is marked as restricted use, so records.csv has no rows but those that --all asks for.")
		return p.writeTo(w)
	}
	p.paragraph("Records of restricted-use products: fill in what is marked within 14 days and keep them two years (7 CFR 110.3); the state may ask for more, and sooner.")
	return p.writeTo(w)
}

// use is what was used of each product, against what the recipes ask for.
func (p *page) use(uses []standing.Use, tolerance model.Decimal) {
	var rows [][]string
	for i := range uses {
		u := &uses[i]
		if u.Projected == 0 && u.Real == 0 {
			continue
		}
		off, look := "-", ""
		if percent, known := closing.Off(u); known {
			off = percent.Fixed(1) + " %"
		}
		switch {
		case closing.IsOff(u, tolerance):
			look = "LOOK INTO IT"
		case !u.Known:
			look = "nobody counted"
		}
		rows = append(rows, []string{u.Product, u.Projected.Fixed(2), u.Real.Fixed(2), u.Unit, off, look})
	}
	p.table([]column{
		{title: "product", clip: true}, {title: "projected", right: true}, {title: "real", right: true}, {title: "unit"},
		{title: "off", right: true}, {title: ""},
	}, rows, nil)
}

// Carry prints what the next day begins with, and what a person must know of
// it. Width and error are as for [Summary].
func Carry(w io.Writer, newDay string, s *standing.Standing, notes []string, width int) error {
	p := newPage(&planfile.Document{}, width)
	var acres model.Decimal
	jobs := 0
	for _, j := range s.Jobs {
		if j.ToFill > 0 {
			acres, jobs = acres+j.ToFill, jobs+1
		}
	}
	p.line(fmt.Sprintf("%s: %s with %s ac left at %s", newDay, count(jobs, "job", "jobs"), acres.Fixed(1), s.At.HHMM()))
	for i := range s.Loads {
		if l := &s.Loads[i]; l.InTank() {
			notes = append(notes, fmt.Sprintf("load %s has %s ac left in the tank: taken as sprayed today, by %s",
				l.Told.ID, l.LeftAcres().Fixed(1), l.SprayedOut().HHMM()))
		}
	}
	for _, note := range notes {
		p.item("- ", note)
	}
	return p.writeTo(w)
}
