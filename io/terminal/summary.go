package terminal

import (
	"fmt"
	"math/big"
	"strconv"
	"strings"

	"padturn/io/planfile"
	"padturn/model"
)

func (p *page) summary() {
	p.heading(p.title())
	p.line("")
	p.figures("this plan", p.doc.Totals, "first come", p.doc.Baseline)
	p.heading("Cost")
	p.cost()
	p.line("")
	p.paragraph(p.saving())
	p.paragraph(p.howGood())
	p.unsprayed()
	p.late()
	p.lowStock()
	p.list("Warnings", p.doc.Warnings)
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

// weakGapPercent is from where on a bound says little.
const weakGapPercent = planfile.Number(50 * model.One)

// howGood says how far from the best possible the plan can be, and no more
// than is known.
func (p *page) howGood() string {
	s := p.doc.Search
	among := ""
	if s.KeepOrder {
		among = " among plans that keep each sprayer's jobs in file order"
	}
	if s.Status == string(model.StatusProved) {
		return fmt.Sprintf("Proved best possible under these inputs%s.%s", among, p.unavoidable())
	}
	var words []string
	if s.Status == string(model.StatusInterrupted) {
		words = append(words, "The search was stopped: this is the best plan found until then.")
	}
	switch {
	case p.doc.Totals.Cost.Dollars == 0:
		words = append(words, "It costs nothing, so no plan costs less.")
	case s.BoundDollars == 0:
		words = append(words, "How far it is from the best possible is not known: no useful lower bound was found.")
	case s.GapPercent > weakGapPercent:
		words = append(words, fmt.Sprintf("How far it is from the best possible%s is not known well: none costs less than %s, which is a weak bound.",
			among, dollars(s.BoundDollars)))
	default:
		words = append(words, fmt.Sprintf("It is at most %s %% (%s) above the best possible under these inputs%s.%s",
			p.aboveBound(), dollars(s.GapDollars), among, p.unavoidable()))
	}
	if p.doc.Totals.LeftWeight > 0 {
		words = append(words, "That no plan sprays more is not proved.")
	}
	return strings.Join(words, " ")
}

// aboveBound is how far the plan's cost is above the bound, in per cent of the
// bound: of the best possible, at most.
func (p *page) aboveBound() string {
	s := p.doc.Search
	share := new(big.Rat).SetFrac64(int64(s.GapDollars)*100, int64(s.BoundDollars))
	return planfile.Number(model.RoundRat(share)).Fixed(1)
}

// unavoidable says which part of the cost no order of loads can avoid, so that a
// small gap hides no large sum that can be saved.
func (p *page) unavoidable() string {
	if p.doc.Search.UnavoidableDollars == 0 {
		return ""
	}
	return fmt.Sprintf(" Of its cost %s is paid by every plan, whatever the order.", dollars(p.doc.Search.UnavoidableDollars))
}
