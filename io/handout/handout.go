package handout

import (
	"slices"

	"padturn/io/planfile"
)

// Handout is all that a crew is given for a day.
type Handout struct {
	Date      string // ISO 8601; may be blank
	Revision  string // of the plan
	Replan    string // which replan it is, in words; blank for the plan of a whole day
	Metric    bool
	Opens     planfile.Time
	Closes    planfile.Time
	Rounding  string // the rule, in words
	Bays      []Bay
	Sheets    []Sheet // bay by bay, in the order they are filled
	Stocks    []Stock
	Unsprayed []Left
	Warnings  []string
	Cautions  []string
}

// Bay is a bay's load order and what has to be brought to it.
type Bay struct {
	Name    string
	Opening []Hooked // by connection, the first first
	Order   []Turn
	Hours   []Hour // those in which something is brought, connected or emptied
}

// ToFill lists the sheets of the loads that had not begun when the plan was
// made. Those of the others would only invite somebody to fill them again.
func (h *Handout) ToFill() []Sheet {
	return slices.DeleteFunc(slices.Clone(h.Sheets), func(s Sheet) bool { return s.Begun })
}

// Hooked is what is on a connection when the pad opens.
type Hooked struct {
	Connection int
	Product    string // blank: nothing
	Plumbed    bool
}

// Turn is one line of a load order.
type Turn struct {
	Begun          bool // before the plan was made: a record, and nothing to do
	Seq            int
	Load           string
	Sprayer        string
	Mix            string
	Fields         []string
	Spray          Amount
	SetUp          planfile.Time // equals Start where there is none
	Start, End     planfile.Time
	Rinse          string // level of the manifold's rinse before; blank for none
	Changes        []Change
	FirstOfMix     bool // a jar test comes first
	RestrictedUse  bool
	SprayerCleaned string // level of the sprayer's cleanout before; blank for none
}

// Change is something put on a connection.
type Change struct {
	At         planfile.Time
	Connection int
	Off        string // blank: the connection was empty
	On         string // equal to Off for a fresh container
	Container  string // what comes, such as "tote, 110 gal"; blank where not known
	Load       string // for which
	Inside     bool   // during the filling
}

// Left is acres that the plan leaves undone.
type Left struct {
	Job, Field string
	Acres      string // with unit
	Reason     string
}

// roundingRule is [Handout.Rounding].
const roundingRule = "A product is printed to one step all day (its last digit), at most 1/100 of its smallest dose " +
	"where the finest measure allows. Within a job, what is rounded off one load is carried on to the next and the last load " +
	"carries the rest, so the printed amounts of a job add up to its total exactly."

// Of works out a day's handout. Its error is a plan that speaks of products or
// units that there are not, as one edited by hand may.
func Of(d *planfile.Document) (*Handout, error) {
	if err := check(d); err != nil {
		return nil, err
	}
	revision, err := d.Revision()
	if err != nil {
		return nil, err
	}
	w := newWriter(d, revision)
	sheets := w.sheets()
	return &Handout{
		Date: d.Day.Date, Revision: revision, Replan: d.Replanned(), Metric: w.metric,
		Opens: d.Day.Opens, Closes: d.Day.Closes, Rounding: roundingRule,
		Bays: w.bays(sheets), Sheets: sheets, Stocks: w.stocks(), Unsprayed: w.unsprayed(),
		Warnings: d.Warnings, Cautions: d.Cautions,
	}, nil
}

// writer knows the plan by name.
type writer struct {
	doc      *planfile.Document
	revision string
	metric   bool
	by       ladders
	products map[string]*substance
	mixes    map[string]planfile.Mix
	jobs     map[string]planfile.Job
	changes  map[string][]Change // by load
	before   map[string]tank     // by load
	untried  map[string]bool     // loads that are the first of their mix
	area     Scale
	spray    Scale
}

func newWriter(d *planfile.Document, revision string) *writer {
	w := &writer{
		doc: d, revision: revision, metric: d.Day.Units == "metric", by: usLadders,
		mixes: map[string]planfile.Mix{}, jobs: map[string]planfile.Job{},
		changes: map[string][]Change{},
	}
	if w.metric {
		w.by = metricLadders
	}
	w.products = substances(d, w.by)
	for _, m := range d.Mixes {
		w.mixes[m.Mix] = m
	}
	for _, j := range d.Jobs {
		w.jobs[j.Job] = j
	}
	for _, c := range d.Changeovers {
		w.changes[c.Load] = append(w.changes[c.Load], w.change(c))
	}
	w.before, w.untried = tanks(d), firstOfMix(d)
	w.area, w.spray = w.loadScales()
	return w
}

func (w *writer) change(c planfile.Changeover) Change {
	return Change{
		At: c.At, Connection: c.Connection, Off: c.Off, On: c.On,
		Container: w.container(c.On), Load: c.Load, Inside: c.Inside,
	}
}

// bays puts the sheets' loads into the order of each bay.
func (w *writer) bays(sheets []Sheet) []Bay {
	var out []Bay
	for _, b := range w.doc.Bays {
		bay := Bay{Name: b.Bay, Opening: opening(b)}
		own := sheetsOf(sheets, b.Bay)
		for _, s := range own {
			bay.Order = append(bay.Order, turn(s))
		}
		bay.Hours = w.hours(own)
		out = append(out, bay)
	}
	return out
}

func sheetsOf(sheets []Sheet, bay string) []Sheet {
	return slices.DeleteFunc(slices.Clone(sheets), func(s Sheet) bool { return s.Bay != bay })
}

func opening(b planfile.Bay) []Hooked {
	var out []Hooked
	for i := range b.Connections {
		h := Hooked{Connection: i + 1}
		switch hooked := i - len(b.Plumbed); {
		case hooked < 0:
			h.Product, h.Plumbed = b.Plumbed[i], true
		case hooked < len(b.Hooked):
			h.Product = b.Hooked[hooked]
		}
		out = append(out, h)
	}
	return out
}

func turn(s Sheet) Turn {
	t := Turn{
		Begun: s.Begun, Seq: s.Seq, Load: s.Load, Sprayer: s.Sprayer, Mix: s.Mix, Spray: s.Spray,
		SetUp: s.SetUp, Start: s.Start, End: s.End, Rinse: s.Rinse, Changes: s.Changes,
		FirstOfMix: s.JarTest, RestrictedUse: len(s.Record) > 0, SprayerCleaned: s.Cleanout,
	}
	for _, f := range s.Fields {
		t.Fields = append(t.Fields, f.Field)
	}
	return t
}

func (w *writer) unsprayed() []Left {
	var out []Left
	for _, u := range w.doc.Unsprayed {
		acres := Amount{w.area.round(w.areaOf(u.Acres)), w.area}
		out = append(out, Left{u.Job, w.jobs[u.Job].Field, acres.String(), u.Reason})
	}
	return out
}
