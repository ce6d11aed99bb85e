package terminal

import (
	"fmt"
	"slices"

	"padturn/io/planfile"
	"padturn/model"
)

// list prints a section of items, or nothing where there are none.
func (p *page) list(title string, items []string) {
	if len(items) == 0 {
		return
	}
	p.heading(title)
	for _, words := range items {
		p.item("- ", words)
	}
}

// most is how many items of a list are read at a glance.
const most = 12

// listMost prints the first of many items, and how to see all.
func (p *page) listMost(title string, items []string, all bool) {
	if more := len(items) - most; more > 1 && !all {
		items = append(items[:most:most], fmt.Sprintf("and %d more; --all lists them", more))
	}
	p.list(title, items)
}

func (p *page) unsprayed() {
	fields := map[string]string{}
	for _, j := range p.doc.Jobs {
		fields[j.Job] = j.Field
	}
	var items []string
	for _, u := range p.doc.Unsprayed {
		items = append(items, fmt.Sprintf("%s (%s), %s %s: %s", u.Job, fields[u.Job], p.units.area(u.Acres), p.units.areaUnit(), u.Reason))
	}
	p.list("Not sprayed", items)
}

// late lists the jobs that are finished after they were due.
func (p *page) late() {
	done := map[string]planfile.Time{}
	for _, l := range p.doc.Loads {
		for _, part := range l.Parts {
			done[part.Job] = max(done[part.Job], part.SprayedAt)
		}
	}
	for _, u := range p.doc.Unsprayed {
		delete(done, u.Job)
	}
	var items []string
	for _, j := range p.doc.Jobs {
		at, sprayed := done[j.Job]
		if sprayed && j.Due != nil && at > *j.Due {
			items = append(items, fmt.Sprintf("%s (%s): due %s, sprayed by %s, %s late", j.Job, j.Field, hhmm(*j.Due), hhmm(at), hours(minutes(at)-minutes(*j.Due))))
		}
	}
	p.list("Late", items)
}

// longStand is how long a filled tank may stand in the field for a job's earliest, in
// seconds, before it is said.
const longStand = 60 * 60

// filledEarly lists the loads to come that stand long in the field, filled, until a job
// may begin. The cost does not count it.
func (p *page) filledEarly() {
	jobs := map[string]*planfile.Job{}
	for i := range p.doc.Jobs {
		jobs[p.doc.Jobs[i].Job] = &p.doc.Jobs[i]
	}
	var items []string
	for i := range p.doc.Loads {
		l := &p.doc.Loads[i]
		if r := p.doc.Replan; r != nil && slices.Contains(r.Begun, l.Load) {
			continue
		}
		for _, part := range l.Parts {
			if stands := p.standsFor(l, jobs[part.Job]); stands > longStand {
				items = append(items, fmt.Sprintf("%s is filled by %s and stands %d min in the field for %s (%s), earliest %s",
					l.Load, hhmm(l.End), stands/60, part.Job, jobs[part.Job].Field, hhmm(*jobs[part.Job].Earliest)))
			}
		}
	}
	p.list("Filled early (tank_life_h of a product limits it)", items)
}

// standsFor is how long a load stands in the field before a job's earliest, in seconds.
func (p *page) standsFor(l *planfile.Load, j *planfile.Job) planfile.Time {
	if j == nil || j.Earliest == nil {
		return 0
	}
	var stands planfile.Time
	for _, t := range p.doc.Turns {
		if t.Load == l.Load && t.What == string(model.SpanPause) && t.From < *j.Earliest && t.To >= *j.Earliest {
			stands += *j.Earliest - t.From
		}
	}
	return stands
}

func (p *page) lowStock() {
	var items []string
	for _, l := range p.levels() {
		if l.low {
			items = append(items, fmt.Sprintf("%s: below its reorder level %s, down to %s %s", l.product, l.since(), stockAmount(l.least), l.unit))
		}
	}
	p.list("Low stock", items)
}
