package terminal

import (
	"fmt"
	"strconv"
	"strings"

	"padturn/io/planfile"
)

func (p *page) summary() {
	p.heading(p.title())
	decide, others := p.decisions()
	p.list("DECIDE NOW", decide)
	p.line("")
	p.figures("this plan", p.doc.Totals, "first come", p.doc.Baseline)
	p.heading("Cost")
	p.cost()
	p.line("")
	p.paragraph(p.saving())
	p.paragraph(strings.Join(p.doc.HowGood(), " "))
	p.unsprayed()
	p.late()
	p.filledEarly()
	p.lowStock()
	p.list("Warnings", others)
}

// decisions parts what somebody must decide from the other warnings of a plan.
func (p *page) decisions() (decide, others []string) {
	for _, w := range p.doc.Warnings {
		if words, ok := strings.CutPrefix(w, decideMark); ok {
			decide = append(decide, words)
		} else {
			others = append(others, w)
		}
	}
	return decide, others
}

func (p *page) title() string {
	t := p.doc.Totals
	title := p.doc.Title() + fmt.Sprintf(": %s, %s %s", count(t.Loads, "load", "loads"), p.units.area(t.Acres), p.units.areaUnit())
	if t.LeftAcres > 0 {
		title += fmt.Sprintf("; %s %s NOT SPRAYED", p.units.area(t.LeftAcres), p.units.areaUnit())
	}
	return title
}

// figures sets two plans side by side under their names.
func (p *page) figures(nameA string, a planfile.Totals, nameB string, b planfile.Totals) {
	row := func(label string, figure func(planfile.Totals) string) []string {
		return []string{label, figure(a), figure(b)}
	}
	whole := func(figure func(planfile.Totals) int) func(planfile.Totals) string {
		return func(t planfile.Totals) string { return strconv.Itoa(figure(t)) }
	}
	rows := [][]string{
		row("loads", whole(func(t planfile.Totals) int { return t.Loads })),
		row(p.units.areaUnit()+" sprayed", func(t planfile.Totals) string { return p.units.area(t.Acres) }),
		row(p.units.areaUnit()+" not sprayed", func(t planfile.Totals) string { return p.units.area(t.LeftAcres) }),
		row("rinses", whole(func(t planfile.Totals) int { return t.Rinses })),
		row("cleanouts", whole(func(t planfile.Totals) int { return t.Cleanouts })),
		row("changeovers", whole(func(t planfile.Totals) int { return t.Changeovers })),
		row("waiting, h:mm", func(t planfile.Totals) string { return hours(t.WaitS) }),
		row("held at the pad, h:mm", func(t planfile.Totals) string { return hours(t.HeldS) }),
		row("paused in the field, h:mm", func(t planfile.Totals) string { return hours(t.PauseS) }),
	}
	for _, s := range p.doc.Sprayers {
		rows = append(rows, row(s.Sprayer+" back", func(t planfile.Totals) string { return finish(t, s.Sprayer) }))
	}
	p.table([]column{{title: "", clip: true}, {title: nameA, right: true}, {title: nameB, right: true}}, rows, nil)
}

func finish(t planfile.Totals, sprayer string) string {
	for _, f := range t.Finish {
		if f.Sprayer == sprayer {
			return hhmm(f.BackAt)
		}
	}
	return "no load"
}

// cost lists the parts that cost anything in either plan. The files have the
// same parts in the same order in both.
func (p *page) cost() {
	mine, first := p.doc.Totals.Cost, p.doc.Baseline.Cost
	var rows [][]string
	for i := range min(len(mine.Parts), len(first.Parts)) {
		a, b := mine.Parts[i], first.Parts[i]
		if a.Dollars == 0 && b.Dollars == 0 {
			continue
		}
		rows = append(rows, []string{planfile.CostLabel(a.Part), p.costAmount(a), dollars(a.Dollars), dollars(b.Dollars)})
	}
	p.table(
		[]column{{title: "", clip: true}, {title: "amount", right: true}, {title: "this plan", right: true}, {title: "first come", right: true}},
		rows, []string{"total", "", dollars(mine.Dollars), dollars(first.Dollars)})
}

func (p *page) costAmount(part planfile.CostPart) string {
	switch part.Unit {
	case "h":
		return part.Amount.Fixed(2) + " h"
	case "gal":
		return p.units.volume(part.Amount) + " " + p.units.volumeUnit()
	case "count":
		return part.Amount.Fixed(0)
	}
	return ""
}

// saving compares the costs where both plans leave the same undone; else the
// costs are of different work and say nothing.
func (p *page) saving() string {
	mine, first := p.doc.Totals, p.doc.Baseline
	if mine.LeftWeight < first.LeftWeight && mine.LeftAcres < first.LeftAcres && mine.Cost.Dollars < first.Cost.Dollars {
		return fmt.Sprintf("It sprays %s %s more than first come, first served, and costs %s (%s) less.",
			p.units.area(first.LeftAcres-mine.LeftAcres), p.units.areaUnit(),
			dollars(first.Cost.Dollars-mine.Cost.Dollars), percent(first.Cost.Dollars-mine.Cost.Dollars, first.Cost.Dollars))
	}
	if mine.LeftWeight != first.LeftWeight {
		than := "more"
		if mine.LeftWeight < first.LeftWeight {
			than = "less"
		}
		return fmt.Sprintf("It leaves %s undone than first come, first served (%s %s against %s %s), so the two costs are not for the same work.",
			than, p.units.area(mine.LeftAcres), p.units.areaUnit(), p.units.area(first.LeftAcres), p.units.areaUnit())
	}
	diff := first.Cost.Dollars - mine.Cost.Dollars
	switch {
	case diff > 0:
		return fmt.Sprintf("It saves %s (%s) against first come, first served.", dollars(diff), percent(diff, first.Cost.Dollars))
	case diff < 0:
		return fmt.Sprintf("It costs %s (%s) more than first come, first served.", dollars(-diff), percent(-diff, first.Cost.Dollars))
	}
	return "It costs the same as first come, first served."
}
