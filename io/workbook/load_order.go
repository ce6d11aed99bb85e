package workbook

import (
	"fmt"
	"slices"
	"strings"

	"padturn/io/handout"
	"padturn/io/planfile"
	"padturn/model"
)

// orderColumns are the columns of the load order. What loads.csv has is in its
// units; a metric day has hectares and litres beside them.
var orderColumns = []column{
	{title: "bay", width: 10, format: asText},
	{title: "seq", width: 7, format: asCount, about: "place in the order of the bay"},
	{title: "set-up", width: 9, format: asMoment, about: "when the rinse and the changeovers before it begin; the start where there are none"},
	{title: "start", width: 9, format: asMoment},
	{title: "end", width: 9, format: asMoment},
	{title: "load", width: 13, format: asText},
	{title: "sprayer", width: 12, format: asText},
	{title: "mix", width: 18, format: asText},
	{title: "fields", width: 26, format: asText},
	{title: "ac", width: 9, format: asGallon},
	{title: "gal", width: 10, format: asGallon},
	{title: "rinse before", width: 12, format: asText},
	{title: "changeovers", width: 34, format: asText},
	{title: "drawn from", width: 34, format: asText, about: "which connection gives which product"},
	{title: "sprayer cleaned", width: 14, format: asText},
	{title: "look out", width: 16, format: asText, about: "what to do or know before the fill"},
	{title: "ready", width: 9, format: asMoment},
	{title: "wait, min", width: 9, format: asMinutes, about: "what a better order could have saved"},
	{title: "held, min", width: 9, format: asMinutes, about: "what the opening hour or a tank life costs anyway"},
	{title: "back at", width: 9, format: asMoment},
}

// afterGal is the place of what a metric day has beside acres and gallons.
var afterGal = slices.IndexFunc(orderColumns, func(c column) bool { return c.title == "gal" }) + 1

// loadOrder writes the loads bay by bay, each bay on a page of its own.
func (p plan) loadOrder() {
	t := sheetTable{sheet: orderSheet, columns: orderColumns}
	if p.handout.Metric {
		t.columns = slices.Insert(slices.Clone(t.columns), afterGal,
			column{title: "ha", width: 9, format: asGallon}, column{title: "L", width: 10, format: asCount})
	}
	loads := p.loadsByName()
	var breaks []int
	for i, s := range p.handout.Sheets {
		if i > 0 && s.Bay != p.handout.Sheets[i-1].Bay {
			breaks = append(breaks, i+2)
		}
		row := orderRow(s, loads[s.Load])
		if p.handout.Metric {
			row = slices.Insert(row, afterGal, any(amount(s.Area)), any(amount(s.Spray)))
		}
		t.rows = append(t.rows, row)
	}
	p.table(t)
	for _, row := range breaks {
		p.do(func() error { return p.file.InsertPageBreak(orderSheet, cellName(1, row)) })
	}
}

func (p plan) loadsByName() map[string]planfile.Load {
	loads := map[string]planfile.Load{}
	for _, l := range p.doc.Loads {
		loads[l.Load] = l
	}
	return loads
}

func orderRow(s handout.Sheet, l planfile.Load) []any {
	return []any{
		s.Bay, s.Seq, clock(s.SetUp), clock(s.Start), clock(s.End), s.Load, s.Sprayer, s.Mix, fieldsOf(s),
		number(l.Acres), number(l.Gal), text(s.Rinse), text(changesOf(s)), text(drawnFrom(l)), text(s.Cleanout), text(lookOut(s)),
		clock(s.Ready), minutes(l.WaitS), minutes(l.HeldS), clock(s.BackAt),
	}
}

func fieldsOf(s handout.Sheet) string {
	names := make([]string, len(s.Fields))
	for i, f := range s.Fields {
		names[i] = f.Field
	}
	return strings.Join(names, ", ")
}

// changesOf has a line for each changeover of a load.
func changesOf(s handout.Sheet) string {
	list := make([]string, len(s.Changes))
	for i, c := range s.Changes {
		what := fmt.Sprintf("%s off, %s on", c.Off, c.On)
		switch c.Off {
		case "":
			what = c.On + " on"
		case c.On:
			what = "fresh " + c.On
		}
		when := ""
		if c.Inside {
			when = ", during the fill"
		}
		list[i] = fmt.Sprintf("%s connection %d: %s%s", model.Clock(c.At).HHMM(), c.Connection, what, when)
	}
	return strings.Join(list, "\n")
}

// lookOut has the shortest words for what may stop a fill.
func lookOut(s handout.Sheet) string {
	var list []string
	if s.Begun {
		list = append(list, "begun")
	}
	if s.JarTest {
		list = append(list, "jar test first")
	}
	if len(s.Record) > 0 {
		list = append(list, "restricted use")
	}
	return strings.Join(list, "\n")
}

// drawnFrom lists the connections that a load draws from, a line each.
func drawnFrom(l planfile.Load) string {
	var list []string
	for _, s := range l.Steps {
		if s.Source == planfile.SourceMetered && s.Connection > 0 {
			list = append(list, fmt.Sprintf("%d: %s", s.Connection, s.Product))
		}
	}
	return strings.Join(list, "\n")
}

// amounts writes what goes into each tank, in adding order.
func (p plan) amounts() {
	t := sheetTable{sheet: amountsSheet, columns: []column{
		{title: "start", width: 9, format: asMoment},
		{title: "load", width: 13, format: asText},
		{title: "sprayer", width: 12, format: asText},
		{title: "mix", width: 18, format: asText},
		{title: "step", width: 7, format: asCount, about: "adding order; the label beats it"},
		{title: "product", width: 26, format: asText},
		{title: "rate", width: 14, format: asText},
		{title: "to measure", width: 12, format: asIs, about: p.handout.Rounding},
		{title: "unit", width: 8, format: asText},
		{title: "as it is measured", width: 30, format: asText},
		{title: "by scale", width: 11, format: asText, about: "weight, where the density is known"},
		{title: "from", width: 26, format: asText},
		{title: "in the tank then", width: 14, format: asText},
		{title: "before the next", width: 26, format: asText},
		{title: "exact amount", width: 13, format: asAmount, about: "as in amounts.csv"},
		{title: "stock unit", width: 9, format: asText},
	}}
	loads := p.loadsByName()
	var places []int
	for _, s := range p.handout.Sheets {
		for i, line := range s.Lines {
			step := loads[s.Load].Steps[i]
			t.rows = append(t.rows, amountRow(s, line, step))
			places = append(places, line.Amount.Scale.Places)
		}
	}
	p.table(t)
	const measured = 8
	for i, digits := range places {
		name := cellName(measured, i+2)
		p.do(func() error {
			return p.file.SetCellStyle(amountsSheet, name, name, p.data(amountFormat(digits), false))
		})
	}
}

func amountRow(s handout.Sheet, line handout.Line, step planfile.Step) []any {
	var weight any
	if line.Weight != nil {
		weight = line.Weight.String()
	}
	return []any{
		clock(s.Start), s.Load, s.Sprayer, s.Mix, line.Step, line.Product, text(line.Rate),
		amount(line.Amount), unit(line.Amount.Scale.Unit), line.Measure, weight, line.From, line.Tank.String(), text(line.Agitate),
		number(step.Amount), step.Unit,
	}
}
