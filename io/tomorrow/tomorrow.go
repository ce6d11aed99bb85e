package tomorrow

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"padturn/model"
	"padturn/model/standing"
)

// nextDay is by how much times of the day become those of the next.
const nextDay model.Clock = 86_400

// copied are the files that the next day takes as they are.
var copied = []string{"mixes.csv", "recipes.csv", "products.csv", "rules.csv"}

// folder is the next day being made.
type folder struct {
	s     *standing.Standing
	files map[string][]byte
	notes []string
}

// Files makes the files of the next day of the folder dir, which stands as s
// says. notes are what a person must know: what is carried otherwise than it
// stands, or not at all. Its error is a file that cannot be read, or a tank
// that nobody decided on.
func Files(dir string, s *standing.Standing) (files map[string][]byte, notes []string, err error) {
	if err := undecided(s); err != nil {
		return nil, nil, err
	}
	f := &folder{s: s, files: map[string][]byte{}}
	for _, name := range copied {
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err == nil {
			f.files[name] = data
		} else if !os.IsNotExist(err) {
			return nil, nil, err
		}
	}
	settings, err := os.ReadFile(filepath.Join(dir, "day.yaml"))
	if err != nil && !os.IsNotExist(err) {
		return nil, nil, err
	}
	if f.files["day.yaml"], err = f.settings(settings); err != nil {
		return nil, nil, fmt.Errorf("day.yaml: %w", err)
	}
	f.jobs()
	f.sprayers()
	f.stock()
	f.deliveries()
	f.weather()
	return f.files, f.notes, nil
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

func (f *folder) note(format string, args ...any) {
	f.notes = append(f.notes, fmt.Sprintf(format, args...))
}

// jobs writes what is left of the jobs, the more important first.
func (f *folder) jobs() {
	type left struct {
		row      model.JobRow
		priority model.Decimal
	}
	var list []left
	for i, j := range f.s.Jobs {
		if j.ToFill > 0 {
			list = append(list, left{f.job(i, j.ToFill), f.s.Problem.Jobs[i].Priority})
		}
	}
	slices.SortStableFunc(list, func(a, b left) int { return int(min(max(b.priority-a.priority, -1), 1)) })
	rows := make([]model.JobRow, len(list))
	for i := range list {
		rows[i] = list[i].row
	}
	f.files["jobs.csv"] = jobsCSV(rows)
	if len(rows) == 0 {
		f.note("no work is left: jobs.csv has no rows yet")
	}
}

// job is a row with the acres that are left. What was due by now is due from the
// opening on; what may not be sprayed before a time of today may be.
func (f *folder) job(i int, acres model.Decimal) model.JobRow {
	row := f.s.Day.Jobs[i]
	row.Acres = inFile(acres)
	if row.Due != nil {
		if *row.Due < nextDay {
			f.note("job %s was due at %s today: it is due at the opening", row.Job, row.Due.HHMM())
		}
		row.Due = model.Some(max(*row.Due-nextDay, f.s.Problem.Settings.Pad.Opens))
	}
	if row.Earliest != nil {
		row.Earliest = later(*row.Earliest)
	}
	if f.s.Jobs[i].Sprayed+f.s.Jobs[i].InTank > 0 {
		row.Note = strings.TrimPrefix(row.Note+"; the rest of "+f.s.Jobs[i].Asked.String()+" ac", "; ")
	}
	return row
}

// inFile is acres as the new sheet has them: at most four decimals, and rounded
// down, so that what is left of three full tanks is no drop more than full.
func inFile(acres model.Decimal) model.Decimal {
	const shown = model.One / 10_000
	return max(acres/shown*shown, 1)
}

// later is a time as the next day has it; nil where it is past by then.
func later(t model.Clock) *model.Clock {
	if t < nextDay {
		return nil
	}
	return model.Some(t - nextDay)
}

// stock writes what is there, what hangs on the connections first: at the next
// opening the opened containers go on in the order of the file.
func (f *folder) stock() {
	f.files["stock.csv"] = stockCSV(f.s.Closing())
}

// deliveries writes those that come tomorrow.
func (f *folder) deliveries() {
	var rows []model.DeliveryRow
	for _, d := range f.s.Deliveries {
		switch {
		case d.Arrived:
		case d.Row.At >= nextDay && d.Row.At < model.Never:
			d.Row.At -= nextDay
			rows = append(rows, d.Row)
		default:
			f.note("%s %s of %s did not arrive: add it to deliveries.csv when its time is known", d.Row.Count, d.Row.Container, d.Row.Product)
		}
	}
	if len(rows) > 0 {
		f.files["deliveries.csv"] = deliveriesCSV(rows)
	}
}

// weather writes the holds and the forecast that reach into the next day.
func (f *folder) weather() {
	var holds []model.HoldRow
	for _, h := range f.s.Day.Holds {
		if h.To > nextDay {
			h.From, h.To = max(h.From-nextDay, 0), h.To-nextDay
			holds = append(holds, h)
		}
	}
	if len(holds) > 0 {
		f.files["holds.csv"] = holdsCSV(holds)
	}
	var forecast []model.ForecastRow
	for _, w := range f.s.Day.Forecast {
		if w.To > nextDay {
			w.From, w.To = max(w.From-nextDay, 0), w.To-nextDay
			forecast = append(forecast, w)
		}
	}
	if len(forecast) > 0 {
		f.files["forecast.csv"] = forecastCSV(forecast)
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
