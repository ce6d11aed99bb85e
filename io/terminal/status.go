package terminal

import (
	"fmt"
	"io"
	"strings"

	"padturn/io/planfile"
	"padturn/model"
	"padturn/model/standing"
)

// Status prints where a day stands: first what somebody must decide or look at,
// then loads, sprayers, bays, jobs and stock. Of many loads in doubt it lists the
// first, or all. Width and error are as for [Summary].
func Status(w io.Writer, d *planfile.Document, s *standing.Standing, all bool, width int) error {
	p := newPage(d, width)
	asked := Asking(d.Day.Units)
	p.heading(statusTitle(d, s))
	if n := len(s.Ahead); n > 0 {
		p.paragraph(fmt.Sprintf("Left out: %s of what happened later (padturn mark lists them).", count(n, "report", "reports")))
	}
	p.list("Decide now", each(s.Stranded(), asked.Decide))
	p.list("Check efficacy", each(s.Washed(), asked.CheckEfficacy))
	p.listMost("In doubt (padturn replan)", each(s.Doubts(), func(d standing.Doubt) string {
		return fmt.Sprintf("%s, %s: %s", d.Load, d.Start.HHMM(), d.Why)
	}), all)
	p.list("In no load of the plan", each(s.Uncovered(), func(u standing.Uncovered) string {
		return fmt.Sprintf("%s (%s): %s %s", u.Job, u.Field, p.units.area(planfile.Number(u.Acres)), p.units.areaUnit())
	}))
	p.list("Reports that do not fit together", s.Oddities)
	p.list("Holds", each(s.Holds(), holdAhead))
	p.underWay(s)
	p.statusSprayers(s)
	p.statusBays(s)
	p.statusJobs(s)
	p.statusStock(s)
	p.list("Presumed, as nobody reported it", presumed(s))
	return p.writeTo(w)
}

func each[From, To any](list []From, f func(From) To) []To {
	var out []To
	for _, x := range list {
		out = append(out, f(x))
	}
	return out
}

func statusTitle(d *planfile.Document, s *standing.Standing) string {
	done, underWay, toCome, dropped := 0, 0, 0, 0
	for i := range s.Loads {
		switch l := &s.Loads[i]; {
		case l.State == standing.Done:
			done++
		case l.State == standing.Dropped:
			dropped++
		case l.Begun:
			underWay++
		default:
			toCome++
		}
	}
	title := "At " + s.At.HHMM()
	if d.Day.Date != "" {
		title += " on " + d.Day.Date
	}
	title += fmt.Sprintf(": %s done, %d under way, %d to come", count(done, "load", "loads"), underWay, toCome)
	if dropped > 0 {
		title += fmt.Sprintf(", %d dropped", dropped)
	}
	return title
}

func holdAhead(h standing.HoldAhead) string {
	words := fmt.Sprintf("%s-%s %s, ", h.From.HHMM(), h.To.HHMM(), h.Name)
	if h.InForce {
		words += "in force: "
	} else {
		words += "to come: "
	}
	words += h.Stops
	if h.Reason != "" {
		words += " (" + h.Reason + ")"
	}
	return words
}

// when is a moment for a table; a dash where it never comes.
func when(t model.Clock) string {
	if t >= model.Never {
		return "-"
	}
	return t.HHMM()
}

// underWay prints the loads that are being filled or sprayed, and those that
// come next on each bay.
func (p *page) underWay(s *standing.Standing) {
	var rows [][]string
	life := model.Never
	for i := range s.Loads {
		l := &s.Loads[i]
		if !l.InTank() {
			continue
		}
		state := string(l.State)
		if l.Presumed {
			state += " *"
		}
		life = min(life, l.LifeUntil)
		rows = append(rows, []string{
			l.Told.ID, l.Told.Mix, state, when(l.Start), when(l.End), p.units.area(planfile.Number(l.LeftAcres())), when(l.SprayedOut()),
			when(l.BackAt), when(l.LifeUntil),
		})
	}
	if len(rows) == 0 {
		return
	}
	p.heading("Under way (* presumed)")
	columns := []column{
		{title: "load", clip: true, tail: true}, {title: "mix", clip: true, least: 10}, {title: "state"}, {title: "start", spare: 2}, {title: "filled", spare: 1},
		{title: p.units.areaUnit() + " left", right: true}, {title: "sprayed"}, {title: "back"}, {title: "tank life"},
	}
	if life == model.Never { // no label limits any of them
		columns = columns[:len(columns)-1]
		for i := range rows {
			rows[i] = rows[i][:len(columns)]
		}
	}
	p.table(columns, rows, nil)
}

