package handout

import (
	"fmt"
	"math/big"
	"slices"
	"strings"

	"padturn/io/planfile"
	"padturn/model"
)

// Sheet is what a crew needs for one load.
type Sheet struct {
	Begun           bool // before the plan was made
	Load            string
	Bay             string
	Seq, OfBay      int // load Seq of OfBay on this bay
	Sprayer         string
	Before          string // what was in the sprayer's tank, in words
	Cleanout, Rinse string // levels done before it; blank for none
	Mix, MixNote    string
	Fields          []Field // in the order they are sprayed
	Area            Amount
	Rate            string // spray volume by area, with unit
	Spray           Amount // spray volume
	Carrier         string
	SetUp           planfile.Time // equals Start where there is none
	Ready           planfile.Time
	Start, End      planfile.Time
	BackAt          planfile.Time
	Lines           []Line // in adding order
	Changes         []Change
	JarTest         bool // first load of a mix that was not used before
	Cautions        []Caution
	Record          []Restricted // for each restricted-use product and field; nil without one
	QR              string       // text of the code
}

// Field is a job's share of a load.
type Field struct {
	Job, Field, Customer, Crop, Note string
	Area                             Amount // in this load
	SoFar, Total                     Amount // of the job with this load, and planned in all
	K, N                             int    // load K of N of the job
}

// Line is one thing that goes into the tank.
type Line struct {
	Step     int
	Product  string
	Form     string // formulation code; blank for water
	Carrier  bool
	Dry      bool
	Rate     string   // of the recipe; blank for the carrier
	Amount   Amount   // in one unit
	Measure  string   // as it is measured: jugs and what is poured of the next
	Weight   *Amount  // on a scale; nil where the density is not known or the amount is one
	From     string   // connection or container
	Tank     Amount   // volume in the tank after it
	Agitate  string   // before the next goes in; blank for nothing special
	Parts    []Amount // of the amount, by field
	EPARegNo string
}

// sheets makes the sheets of all loads. Loads are taken by time, so that what
// is rounded off one load of a job goes to its next; then they are put in the
// order of the bays.
func (w *writer) sheets() []Sheet {
	t := newTallies(w)
	out := make([]Sheet, 0, len(w.doc.Loads))
	for _, l := range w.doc.Loads {
		out = append(out, w.sheet(l, t))
	}
	place, count := map[string]int{}, map[string]int{}
	for i, b := range w.doc.Bays {
		place[b.Bay] = i
	}
	for i := range out {
		count[out[i].Bay]++
	}
	for i := range out {
		out[i].OfBay = count[out[i].Bay]
	}
	slices.SortStableFunc(out, func(a, b Sheet) int {
		if a.Bay != b.Bay {
			return place[a.Bay] - place[b.Bay]
		}
		return a.Seq - b.Seq
	})
	return out
}

// sprayOf is a load's spray volume.
func (w *writer) sprayOf(l planfile.Load, t *tallies) Amount {
	return sum(t.shares(l, tallied{what: "spray"}, w.volume(l.Gal), w.spray))
}

func (w *writer) sheet(l planfile.Load, t *tallies) Sheet {
	s := Sheet{
		Begun: w.begun(l.Load),
		Load:  l.Load, Bay: l.Bay, Seq: l.Seq, Sprayer: l.Sprayer, Before: w.before[l.Load].words(),
		Cleanout: l.Cleanout, Rinse: l.Rinse, Mix: l.Mix, MixNote: w.mixes[l.Mix].Note,
		Rate: w.sprayRate(l), Carrier: l.Carrier,
		SetUp: l.SetupStart, Ready: l.Ready, Start: l.Start, End: l.End, BackAt: l.BackAt,
		Changes: w.changes[l.Load], JarTest: w.untried[l.Load], QR: w.code(l.Load),
	}
	s.Fields, s.Area = w.fields(l, t)
	s.Spray = w.sprayOf(l, t)
	s.Lines = w.lines(l, s.Spray, t)
	s.Record = w.record(s)
	s.Cautions = w.sheetCautions(l, s)
	return s
}

func (w *writer) begun(load string) bool {
	return w.doc.Replan != nil && slices.Contains(w.doc.Replan.Begun, load)
}

// code is the text of a sheet's code: the parts are set apart by bars, which
// no name may hold.
func (w *writer) code(load string) string {
	return strings.Join([]string{"padturn", "load", load, w.doc.Day.Date, w.revision}, "|")
}

