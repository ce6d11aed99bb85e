package terminal

import (
	"io"

	"padturn/io/planfile"
)

// Move is a load that is not the same in two plans, and what it was and is.
type Move struct{ What, Was, Is string }

// Compare prints two plans side by side: their figures, their costs part by
// part, and the loads that are not the same. Width and error are as for
// [Summary].
func Compare(w io.Writer, a, b *planfile.Document, moves []Move, width int) error {
	p := newPage(b, width)
	p.heading("Two plans: " + compareTitle(a) + " (A) and " + compareTitle(b) + " (B)")
	p.line("")
	p.figures("A", a.Totals, "B", b.Totals)
	p.heading("Cost")
	p.costs(a.Totals.Cost, b.Totals.Cost)
	if a.Totals.LeftWeight != b.Totals.LeftWeight {
		p.line("")
		p.paragraph("They do not leave the same undone, so the two costs are not for the same work.")
	}
	p.moves(moves)
	return p.writeTo(w)
}

func compareTitle(d *planfile.Document) string {
	title := "the day's"
	if d.Replan != nil {
		title = "the replan of " + hhmm(d.Replan.At)
	}
	if d.Day.Date != "" {
		title += ", " + d.Day.Date
	}
	return title
}

// costs sets two costs side by side with what B costs more, by every part that
// either has.
func (p *page) costs(a, b planfile.Cost) {
	other := map[string]planfile.Number{}
	for _, part := range a.Parts {
		other[part.Part] = part.Dollars
	}
	var rows [][]string
	for _, part := range b.Parts {
		was := other[part.Part]
		if was != 0 || part.Dollars != 0 {
			rows = append(rows, []string{planfile.CostLabel(part.Part), dollars(was), dollars(part.Dollars), signed(part.Dollars - was)})
		}
	}
	p.table(
		[]column{{title: "", clip: true}, {title: "A", right: true}, {title: "B", right: true}, {title: "B - A", right: true}},
		rows, []string{"total", dollars(a.Dollars), dollars(b.Dollars), signed(b.Dollars - a.Dollars)})
}

// signed is dollars with their sign.
func signed(n planfile.Number) string {
	switch {
	case n > 0:
		return "+" + dollars(n)
	case n < 0:
		return "-" + dollars(-n)
	}
	return dollars(0)
}

func (p *page) moves(moves []Move) {
	if len(moves) == 0 {
		p.heading("No load moves by more than five minutes.")
		return
	}
	p.heading("What moved")
	var rows [][]string
	for _, m := range moves {
		rows = append(rows, []string{m.What, m.Was, m.Is})
	}
	p.table([]column{{title: ""}, {title: "A", breaks: true}, {title: "B", breaks: true}}, rows, nil)
}
