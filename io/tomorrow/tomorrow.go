package tomorrow

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"padturn/model"
	"padturn/model/standing"
)

// nextDay is by how much times of the day become those of the next.
const nextDay model.Clock = 86_400

// day is the next day being made.
type day struct {
	s     *standing.Standing
	in    model.Input
	notes []string
}

// Of makes the next day of one that stands as s says. notes are what a person
// must know: what is carried otherwise than it stands, or not at all. Its error
// is a tank that nobody decided on.
func Of(s *standing.Standing) (in model.Input, notes []string, err error) {
	if err := undecided(s); err != nil {
		return in, nil, err
	}
	d := &day{s: s, in: s.Day}
	if err := d.settings(); err != nil {
		return in, nil, err
	}
	d.jobs()
	d.sprayers()
	d.in.Stock = s.Closing()
	d.deliveries()
	d.weather()
	return d.in, d.notes, nil
}

// undecided refuses a day with a tank that can't be sprayed out: nobody but a
// person can say where its acres go.
func undecided(s *standing.Standing) error {
	for _, t := range s.Stranded() {
		return fmt.Errorf("%s has %s ac of %s in its tank (load %s): %s. Decide by the labels, then report it done or dropped, with the acres left: padturn mark",
			t.Sprayer, t.Acres.Fixed(1), t.Mix, t.Load, t.Why)
	}
	return nil
}

func (d *day) note(format string, args ...any) {
	d.notes = append(d.notes, fmt.Sprintf(format, args...))
}

// jobs are what is left, the more important first.
func (d *day) jobs() {
	type left struct {
		row      model.JobRow
		priority model.Decimal
	}
	var list []left
	for i, j := range d.s.Jobs {
		if j.ToFill > 0 {
			list = append(list, left{d.job(i, j.ToFill), d.s.Problem.Jobs[i].Priority})
		}
	}
	slices.SortStableFunc(list, func(a, b left) int { return int(min(max(b.priority-a.priority, -1), 1)) })
	d.in.Jobs = nil
	for i := range list {
		d.in.Jobs = append(d.in.Jobs, list[i].row)
	}
	if len(list) == 0 {
		d.note("no work is left: there are no jobs yet")
	}
}

// job is a row with the acres that are left. What was due by now is due from the
// opening on; what may not be sprayed before a time of today may be.
func (d *day) job(i int, acres model.Decimal) model.JobRow {
	row := d.s.Day.Jobs[i]
	row.Acres = cut(acres, 10_000)
	if row.Due != nil {
		if *row.Due < nextDay {
			d.note("job %s was due at %s today: it is due at the opening", row.Job, row.Due.HHMM())
		}
		row.Due = model.Some(max(*row.Due-nextDay, d.s.Problem.Settings.Pad.Opens))
	}
	if row.Earliest != nil {
		row.Earliest = later(*row.Earliest)
	}
	if d.s.Jobs[i].Sprayed+d.s.Jobs[i].InTank > 0 {
		row.Note = strings.TrimPrefix(row.Note+"; the rest of "+d.s.Jobs[i].Asked.String()+" ac", "; ")
	}
	return row
}

// cut rounds a quantity down to a part of one: what is left of three full tanks
// is then no drop more than full. Something stays something.
func cut(x, parts model.Decimal) model.Decimal {
	shown := model.One / parts
	return max(x/shown*shown, min(x, 1))
}

// later is a time as the next day has it; nil where it is past by then.
func later(t model.Clock) *model.Clock {
	if t < nextDay {
		return nil
	}
	return model.Some(t - nextDay)
}

// deliveries are those that come tomorrow.
func (d *day) deliveries() {
	d.in.Deliveries = nil
	for _, x := range d.s.Deliveries {
		switch {
		case x.Arrived:
		case x.Row.At >= nextDay && x.Row.At < model.Never:
			x.Row.At -= nextDay
			d.in.Deliveries = append(d.in.Deliveries, x.Row)
		default:
			container := x.Row.Container
			if x.Row.Count > model.One {
				container += "s"
			}
			d.note("%s %s of %s did not arrive: add it to the deliveries when its time is known", x.Row.Count, container, x.Row.Product)
		}
	}
}

// weather is the holds and the forecast that reach into the next day.
func (d *day) weather() {
	d.in.Holds, d.in.Forecast = nil, nil
	for _, h := range d.s.Day.Holds {
		if h.To > nextDay {
			h.From, h.To = max(h.From-nextDay, 0), h.To-nextDay
			d.in.Holds = append(d.in.Holds, h)
		}
	}
	for _, w := range d.s.Day.Forecast {
		if w.To > nextDay {
			w.From, w.To = max(w.From-nextDay, 0), w.To-nextDay
			d.in.Forecast = append(d.in.Forecast, w)
		}
	}
}

// nextDate is the date after one; blank stays blank.
func nextDate(date string) (string, error) {
	if date == "" {
		return "", nil
	}
	day, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return "", err
	}
	return day.AddDate(0, 0, 1).Format(time.DateOnly), nil
}
