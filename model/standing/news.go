package standing

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"padturn/model"
)

// hear brings the day up to date: jobs, holds, deliveries and sprayers.
func (s *Standing) hear() error {
	s.Day.Jobs = slices.Clone(s.Day.Jobs)
	for i := range s.Day.Jobs {
		if j := &s.Day.Jobs[i]; j.Job == "" {
			j.Job = strconv.Itoa(i + 1)
		}
	}
	s.Jobs = make([]Job, len(s.Day.Jobs))
	s.Day.Holds = slices.Clone(s.Day.Holds)
	for _, r := range s.Day.Deliveries {
		s.Deliveries = append(s.Deliveries, Delivery{Row: r, Planned: r.At})
	}
	s.outs = make([][]span, len(s.Day.Sprayers))
	for _, f := range s.facts {
		switch news := f.News.(type) {
		case JobMark:
			s.hearJob(news)
		case HoldMark:
			s.Day.Holds = append(s.Day.Holds, news.Hold)
		case DeliveryMark:
			s.hearDelivery(f.At, news)
		case SprayerMark:
			s.hearSprayer(f.At, news)
		}
	}
	s.presumeDeliveries()
	return s.build()
}

// build makes the problem of the day as it is known now.
func (s *Standing) build() error {
	for i, j := range s.Day.Jobs {
		s.Jobs[i].Name, s.Jobs[i].Asked = j.Job, j.Acres
	}
	problem, report := model.NewProblem(s.Day)
	s.Problem = problem
	var all []error
	for _, f := range report.Errors {
		value := strconv.Quote(f.Value)
		if strings.HasPrefix(f.Want, "expected ") {
			value += ":"
		}
		all = append(all, fmt.Errorf("with what was reported, %s: %s: %s %s", s.place(f), f.Column, value, f.Want))
	}
	return errors.Join(all...)
}

// place says where a fault of the day is.
func (s *Standing) place(f model.Fault) string {
	if f.Table == model.JobsTable && f.Row >= 0 {
		return "job " + s.Day.Jobs[f.Row].Job
	}
	if f.Table == model.HoldsTable && f.Row >= 0 {
		h := s.Day.Holds[f.Row]
		return "the hold " + h.From.HHMM() + "-" + h.To.HHMM()
	}
	return string(f.Table)
}

func (s *Standing) hearJob(m JobMark) {
	i := slices.IndexFunc(s.Day.Jobs, func(r model.JobRow) bool { return r.Job == m.Row.Job })
	switch {
	case m.Change == JobAdded && i < 0:
		s.Day.Jobs = append(s.Day.Jobs, m.Row)
		s.Jobs = append(s.Jobs, Job{Added: true})
	case i < 0 || m.Change == JobAdded:
		s.oddity("job %s was %s, but there is %s of that name", m.Row.Job, m.Change, map[bool]string{true: "none", false: "one already"}[i < 0])
	case m.Change == JobDropped:
		s.Jobs[i].Dropped = true
	default:
		s.Jobs[i].Dropped = false
		for _, column := range m.Given {
			copyColumn(column, &s.Day.Jobs[i], &m.Row)
		}
	}
}

// JobColumns lists the columns of a job that can be reported, its name aside.
func JobColumns() []string {
	return []string{
		"field", "sprayer", "mix", "acres", "customer", "crop", "drive_min", "lat", "lon",
		"earliest", "due", "priority", "gpa", "note",
	}
}

func copyColumn(column string, to, from *model.JobRow) {
	switch column {
	case "field":
		to.Field = from.Field
	case "sprayer":
		to.Sprayer = from.Sprayer
	case "mix":
		to.Mix = from.Mix
	case "acres":
		to.Acres = from.Acres
	case "customer":
		to.Customer = from.Customer
	case "crop":
		to.Crop = from.Crop
	case "drive_min":
		to.DriveMin = from.DriveMin
	case "lat":
		to.Lat = from.Lat
	case "lon":
		to.Lon = from.Lon
	case "earliest":
		to.Earliest = from.Earliest
	case "due":
		to.Due = from.Due
	case "priority":
		to.Priority = from.Priority
	case "gpa":
		to.GPA = from.GPA
	case "note":
		to.Note = from.Note
	}
}

func (s *Standing) hearDelivery(at model.Clock, m DeliveryMark) {
	known := false
	for i := range s.Deliveries {
		d := &s.Deliveries[i]
		if d.Row.Product != m.Product || d.Planned != m.Planned {
			continue
		}
		known = true
		switch {
		case m.Arrived:
			d.Row.At, d.Arrived = at, true
		case m.Until != nil:
			d.Row.At, d.Arrived = *m.Until, false
		default:
			d.Row.At, d.Arrived = model.Never, false
		}
	}
	if !known {
		s.oddity("deliveries.csv has no %s at %s", m.Product, m.Planned.HHMM())
	}
}

// presumeDeliveries takes deliveries whose time has come for arrived, and gives
// the day what is known of all of them.
func (s *Standing) presumeDeliveries() {
	s.Day.Deliveries = nil
	for i := range s.Deliveries {
		d := &s.Deliveries[i]
		if !d.Arrived && d.Row.At <= s.At {
			d.Arrived, d.Presumed = true, true
		}
		s.Day.Deliveries = append(s.Day.Deliveries, d.Row)
	}
}

func (s *Standing) hearSprayer(at model.Clock, m SprayerMark) {
	i := slices.IndexFunc(s.Day.Sprayers, func(r model.SprayerRow) bool { return r.Sprayer == m.Sprayer })
	if i < 0 {
		s.oddity("sprayers.csv has no sprayer %s", m.Sprayer)
		return
	}
	outs := s.outs[i]
	if n := len(outs); n > 0 && outs[n-1].to > at {
		outs[n-1].to = at // what was expected gives way to what is known now
	}
	if m.Out {
		until := model.Never
		if m.Until != nil {
			until = *m.Until
		}
		outs = append(outs, span{at, until})
	}
	s.outs[i] = outs
}
