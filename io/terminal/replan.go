package terminal

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"padturn/io/planfile"
)

// Attention is what a person must know of when a day is planned anew: sentences
// by what has to be done about them.
type Attention struct {
	Decide  []string // about filled tanks, by somebody who reads the labels
	Waiting []string // filled sprayers that wait out a hold
	Check   []string // fields that rain came onto too soon
	Odd     []string // reports that do not fit together
	Later   []string // reports that were left out, as they are of later than the replan
}

// decideMark begins a plan's warning of a tank to be decided about.
const decideMark = "decide now: "

// Warnings are the same as a plan's file has them; what was left out is no part of
// the plan.
func (a *Attention) Warnings() []string {
	var list []string
	for _, part := range []struct {
		mark      string
		sentences []string
	}{{decideMark, a.Decide}, {"waits: ", a.Waiting}, {"check efficacy: ", a.Check}, {"reported oddly: ", a.Odd}} {
		for _, s := range part.sentences {
			list = append(list, part.mark+s)
		}
	}
	return list
}

// Replan prints what a plan made in the course of a day changes: first what
// somebody must decide, then what to tell each sprayer (a text each, with a line
// for each fill), then what to look at and what the day comes to. Width and error
// are as for [Summary].
func Replan(w io.Writer, d *planfile.Document, radio []string, a *Attention, width int) error {
	p := newPage(d, width)
	p.heading(fmt.Sprintf("Replan %d at %s: %d of %s had begun", d.Replan.Number, hhmm(d.Replan.At),
		len(d.Replan.Begun), count(d.Totals.Loads, "load", "loads")))
	p.list("Left out, as it happened later", a.Later)
	p.list("DECIDE NOW", a.Decide)
	p.heading("To tell")
	if len(radio) == 0 {
		p.paragraph("Nothing that the crew was told changes.")
	}
	for _, said := range radio {
		for i, line := range strings.Split(said, "\n") {
			if i == 0 {
				p.item("", line)
			} else {
				p.item("  ", strings.TrimSpace(line))
			}
		}
	}
	p.list("Waiting, filled", a.Waiting)
	p.list("Check efficacy", a.Check)
	p.list("Reported oddly", a.Odd)
	p.unsprayed()
	p.late()
	p.filledEarly()
	p.lowStock()
	own := a.Warnings()
	p.list("Warnings", slices.DeleteFunc(slices.Clone(d.Warnings), func(s string) bool { return slices.Contains(own, s) }))
	p.heading("Cost")
	p.paragraph(p.comesTo())
	if d.Replan.ChangeDollars > 0 {
		p.paragraph(fmt.Sprintf("Changing what was told weighs $%s, which nobody pays.", d.Replan.ChangeDollars.Fixed(2)))
	}
	return p.writeTo(w)
}

// comesTo sets the cost of the day beside that of first come, first served, and
// says where the two are not for the same work.
func (p *page) comesTo() string {
	mine, first := p.doc.Totals, p.doc.Baseline
	words := fmt.Sprintf("The day comes to $%s; first come, first served from here on to $%s",
		mine.Cost.Dollars.Fixed(2), first.Cost.Dollars.Fixed(2))
	if mine.LeftWeight == first.LeftWeight {
		return words + "."
	}
	return fmt.Sprintf("%s, but that leaves %s %s undone and this plan %s %s.", words,
		p.units.area(first.LeftAcres), p.units.areaUnit(), p.units.area(mine.LeftAcres), p.units.areaUnit())
}
