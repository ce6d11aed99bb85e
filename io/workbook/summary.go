package workbook

import "padturn/io/planfile"

// sprayers writes what each sprayer does from one moment to another.
func (p plan) sprayers() {
	t := sheetTable{sheet: sprayerSheet, columns: []column{
		{title: "sprayer", width: 14, format: asText},
		{title: "from", width: 11, format: asLong},
		{title: "to", width: 11, format: asLong},
		{title: "what", width: 12, format: asText},
		{title: "min", width: 10, format: asMinutes},
		{title: "load", width: 14, format: asText, about: "for a cleanout, a wait and held the load that follows"},
		{title: "mix", width: 22, format: asText},
		{title: "bay", width: 12, format: asText},
	}}
	loads := p.loadsByName()
	for _, turn := range p.doc.Turns {
		l := loads[turn.Load]
		t.rows = append(t.rows, []any{
			turn.Sprayer, clock(turn.From), clock(turn.To), turn.What, minutes(int64(turn.To - turn.From)), turn.Load, l.Mix, l.Bay,
		})
	}
	p.table(t)
}

// block is a part of the summary: a heading and rows of two or three cells.
type block struct {
	heading string
	columns []string
	rows    [][]summaryCell
}

// summaryCell is a value and how it looks.
type summaryCell struct {
	value  any
	format string
}

func said(s string) summaryCell           { return summaryCell{s, asText} }
func counted(n int) summaryCell           { return summaryCell{n, asCount} }
func lasting(s int64) summaryCell         { return summaryCell{days(s), asMoment} }
func at(t planfile.Time) summaryCell      { return summaryCell{clock(t), asMoment} }
func money(n planfile.Number) summaryCell { return summaryCell{dollars(n), asMoney} }

// acres are in the day's unit of area.
func (p plan) acres(n planfile.Number) summaryCell { return summaryCell{p.area(n), asGallon} }

// summary writes what the plan comes to, beside first come, first served.
func (p plan) summary() {
	p.sheet(summarySheet)
	for i, width := range []float64{44, 18, 18} {
		p.do(func() error { return p.file.SetColWidth(summarySheet, letters(i+1), letters(i+1), width) })
	}
	p.put(summarySheet, 1, 1, p.doc.Title(), p.book.title(16))
	p.put(summarySheet, 1, 2, "revision "+p.handout.Revision+", as plan.json; all other sheets are of this plan", p.data(asText, false))
	row := 4
	row = p.block(p.costs(), p.block(p.figures(), row))
	row = p.lines("How good it is", p.doc.HowGood(), row)
	row = p.block(p.unsprayed(), row)
	row = p.lines("Warnings", p.doc.Warnings, row)
	row = p.lines("Cautions", p.doc.Cautions, row)
	p.lines("Rounding", []string{p.handout.Rounding}, row)
	p.page(summarySheet, "portrait")
	p.freeze(summarySheet, 2)
}

// block writes a block and returns the row for the next.
func (p plan) block(b block, row int) int {
	if len(b.rows) == 0 {
		return row
	}
	p.put(summarySheet, 1, row, b.heading, p.header(asText, false))
	for i, title := range b.columns {
		p.put(summarySheet, i+2, row, title, p.header(b.rows[0][i+1].format, false))
	}
	for _, cells := range b.rows {
		row++
		for i, c := range cells {
			p.put(summarySheet, i+1, row, c.value, p.data(c.format, i == 0 || c.format == asText))
		}
	}
	return row + 2
}

// lines writes texts over the whole width, each as high as it needs.
func (p plan) lines(heading string, texts []string, row int) int {
	if len(texts) == 0 {
		return row
	}
	p.put(summarySheet, 1, row, heading, p.header(asText, false))
	for _, line := range texts {
		row++
		p.put(summarySheet, 1, row, line, p.data(asText, true))
		p.do(func() error { return p.file.MergeCell(summarySheet, cellName(1, row), cellName(3, row)) })
		p.fitHeight(summarySheet, row, line, 90)
	}
	return row + 2
}

func (p plan) figures() block {
	row := func(label string, figure func(planfile.Totals) summaryCell) []summaryCell {
		return []summaryCell{said(label), figure(p.doc.Totals), figure(p.doc.Baseline)}
	}
	b := block{heading: "What it comes to", columns: []string{"this plan", "first come"}, rows: [][]summaryCell{
		row("loads", func(t planfile.Totals) summaryCell { return counted(t.Loads) }),
		row(p.areaUnit()+" sprayed", func(t planfile.Totals) summaryCell { return p.acres(t.Acres) }),
		row(p.areaUnit()+" not sprayed", func(t planfile.Totals) summaryCell { return p.acres(t.LeftAcres) }),
		row("rinses", func(t planfile.Totals) summaryCell { return counted(t.Rinses) }),
		row("cleanouts", func(t planfile.Totals) summaryCell { return counted(t.Cleanouts) }),
		row("changeovers", func(t planfile.Totals) summaryCell { return counted(t.Changeovers) }),
		row("waiting", func(t planfile.Totals) summaryCell { return lasting(t.WaitS) }),
		row("held at the pad", func(t planfile.Totals) summaryCell { return lasting(t.HeldS) }),
		row("paused in the field", func(t planfile.Totals) summaryCell { return lasting(t.PauseS) }),
	}}
	for _, s := range p.doc.Sprayers {
		b.rows = append(b.rows, row(s.Sprayer+" back", func(t planfile.Totals) summaryCell { return finish(t, s.Sprayer) }))
	}
	return b
}

func finish(t planfile.Totals, sprayer string) summaryCell {
	for _, f := range t.Finish {
		if f.Sprayer == sprayer {
			return at(f.BackAt)
		}
	}
	return said("no load")
}

// costs lists the parts of cost.csv.
func (p plan) costs() block {
	mine, first := p.doc.Totals.Cost, p.doc.Baseline.Cost
	b := block{heading: "Cost", columns: []string{"this plan", "first come"}}
	for i := range min(len(mine.Parts), len(first.Parts)) {
		b.rows = append(b.rows, []summaryCell{said(planfile.CostLabel(mine.Parts[i].Part)), money(mine.Parts[i].Dollars), money(first.Parts[i].Dollars)})
	}
	b.rows = append(b.rows, []summaryCell{said("total"), money(mine.Dollars), money(first.Dollars)})
	return b
}

// unsprayed lists what is left of jobs, and why.
func (p plan) unsprayed() block {
	b := block{heading: "Not sprayed", columns: []string{p.areaUnit(), "reason"}}
	for _, u := range p.doc.Unsprayed {
		b.rows = append(b.rows, []summaryCell{said(u.Job), p.acres(u.Acres), said(u.Reason)})
	}
	return b
}
