package terminal

import (
	"strconv"

	"padturn/io/planfile"
)

// sprayers prints what each sprayer does in the day.
func (p *page) sprayers() {
	p.heading("Sprayers")
	columns := []column{
		{title: "sprayer", clip: true},
		{title: "loads", right: true},
		{title: p.units.areaUnit(), right: true},
		{title: "first fill", right: true, spare: 1},
		{title: "back", right: true},
		{title: "wait", right: true},
		{title: "held", right: true},
		{title: "cleanouts", right: true, spare: 2},
	}
	var rows [][]string
	for _, s := range p.doc.Sprayers {
		rows = append(rows, p.sprayerRow(s.Sprayer))
	}
	p.table(columns, rows, nil)
}

func (p *page) sprayerRow(name string) []string {
	var loads, cleanouts int
	var acres planfile.Number
	var wait, held int64
	first, back := "-", planfile.Time(0)
	for _, l := range p.doc.Loads {
		if l.Sprayer != name {
			continue
		}
		if loads == 0 {
			first = hhmm(l.Start)
		}
		loads++
		acres, wait, held, back = acres+l.Acres, wait+l.WaitS, held+l.HeldS, max(back, l.BackAt)
		if l.Cleanout != "" {
			cleanouts++
		}
	}
	if loads == 0 {
		return []string{name, "0", "-", "-", "-", "-", "-", "-"}
	}
	return []string{
		name, strconv.Itoa(loads), p.units.area(acres), first, hhmm(back),
		hoursOrDash(wait), hoursOrDash(held), strconv.Itoa(cleanouts),
	}
}
