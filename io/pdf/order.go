package pdf

import (
	"fmt"
	"strings"

	"padturn/io/handout"
)

// orders writes the load order of every bay, on one page where it fits in
// letters that can be read.
func (b *book) orders() {
	for _, bay := range b.day.Bays {
		b.page("Load order, " + bay.Name)
		b.line(margin, b.y, b.inner(), 20, "B", left, "Load order, "+bay.Name)
		b.y += 9
		date := ""
		if b.day.Date != "" {
			date = b.day.Date + ", "
		}
		b.line(margin, b.y, b.inner(), 9.5, "", left, fmt.Sprintf("%spad open %s to %s, %d loads",
			date, clock(b.day.Opens), clock(b.day.Closes), len(bay.Order)))
		b.y += 5
		b.paragraph("", connectionsAt(bay), 9, "")
		b.paragraph("", orderLegend, 8, "")
		b.y += 2
		b.order(bay)
	}
}

func connectionsAt(bay handout.Bay) string {
	var parts []string
	for _, h := range bay.Opening {
		parts = append(parts, fmt.Sprintf("%d %s", h.Connection, h.Words()))
	}
	if len(parts) == 0 {
		return "The manifold has no connections but the carrier's."
	}
	return "On the connections at the opening: " + strings.Join(parts, " · ")
}

// order writes the table in the largest letters with which it ends on this
// page; where none does, in large ones over several.
func (b *book) order(bay handout.Bay) {
	if len(bay.Order) == 0 {
		b.paragraph("", "No loads.", 11, "")
		return
	}
	size := 9.5
	for _, s := range []float64{11, 10, 9, 8, 7.5, 7} {
		if b.y+4+b.orderHeight(bay, s) <= b.bottom() {
			size = s
			break
		}
	}
	t := b.orderTable(size)
	t.titles()
	for _, turn := range bay.Order {
		t.row(orderCells(turn, size), 0)
	}
}

func (b *book) orderHeight(bay handout.Bay, size float64) float64 {
	t, sum := b.orderTable(size), 0.0
	for _, turn := range bay.Order {
		_, high := t.set(orderCells(turn, size))
		sum += high
	}
	return sum
}

func (b *book) orderTable(size float64) *table {
	return &table{b: b, least: size*point*leading + 1.6, pad: 0.7, columns: scaled([]column{
		{title: "", width: 8}, {title: "#", width: 8}, {title: "set-up", width: 12}, {title: "fill", width: 25},
		{title: "load (sprayer)", width: 26}, {title: "mix", width: 28}, {title: "", width: 8},
		{title: "volume", width: 20, right: true}, {title: "rinse before", width: 18}, {title: "connections", width: 48},
	}, b.inner())}
}

// maxChanges is how many changeovers stand in one row; the load's own sheet
// has all of them.
const maxChanges = 6

func orderCells(turn handout.Turn, size float64) []cell {
	small := size - 1
	changes := cell{}
	for i, c := range turn.Changes {
		if i == maxChanges {
			changes = changes.and(small, "", fmt.Sprintf("and %d more: see the load's sheet", len(turn.Changes)-i))
			break
		}
		changes = changes.and(small, "", fmt.Sprintf("%s no. %d: %s", clock(c.At), c.Connection, c.Deed()))
	}
	rinse := words(size, "B", turn.Rinse)
	if turn.Rinse == "" {
		rinse = words(size, "", "none")
	}
	box, setUp := cell{tick: true}, ""
	switch {
	case turn.Begun:
		box, setUp = cell{}, "begun"
	case turn.SetUp < turn.Start:
		setUp = clock(turn.SetUp)
	}
	load := words(size, "B", turn.Load)
	if turn.SprayerCleaned != "" {
		load = load.and(small, "", "after "+turn.SprayerCleaned)
	}
	return []cell{
		box, words(size, "", fmt.Sprint(turn.Seq)), words(size, "", setUp).unbroken(),
		words(size, "B", clock(turn.Start)+"-"+clock(turn.End)).unbroken(), load, words(size, "", turn.Mix), words(size, "B", flags(turn)),
		words(size, "B", turn.Spray.String()).toRight().unbroken(), rinse, changes,
	}
}

// flags are the letters that [orderLegend] explains.
func flags(turn handout.Turn) string {
	text := ""
	if turn.FirstOfMix {
		text += "J"
	}
	if turn.RestrictedUse {
		text += "R"
	}
	return text
}

const orderLegend = "J: jar test first. R: restricted use. Rinse: of the manifold, before the load. Connections: when, which number, what is done."
