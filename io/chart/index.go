package chart

import (
	"strings"

	"padturn/io/planfile"
	"padturn/model"
)

// index looks things of a document up by name.
type index struct {
	d      *planfile.Document
	jobs   map[string]*planfile.Job
	loads  map[string]*planfile.Load
	rinses map[string]planfile.Time // load to when its rinse starts
	rinseS map[string]planfile.Time // level to seconds
	late   map[string]bool          // load and job of the part that ends a job late
}

func newIndex(d *planfile.Document) index {
	x := index{d: d, jobs: map[string]*planfile.Job{}, loads: map[string]*planfile.Load{},
		rinses: map[string]planfile.Time{}, rinseS: map[string]planfile.Time{}, late: map[string]bool{}}
	for i := range d.Jobs {
		x.jobs[d.Jobs[i].Job] = &d.Jobs[i]
	}
	for i := range d.Loads {
		x.loads[d.Loads[i].Load] = &d.Loads[i]
	}
	for _, l := range d.Day.RinseLevels {
		x.rinseS[l.Name] = planfile.Time(model.CeilMinutes(model.Decimal(l.Min)))
	}
	for _, e := range d.Water {
		if load, ok := strings.CutPrefix(e.Event, "rinse "); ok {
			x.rinses[load] = e.At
		}
	}
	x.findLate()
	return x
}

// findLate marks the part that sprays a job's last acre, where that is after
// its due time. A job that is not sprayed whole is not late: it is left.
func (x *index) findLate() {
	left := map[string]bool{}
	for _, u := range x.d.Unsprayed {
		left[u.Job] = true
	}
	last := map[string]planfile.Spraying{}
	for _, p := range x.d.Sprayings() {
		if p.To >= last[p.Part.Job].To {
			last[p.Part.Job] = p
		}
	}
	for _, j := range x.d.Jobs {
		if p, ok := last[j.Job]; ok && j.Due != nil && !left[j.Job] && p.To > *j.Due {
			x.late[p.Load.Load+"\x00"+j.Job] = true
		}
	}
}

func (x *index) isLate(load, job string) bool { return x.late[load+"\x00"+job] }

// changeoverS is how long a changeover takes, in seconds.
func (x *index) changeoverS() planfile.Time {
	return planfile.Time(model.CeilMinutes(model.Decimal(x.d.Day.ChangeoverMin)))
}

// area is acres, or hectares where the day is printed in metric units.
func (x *index) area(acres planfile.Number) string {
	if x.d.Day.Units != "metric" {
		return acres.Fixed(1) + " ac"
	}
	ac, _ := model.FindUnit("ac")
	ha, _ := model.FindUnit("ha")
	r := model.Decimal(acres).Rat()
	return model.RoundRat(r.Mul(r, ac.Per(ha))).Fixed(1) + " ha"
}
