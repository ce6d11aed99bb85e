package pdf

import (
	"fmt"

	"padturn/io/handout"
	"padturn/io/planfile"
	"padturn/model"
)

func clock(t planfile.Time) string { return model.Clock(t).HHMM() }

// sheets writes a sheet for every load that is still to be filled.
func (b *book) sheets() {
	for _, s := range b.day.ToFill() {
		b.page("Load " + s.Load)
		b.head(s)
		b.fitted(func() { b.body(s) })
	}
}

func (b *book) body(s handout.Sheet) {
	b.facts(s)
	b.fields(s)
	b.ingredients(s)
	b.changes(s)
	b.cautions(s)
	b.record(s)
	b.signatures()
}

const codeSide = 27.0

// head writes what tells this sheet from every other.
func (b *book) head(s handout.Sheet) {
	w := b.inner() - codeSide - 4
	b.code(s.QR, b.width-margin-codeSide, margin, codeSide)
	b.line(margin, b.y, w, 26, "B", left, s.Load)
	b.y += 11.5
	b.line(margin, b.y, w, 13, "B", left, fmt.Sprintf("%s, load %d of %d: fill %s to %s", s.Bay, s.Seq, s.OfBay, clock(s.Start), clock(s.End)))
	b.y += 6.5
	set := "no set-up"
	if s.SetUp < s.Start {
		set = "set-up from " + clock(s.SetUp)
	}
	b.line(margin, b.y, w, 9.5, "", left, fmt.Sprintf("%s; sprayer ready %s, back about %s", set, clock(s.Ready), clock(s.BackAt)))
	b.y = margin + codeSide + 1
}

// facts writes the sprayer and the mix, each label small over its value.
func (b *book) facts(s handout.Sheet) {
	t := &table{b: b, pad: 0.9, columns: scaled([]column{{width: 48}, {width: 48}, {width: 48}, {width: 48}}, b.inner())}
	t.rule(0.4)
	t.row([]cell{
		fact("sprayer", s.Sprayer, ""), fact("in its tank before", s.Before, ""),
		fact("cleanout before", orNone(s.Cleanout), ""), fact("rinse of the manifold before", orNone(s.Rinse), ""),
	}, 0)
	t.row([]cell{
		fact("mix", s.Mix, s.MixNote), fact("spray volume", s.Spray.String(), "at "+s.Rate),
		fact("carrier", s.Carrier, ""), fact("area of this load", s.Area.String(), ""),
	}, 0)
}

func fact(label, value, more string) cell {
	return words(7.5, "", label).and(11.5, "B", value).and(8.5, "", more)
}

func orNone(text string) string {
	if text == "" {
		return "none"
	}
	return text
}

func (b *book) fields(s handout.Sheet) {
	b.y += 2
	t := &table{b: b, pad: 0.8, columns: scaled([]column{
		{title: "field", width: 50}, {title: "customer", width: 38}, {title: "crop", width: 22}, {title: "job", width: 20},
		{title: "in this load", width: 22, right: true}, {title: "of the job so far", width: 40, right: true},
	}, b.inner())}
	t.titles()
	for _, f := range s.Fields {
		t.row([]cell{
			words(10.5, "B", f.Field), words(9.5, "", f.Customer), words(9.5, "", f.Crop),
			words(9.5, "", f.Job).and(8, "", fmt.Sprintf("load %d of %d", f.K, f.N)),
			words(10.5, "B", f.Area.String()).toRight(),
			words(9.5, "", f.SoFar.Number()+" of "+f.Total.String()).toRight(),
		}, 0)
	}
	for _, f := range s.Fields {
		if f.Note != "" {
			b.y += 0.8
			b.paragraph("", "Note, "+f.Field+": "+f.Note, 9.5, "B")
		}
	}
}

// ingredients writes what goes in, in adding order.
func (b *book) ingredients(s handout.Sheet) {
	b.y += 2
	t := &table{b: b, least: 9.8, pad: 0.8, columns: scaled([]column{
		{title: "done", width: 10}, {title: "step", width: 8}, {title: "product, in adding order", width: 53},
		{title: "amount", width: 54, right: true}, {title: "from", width: 27}, {title: "in the tank", width: 17, right: true},
		{title: "real amount", width: 22},
	}, b.inner())}
	b.need(20)
	t.titles()
	for _, line := range s.Lines {
		below := 0.0
		if line.Agitate != "" {
			below = 5
		}
		t.row(lineCells(line), below)
		if line.Agitate != "" {
			b.y += 0.4
			b.line(margin+18, b.y, b.inner()-18, 9, "B", left, "→ "+line.Agitate+", before the next goes in")
			b.y += 4.4 * b.scale
			t.rule(0.15)
		}
	}
}

func lineCells(line handout.Line) []cell {
	amount := words(12.5, "B", line.Measure).and(8.5, "", line.Otherwise())
	return []cell{
		{tick: true}, words(10, "", fmt.Sprint(line.Step)), words(11.5, "B", line.Product).and(8, "", line.About()),
		amount.toRight(), words(9, "", line.From), words(10, "", line.Tank.String()).toRight().unbroken(), {frame: true},
	}
}

func (b *book) changes(s handout.Sheet) {
	if len(s.Changes) == 0 {
		return
	}
	b.heading("Connections for this load", 5)
	for _, c := range s.Changes {
		b.paragraph(clock(c.At), c.Words(), 9.5, "")
	}
}

func (b *book) cautions(s handout.Sheet) {
	b.heading("Cautions", 9)
	for _, c := range s.Cautions {
		b.paragraph("•", c.Text, 9, boldIf(c.Strong))
	}
}

func boldIf(strong bool) string {
	if strong {
		return "B"
	}
	return ""
}

// record writes the elements of the record of a restricted-use application,
// those that are known and lines for the others.
func (b *book) record(s handout.Sheet) {
	if len(s.Record) == 0 {
		return
	}
	b.heading("Record of the restricted-use application", 20)
	t := &table{b: b, pad: 0.7, columns: scaled([]column{
		{title: "product", width: 50}, {title: "EPA reg. no.", width: 24}, {title: "planned amount", width: 26, right: true},
		{title: "field, size", width: 50}, {title: "crop", width: 18}, {title: "customer", width: 30},
	}, b.inner())}
	t.titles()
	for _, r := range s.Record {
		t.row([]cell{
			words(9, "B", r.Product), words(9, "", r.EPARegNo), words(9, "", r.Amount).toRight(),
			words(9, "", r.Field+", "+r.Area), words(9, "", r.Crop), words(9, "", r.Customer),
		}, 0)
	}
	b.blanks(handout.RecordBlanks())
}

// blanks writes labels above lines to write on, three beside each other.
func (b *book) blanks(labels []string) {
	const beside = 3
	high := 10 * b.scale
	wide := b.inner() / beside
	for i, label := range labels {
		if i%beside == 0 {
			b.need(high)
			b.y += high
		}
		x := margin + float64(i%beside)*wide
		b.line(x, b.y-high+0.8, wide-3, 7.5, "", left, label)
		b.stroke(x, b.y-0.6, x+wide-3, b.y-0.6, 0.2)
	}
}

// signatures closes a sheet with what the crew fills in on every load.
func (b *book) signatures() {
	b.blanks([]string{"filled by", "started", "ended"})
}
