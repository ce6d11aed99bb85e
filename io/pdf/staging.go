package pdf

import (
	"padturn/io/handout"
)

// staging writes what to bring out, connect and take away, hour by hour.
func (b *book) staging() {
	for _, bay := range b.day.Bays {
		if len(bay.Hours) == 0 {
			continue
		}
		b.page("Staging, " + bay.Name)
		b.line(margin, b.y, b.inner(), 20, "B", left, "Staging, "+bay.Name)
		b.y += 9
		b.paragraph("", handout.StagingNote, 9, "")
		b.y += 2
		t := &table{b: b, least: 8, pad: 1.2, columns: scaled([]column{
			{title: "", width: 9}, {title: "what", width: 24}, {title: "product", width: 60},
			{title: "how much", width: 60}, {title: "for", width: 39},
		}, b.inner())}
		t.titles()
		for _, h := range bay.Hours {
			b.hour(t, h)
		}
	}
}

func (b *book) hour(t *table, h handout.Hour) {
	if b.need(24) {
		t.titles()
	}
	b.y += 2.5
	b.line(margin, b.y, b.inner(), 12, "B", left, clock(h.From)+" to "+clock(h.From+3600))
	b.y += 6
	t.rule(0.4)
	for _, x := range h.Bring {
		t.row([]cell{
			{tick: true}, words(9, "", "bring out"), words(10, "B", x.Product), words(10, "B", x.Packs()).and(8.5, "", x.Needed()), {},
		}, 0)
	}
	for _, c := range h.Connect {
		t.row([]cell{
			{tick: true}, words(9, "", "connect").and(10, "B", clock(c.At)), words(10, "B", c.On).and(8.5, "", c.Container),
			words(9, "", c.Words()), words(9, "", c.Load),
		}, 0)
	}
	for _, e := range h.Empty {
		t.row([]cell{{}, words(9, "", "empties"), words(9, "", e.Product), words(9, "", e.Words()), {}}, 0)
	}
}