func (p *page) statusSprayers(s *standing.Standing) {
	var rows [][]string
	for i, m := range s.Sprayers {
		state, next := "at the pad", "-"
		switch {
		case m.Out && m.OutTill < model.Never:
			state = "out until " + m.OutTill.HHMM()
		case m.Out:
			state = "out"
		case m.BackAt > s.At && m.Load == "" && m.Cleaned == "":
			state = "available later"
		case m.BackAt > s.At && m.Cleaned != "":
			state = "cleanout: " + m.Cleaned
		case m.BackAt > s.At:
			state = m.Load
		}
		for k := range s.Loads {
			if l := &s.Loads[k]; l.Told.Sprayer == m.Name && !l.Begun && l.State != standing.Dropped {
				next = fmt.Sprintf("%s at %s", l.Told.ID, l.Told.Start.HHMM())
				break
			}
		}
		rows = append(rows, []string{s.Sprayers[i].Name, state, when(m.BackAt), next})
	}
	p.heading("Sprayers")
	p.table([]column{{title: "sprayer", clip: true}, {title: "now", clip: true, tail: true}, {title: "back"}, {title: "told next", clip: true}}, rows, nil)
}

func (p *page) statusBays(s *standing.Standing) {
	p.heading("Bays")
	for _, b := range s.Bays {
		state := "free"
		switch {
		case b.Load != "":
			state = "fills " + b.Load + " until " + b.FreeFrom.HHMM()
		case b.FreeFrom > s.At:
			state = "is set up until " + b.FreeFrom.HHMM()
		}
		if b.LastMix != "" {
			state += "; last mix " + b.LastMix
		}
		if b.Rinsed != "" {
			state += ", rinsed since (" + b.Rinsed + ")"
		}
		p.item("  ", b.Name+" "+state)
		for k, h := range b.On {
			p.item("    ", fmt.Sprintf("%d: %s", k+1, hookedWords(h)))
		}
	}
}

func hookedWords(h standing.Hooked) string {
	switch {
	case h.Product == "":
		return "empty"
	case h.Left == nil:
		return h.Product
	case h.Size == 0:
		return h.Product + ", no container of it is left"
	}
	return fmt.Sprintf("%s, %s of %s left", h.Product, stockAmount(planfile.Number(*h.Left)), stockAmount(planfile.Number(h.Size)))
}

// statusJobs prints the jobs that are not wholly sprayed.
func (p *page) statusJobs(s *standing.Standing) {
	var rows [][]string
	for i, j := range s.Jobs {
		if j.InTank == 0 && j.ToFill == 0 {
			continue
		}
		name := j.Name
		if j.Dropped {
			name += " (dropped)"
		}
		rows = append(rows, []string{name, s.Problem.Jobs[i].Field,
			p.units.area(planfile.Number(j.Asked)), p.units.area(planfile.Number(j.Sprayed)),
			p.units.area(planfile.Number(j.InTank)), p.units.area(planfile.Number(j.ToFill))})
	}
	if len(rows) == 0 {
		p.heading("Jobs: all sprayed")
		return
	}
	p.heading("Jobs not finished, " + p.units.areaUnit())
	p.table([]column{
		{title: "job", clip: true}, {title: "field", clip: true}, {title: "asked", right: true, spare: 1}, {title: "sprayed", right: true},
		{title: "in a tank", right: true}, {title: "to fill", right: true},
	}, rows, nil)
}

func (p *page) statusStock(s *standing.Standing) {
	var rows [][]string
	for _, k := range s.Stock {
		how := "reckoned"
		if k.Counted != nil {
			how = "counted " + k.Counted.HHMM()
		}
		rows = append(rows, []string{k.Product, stockAmount(planfile.Number(k.Level)), k.Unit, how})
	}
	p.heading("Stock")
	p.table([]column{{title: "product", clip: true}, {title: "at the pad", right: true}, {title: "unit"}, {title: "how"}}, rows, nil)
	words := fmt.Sprintf("Rinsate: %s %s.", p.units.volume(planfile.Number(s.Rinsate)), p.units.volumeUnit())
	if s.Water != nil {
		words = fmt.Sprintf("Water: %s %s. ", p.units.volume(planfile.Number(model.RoundRat(s.Water))), p.units.volumeUnit()) + words
	}
	p.paragraph(words)
}

// presumed lists what is taken to have gone as planned.
func presumed(s *standing.Standing) []string {
	var loads []string
	for i := range s.Loads {
		if l := &s.Loads[i]; l.Presumed {
			loads = append(loads, fmt.Sprintf("%s %s", l.Told.ID, l.State))
		}
	}
	var list []string
	if len(loads) > 0 {
		list = append(list, strings.Join(loads, ", "))
	}
	for _, d := range s.Deliveries {
		if d.Presumed {
			list = append(list, fmt.Sprintf("%s arrived at %s", d.Row.Product, d.Row.At.HHMM()))
		}
	}
	return list
}
