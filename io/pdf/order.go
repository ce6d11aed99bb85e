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
		b.line(margin, b.y, b.inner(), 9.5, "", left, fmt.Sprintf("%s, pad open %s to %s, %d loads",
			orBlank(b.day.Date), clock(b.day.Opens), clock(b.day.Closes), len(bay.Order)))
		b.y += 5
		b.paragraph("", connectionsAt(bay), 9, "")
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
	for _, s := range []float64{11, 10, 9, 8, 7.5} {
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
		{title: "", width: 6}, {title: "#", width: 7}, {title: "fill", width: 21}, {title: "load (sprayer)", width: 30},
		{title: "mix", width: 31}, {title: "volume", width: 18, right: true}, {title: "rinse before", width: 17},
		{title: "connections", width: 62},
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
		changes = changes.and(small, "", clock(c.At)+" "+c.Words())
	}
	mix := words(size, "", turn.Mix)
	if turn.FirstOfMix {
		mix = mix.and(small, "B", "jar test first")
	}
	if turn.RestrictedUse {
		mix = mix.and(small, "B", "restricted use")
	}
	rinse := words(size, "B", turn.Rinse)
	if turn.Rinse == "" {
		rinse = words(size, "", "none")
	}
	fill := words(size, "B", clock(turn.Start)+"-"+clock(turn.End))
	if turn.SetUp < turn.Start {
		fill = fill.and(small, "", "set-up "+clock(turn.SetUp))
	}
	load := words(size, "B", turn.Load)
	if turn.SprayerCleaned != "" {
		load = load.and(small, "", "after "+turn.SprayerCleaned)
	}
	return []cell{
		{tick: true}, words(size, "", fmt.Sprint(turn.Seq)), fill, load, mix,
		words(size, "B", turn.Spray.String()).toRight(), rinse, changes,
	}
}
