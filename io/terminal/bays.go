package terminal

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"padturn/io/handout"
	"padturn/io/planfile"
)

// bays prints the load order of every bay: what a crew works down.
func (p *page) bays() {
	sprays := handout.Sprays(p.doc)
	for _, bay := range p.doc.Bays {
		p.heading("Load order, " + bay.Bay)
		loads := p.loadsOf(bay.Bay)
		if len(loads) == 0 {
			p.paragraph("No loads.")
			continue
		}
		p.loadTable(loads, sprays)
		p.changes(bay.Bay)
	}
}

func (p *page) loadsOf(bay string) []planfile.Load {
	var out []planfile.Load
	for _, l := range p.doc.Loads {
		if l.Bay == bay {
			out = append(out, l)
		}
	}
	slices.SortStableFunc(out, func(a, b planfile.Load) int { return a.Seq - b.Seq })
	return out
}

func (p *page) loadTable(loads []planfile.Load, sprays map[string]string) {
	columns := []column{
		{title: "fill"},
		{title: "load", clip: true, tail: true},
		{title: "sprayer", clip: true, spare: 1}, // the load's ID begins with it
		{title: "mix", clip: true},
		{title: p.units.volumeUnit(), right: true},
		{title: "chg, rinse", clip: true},
		{title: "wait", right: true},
	}
	var rows [][]string
	for _, l := range loads {
		rows = append(rows, []string{
			hhmm(l.Start) + "-" + hhmm(l.End), l.Load, l.Sprayer, l.Mix, sprays[l.Load], setUp(l), hoursOrDash(l.WaitS),
		})
	}
	p.table(columns, rows, nil)
}

// setUp is what the bay does before a load, and the changeovers inside it.
func setUp(l planfile.Load) string {
	var parts []string
	if l.Changeovers > 0 {
		parts = append(parts, strconv.Itoa(l.Changeovers)+" chg")
	}
	if l.Rinse != "" {
		parts = append(parts, l.Rinse)
	}
	if len(parts) == 0 {
		return "-"
	}
	return strings.Join(parts, ", ")
}

// changes lists the bay's changeovers in words.
func (p *page) changes(bay string) {
	first := true
	for _, c := range p.doc.Changeovers {
		if c.Bay != bay {
			continue
		}
		if first {
			p.line("  Changeovers (chg):")
			first = false
		}
		p.item("  "+hhmm(c.At)+"  ", fmt.Sprintf("connection %d: %s, for %s", c.Connection, change(c), c.Load))
	}
}

func change(c planfile.Changeover) string {
	words := c.Off + " off, " + c.On + " on"
	switch c.Off {
	case "":
		words = c.On + " on"
	case c.On:
		words = "fresh tote of " + c.On
	}
	if c.Inside {
		words += ", inside the load"
	}
	return words
}
