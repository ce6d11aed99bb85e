// Package isoxml writes the tasks of a plan as ISO 11783-10 task data, version
// 4, for the terminals of the sprayers: customers, fields, products, the mixes
// with their recipes, and a task for each job with its spray volume.
//
// It holds what can be checked against open descriptions of the format. Left
// out are devices and connections (a plan knows no terminal's NAME), farms (it
// knows customers only), grids and boundaries (it has no maps), and what was
// done (it is a plan). It reads no task data.
package isoxml

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"slices"
	"strings"
	"time"

	"padturn/io/planfile"
)

// Options is what the plan's document does not say.
type Options struct {
	Sprayer string // whose tasks; blank: all
	Version string // of padturn, for the file's head
}

// TaskData returns the bytes of a TASKDATA.XML, and the names that had to be
// shortened to the 32 characters that the format allows. Tasks follow the order
// in which they are begun. Its error is a rate or quantity that the format cannot
// hold.
func TaskData(d *planfile.Document, o Options) (data []byte, shortened []string, err error) {
	w := writer{doc: d, parties: map[string]string{}, fields: map[[2]string]string{}, products: map[string]string{}}
	if day, err := time.Parse(time.DateOnly, d.Day.Date); err == nil {
		w.day = &day
	}
	w.root = taskData{
		Major: 4, Minor: 2, Maker: "padturn", Version: w.short(o.Version), Origin: originFarm,
	}
	if err := w.tasks(o.Sprayer); err != nil {
		return nil, nil, err
	}
	var out bytes.Buffer
	out.WriteString(xml.Header)
	enc := xml.NewEncoder(&out)
	enc.Indent("", "  ")
	if err := enc.Encode(w.root); err != nil {
		return nil, nil, err
	}
	out.WriteByte('\n')
	return out.Bytes(), w.shortened, nil
}

// writer makes the file; its maps give the id of what is in it already.
type writer struct {
	doc       *planfile.Document
	day       *time.Time // nil where the plan has no date
	root      taskData
	parties   map[string]string
	fields    map[[2]string]string // by field and customer
	products  map[string]string    // single ones by name, mixtures by mix and volume
	shortened []string
}

// tasks adds a task for each job that some load sprays, in the order in which
// they are begun.
func (w *writer) tasks(sprayer string) error {
	jobs := map[string]*planfile.Job{}
	for i := range w.doc.Jobs {
		jobs[w.doc.Jobs[i].Job] = &w.doc.Jobs[i]
	}
	at := map[string]int{}
	for _, s := range w.doc.Sprayings() {
		if sprayer != "" && s.Load.Sprayer != sprayer {
			continue
		}
		if _, known := at[s.Part.Job]; !known {
			job := jobs[s.Part.Job]
			if job == nil {
				return fmt.Errorf("load %s sprays job %s, which the plan does not list", s.Load.Load, s.Part.Job)
			}
			t, err := w.task(job, s.Load)
			if err != nil {
				return err
			}
			at[s.Part.Job] = len(w.root.Tasks)
			w.root.Tasks = append(w.root.Tasks, t)
		}
		if w.day != nil {
			t := &w.root.Tasks[at[s.Part.Job]]
			t.Times = append(t.Times, planned{w.moment(s.From), w.moment(s.To), timePlanned})
		}
	}
	return nil
}

// task is a job with its spray volume as the rate of the mix.
func (w *writer) task(j *planfile.Job, l *planfile.Load) (task, error) {
	rate, err := volumeRate(j.GPA)
	if err != nil {
		return task{}, fmt.Errorf("job %s: %w", j.Job, err)
	}
	mix, err := w.mixture(j, l)
	if err != nil {
		return task{}, err
	}
	const zoneCode = 1
	return task{
		ID:       fmt.Sprintf("TSK%d", len(w.root.Tasks)+1),
		Name:     cut(j.Job+" "+j.Mix, mostRunes),
		Customer: w.customer(j.Customer), Field: w.field(j), Status: statusPlanned, DefaultZone: zoneCode,
		Zone: zone{zoneCode, w.short(j.Mix), variable{volumePerArea, rate, mix}},
	}, nil
}

func (w *writer) customer(name string) string {
	if name == "" {
		return ""
	}
	id, known := w.parties[name]
	if !known {
		id = fmt.Sprintf("CTR%d", len(w.parties)+1)
		w.parties[name] = id
		w.root.Customers = append(w.root.Customers, customer{id, w.short(name)})
	}
	return id
}

// field adds the field of a job. The format wants its area, which a plan does
// not know: the largest job on it is the best there is.
func (w *writer) field(j *planfile.Job) string {
	key := [2]string{j.Field, j.Customer}
	if id, known := w.fields[key]; known {
		return id
	}
	f := partfield{
		ID: fmt.Sprintf("PFD%d", len(w.fields)+1), Name: w.short(j.Field), Customer: w.customer(j.Customer),
	}
	for _, other := range w.doc.Jobs {
		if other.Field != j.Field || other.Customer != j.Customer {
			continue
		}
		f.Area = max(f.Area, squareMetres(other.Acres))
		if f.Point == nil && other.Lat != nil && other.Lon != nil {
			f.Point = &point{pointReference, other.Lat.String(), other.Lon.String()}
		}
	}
	w.fields[key] = f.ID
	w.root.Fields = append(w.root.Fields, f)
	return f.ID
}

// mostRunes is how long a name may be.
const mostRunes = 32

// short cuts a name to what the format allows, and remembers that it did.
func (w *writer) short(name string) string {
	if cut := cut(name, mostRunes); cut != name {
		if !slices.Contains(w.shortened, name) {
			w.shortened = append(w.shortened, name)
		}
		return cut
	}
	return name
}

func cut(name string, most int) string {
	runes := []rune(name)
	if len(runes) <= most {
		return name
	}
	return strings.TrimSpace(string(runes[:most]))
}

// moment is a local time without a zone, as xs:dateTime allows it.
func (w *writer) moment(at planfile.Time) string {
	return w.day.Add(time.Duration(at) * time.Second).Format("2006-01-02T15:04:05")
}