func (w *writer) fields(l planfile.Load, t *tallies) ([]Field, Amount) {
	areas := t.shares(l, tallied{what: "area"}, w.areaOf(l.Acres), w.area)
	var out []Field
	for i, p := range l.Parts {
		j := w.jobs[p.Job]
		k, n := t.place(p.Job)
		out = append(out, Field{
			Job: j.Job, Field: j.Field, Customer: j.Customer, Crop: j.Crop, Note: j.Note,
			Area: areas[i], SoFar: t.soFar(p.Job, w.area), Total: Amount{w.area.round(w.areaOf(t.planned[p.Job])), w.area},
			K: k, N: n,
		})
	}
	return out, sum(areas)
}

// lines lists what goes in. The first and the last line of the carrier share
// its rounded amount, and the tank ends at the rounded spray volume.
func (w *writer) lines(l planfile.Load, spray Amount, t *tallies) []Line {
	var out []Line
	in, carrier := new(big.Rat), w.carrier(l, t)
	for i, step := range l.Steps {
		in.Add(in, w.volume(step.Gal))
		line := w.line(l, step, t)
		if step.Source == planfile.SourceCarrier {
			last := i == len(l.Steps)-1 || l.Steps[len(l.Steps)-1].Source != planfile.SourceCarrier
			line.Amount, line.Weight = carrier.take(w, step, last)
			line.Measure = line.Amount.String()
		}
		line.Tank = Amount{min(w.spray.round(in), spray.Steps), w.spray}
		if i == len(l.Steps)-1 {
			line.Tank = spray
		}
		out = append(out, line)
	}
	return out
}

func (w *writer) line(l planfile.Load, step planfile.Step, t *tallies) Line {
	line := Line{Step: step.Step, Product: step.Product, From: w.from(l, step), Agitate: w.agitate(step)}
	p := w.products[step.Product]
	if p != nil {
		line.Form, line.EPARegNo = p.Form, p.EPARegNo
	}
	if step.Source == planfile.SourceCarrier {
		line.Carrier = true
		return line
	}
	line.Dry, line.Rate = p.dry, w.rate(l.Mix, step.Product)
	dose := model.Decimal(step.Amount).Rat()
	line.Parts = t.shares(l, tallied{"amount", step.Step}, p.exact(dose, p.amount), p.amount)
	line.Amount = sum(line.Parts)
	line.Measure = p.measure(line.Amount)
	if p.weight != nil && *p.weight != p.amount {
		weight := sum(t.shares(l, tallied{"weight", step.Step}, p.exact(dose, *p.weight), *p.weight))
		line.Weight = &weight
	}
	return line
}

// sum adds amounts of one scale; there is at least one.
func sum(list []Amount) Amount {
	total := list[0]
	for _, a := range list[1:] {
		total = total.plus(a)
	}
	return total
}

func (w *writer) rate(mix, product string) string {
	for _, i := range w.mixes[mix].Recipe {
		if i.Product == product {
			return i.Rate.String() + " " + unitWord(i.Unit)
		}
	}
	return ""
}

// from says where a product is taken from.
func (w *writer) from(l planfile.Load, step planfile.Step) string {
	switch step.Source {
	case planfile.SourceCarrier:
		return "carrier line"
	case planfile.SourceMetered:
		if step.Connection == 0 {
			return "a connection that nobody reported" // of a load that has begun
		}
		return fmt.Sprintf("connection %d", step.Connection) + w.insideNote(l.Load, step)
	}
	p := w.products[step.Product]
	if p.Pack == nil {
		return "hopper"
	}
	return "hopper, from " + p.pack() + "s"
}

// insideNote says what is changed on the connection while the load is filled.
func (w *writer) insideNote(load string, step planfile.Step) string {
	fresh, put := 0, false
	for _, c := range w.changes[load] {
		if !c.Inside || c.On != step.Product {
			continue
		}
		if c.Off == c.On {
			fresh++
		} else {
			put = true
		}
	}
	note := ""
	if put {
		note += ", put on during the fill"
	}
	if fresh > 0 {
		note += ", " + model.Count(fresh, "fresh "+orContainer(w.container(step.Product))) + " during the fill"
	}
	return note
}

// agitate says what has to happen before the next product goes in.
func (w *writer) agitate(step planfile.Step) string {
	p := w.products[step.Product]
	if step.Source == planfile.SourceCarrier || p == nil || !p.dry {
		return ""
	}
	note := "agitate until it is wholly dispersed"
	if m := w.doc.Day.SettleDryMin; m > 0 {
		note += ", " + m.String() + " min at the least"
	}
	return note
}
