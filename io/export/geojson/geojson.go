// Package geojson writes the fields of a plan as points (RFC 7946) with the
// loads that are sprayed there, for a map. A field is the point that its jobs
// give; there are no boundaries in a plan, and none are made up.
package geojson

import (
	"encoding/json"
	"slices"

	"padturn/io/planfile"
)

// Collection is a FeatureCollection of the fields.
type Collection struct {
	Type     string    `json:"type"`
	Features []Feature `json:"features"`
}

// Feature is a field. Its geometry is null where no job of it has a place.
type Feature struct {
	Type       string     `json:"type"`
	ID         string     `json:"id"`
	Geometry   *Point     `json:"geometry"`
	Properties Properties `json:"properties"`
}

// Point is a position: longitude, then latitude, in degrees (WGS 84).
type Point struct {
	Type        string            `json:"type"`
	Coordinates []planfile.Number `json:"coordinates"`
}

// Properties is what the plan does on a field. Times are local, HH:MM:SS with
// +1 after midnight, on the plan's date.
type Properties struct {
	Field        string          `json:"field"`
	Customer     string          `json:"customer,omitempty"`
	Date         string          `json:"date,omitempty"`
	Crops        []string        `json:"crops"`
	Jobs         []string        `json:"jobs"`
	AskedAcres   planfile.Number `json:"asked_ac"`
	PlannedAcres planfile.Number `json:"planned_ac"`
	LeftAcres    planfile.Number `json:"left_ac"`
	From         *planfile.Time  `json:"from,omitempty"` // first spraying
	To           *planfile.Time  `json:"to,omitempty"`   // last spraying
	Loads        []Load          `json:"loads"`
}

// Load is a load's part on a field.
type Load struct {
	Load    string          `json:"load"`
	Sprayer string          `json:"sprayer"`
	Mix     string          `json:"mix"`
	Job     string          `json:"job"`
	Acres   planfile.Number `json:"ac"`
	Filled  planfile.Time   `json:"filled"` // the filling's end
	From    planfile.Time   `json:"from"`
	To      planfile.Time   `json:"to"`
}

// Fields returns the GeoJSON of a plan, fields in the order of their first job,
// and the names of the fields that are on no map because none of their jobs
// has a place.
func Fields(d *planfile.Document) (data []byte, unplaced []string, err error) {
	a := atlas{doc: d, fields: []Feature{}, byJob: map[string]int{}, byField: map[[2]string]int{}}
	for i := range d.Jobs {
		a.addJob(&d.Jobs[i])
	}
	for _, s := range d.Sprayings() {
		a.addSpraying(s)
	}
	for _, u := range d.Unsprayed {
		a.fields[a.byJob[u.Job]].Properties.LeftAcres += u.Acres
	}
	for _, f := range a.fields {
		if f.Geometry == nil {
			unplaced = append(unplaced, f.Properties.Field)
		}
	}
	data, err = json.MarshalIndent(Collection{"FeatureCollection", a.fields}, "", "  ")
	return append(data, '\n'), unplaced, err
}

// atlas is the collection being made.
type atlas struct {
	doc     *planfile.Document
	fields  []Feature
	byJob   map[string]int
	byField map[[2]string]int // by field and customer: two farms may both have a Home 80
}

func (a *atlas) addJob(j *planfile.Job) {
	key := [2]string{j.Field, j.Customer}
	at, known := a.byField[key]
	if !known {
		at = len(a.fields)
		a.byField[key] = at
		a.fields = append(a.fields, a.newField(j))
	}
	a.byJob[j.Job] = at
	f := &a.fields[at]
	if f.Geometry == nil && j.Lat != nil && j.Lon != nil {
		f.Geometry = &Point{"Point", []planfile.Number{*j.Lon, *j.Lat}}
	}
	p := &f.Properties
	p.Jobs = append(p.Jobs, j.Job)
	p.AskedAcres += j.Acres
	if j.Crop != "" && !slices.Contains(p.Crops, j.Crop) {
		p.Crops = append(p.Crops, j.Crop)
	}
}

func (a *atlas) newField(j *planfile.Job) Feature {
	id := j.Field
	if j.Customer != "" {
		id = j.Customer + "/" + j.Field
	}
	return Feature{Type: "Feature", ID: id, Properties: Properties{
		Field: j.Field, Customer: j.Customer, Date: a.doc.Day.Date,
		Crops: []string{}, Jobs: []string{}, Loads: []Load{},
	}}
}

func (a *atlas) addSpraying(s planfile.Spraying) {
	p := &a.fields[a.byJob[s.Part.Job]].Properties
	p.PlannedAcres += s.Part.Acres
	p.Loads = append(p.Loads, Load{
		s.Load.Load, s.Load.Sprayer, s.Load.Mix, s.Part.Job, s.Part.Acres, s.Load.End, s.From, s.To,
	})
	if p.From == nil || s.From < *p.From {
		p.From = new(s.From)
	}
	if p.To == nil || s.To > *p.To {
		p.To = new(s.To)
	}
}
