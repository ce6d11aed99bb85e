package handout

import (
	"math/big"

	"padturn/io/planfile"
	"padturn/model"
)

// tallied names a sum that is kept for every job.
type tallied struct {
	what string
	step int
}

// tallies keeps, for every job, what its loads were given of everything, so
// that rounding loses nothing. Loads have to come by time: a job's loads are
// one sprayer's, so their order is that of the job.
type tallies struct {
	sums    map[string]map[tallied]*tally
	loads   map[string]int // of a job, so far
	ofJob   map[string]int // loads that have the job
	planned map[string]planfile.Number
}

func newTallies(w *writer) *tallies {
	t := &tallies{
		sums: map[string]map[tallied]*tally{}, loads: map[string]int{}, ofJob: map[string]int{},
		planned: map[string]planfile.Number{},
	}
	for _, l := range w.doc.Loads {
		for _, p := range l.Parts {
			t.ofJob[p.Job]++
			t.planned[p.Job] += p.Acres
		}
	}
	return t
}

// shares divides what a load has of something among its parts, by acres, and
// rounds each part so that a job's parts add up.
func (t *tallies) shares(l planfile.Load, what tallied, units *big.Rat, s Scale) []Amount {
	out := make([]Amount, 0, len(l.Parts))
	for _, p := range l.Parts {
		share := new(big.Rat).SetFrac64(int64(p.Acres), max(int64(l.Acres), 1))
		out = append(out, t.of(p.Job, what).add(share.Mul(share, units), s))
	}
	return out
}

// whole rounds what a load has of something that is not told field by field:
// the carrier. It is carried on from load to load of the job the load begins
// with.
func (t *tallies) whole(l planfile.Load, what tallied, units *big.Rat, s Scale) Amount {
	return t.of(l.Parts[0].Job, what).add(units, s)
}

func (t *tallies) of(job string, what tallied) *tally {
	if t.sums[job] == nil {
		t.sums[job] = map[tallied]*tally{}
	}
	if t.sums[job][what] == nil {
		t.sums[job][what] = &tally{}
	}
	return t.sums[job][what]
}

// place counts a load of the job: it is the kth of n.
func (t *tallies) place(job string) (k, n int) {
	t.loads[job]++
	return t.loads[job], t.ofJob[job]
}

func (t *tallies) soFar(job string, s Scale) Amount {
	return Amount{t.of(job, tallied{what: "area"}).told, s}
}

// pour is a load's carrier, which goes in in up to two lines.
type pour struct {
	volume Amount // what is left of it
	weight *Amount
}

// carrier is the load's carrier as a whole; one that is a product of known
// density can be weighed too.
func (w *writer) carrier(l planfile.Load, t *tallies) *pour {
	c := &pour{volume: t.whole(l, tallied{what: "carrier"}, w.volume(l.CarrierGal), w.spray)}
	if p := w.products[l.Carrier]; p != nil && p.weight != nil {
		pounds := p.convert(model.Decimal(l.CarrierGal).Rat(), unit("gal"), unit(p.weight.Unit))
		weight := t.whole(l, tallied{what: "carrier weight"}, pounds, *p.weight)
		c.weight = &weight
	}
	return c
}

// take returns what a line has of the carrier: its own rounded share, or what
// is left where it is the last.
func (c *pour) take(w *writer, step planfile.Step, last bool) (volume Amount, weight *Amount) {
	volume = c.volume
	if !last {
		volume.Steps = min(w.spray.round(w.volume(step.Gal)), c.volume.Steps)
	}
	c.volume.Steps -= volume.Steps
	if c.weight == nil {
		return volume, nil
	}
	share := *c.weight
	if !last {
		p := w.products[step.Product]
		exact := p.convert(model.Decimal(step.Gal).Rat(), unit("gal"), unit(p.weight.Unit))
		share.Steps = min(p.weight.round(exact), c.weight.Steps)
	}
	c.weight.Steps -= share.Steps
	return volume, &share
}

func unit(name string) model.Unit {
	u, _ := model.FindUnit(name)
	return u
}

// volume turns gallons into the unit that spray volumes are printed in.
func (w *writer) volume(gal planfile.Number) *big.Rat {
	per := unit("gal").Per(unit(w.by.spray[0].Unit))
	return per.Mul(per, model.Decimal(gal).Rat())
}

// areaOf turns acres into the unit that areas are printed in.
func (w *writer) areaOf(acres planfile.Number) *big.Rat {
	per := unit("ac").Per(unit(w.by.area[0].Unit))
	return per.Mul(per, model.Decimal(acres).Rat())
}

// loadScales chooses how finely areas and spray volumes are printed, by the
// smallest of them.
func (w *writer) loadScales() (area, spray Scale) {
	var acres, gal planfile.Number
	for i, l := range w.doc.Loads {
		if i == 0 || l.Gal < gal {
			gal = l.Gal
		}
		for _, p := range l.Parts {
			if acres == 0 || p.Acres < acres {
				acres = p.Acres
			}
		}
	}
	area = w.by.area.pick(w.areaOf(acres), unit(w.by.area[0].Unit))
	spray = w.by.spray.pick(w.volume(gal), unit(w.by.spray[0].Unit))
	return area, spray
}

// sprayRate is gallons an acre, or litres a hectare.
func (w *writer) sprayRate(l planfile.Load) string {
	gpa := w.jobs[l.Parts[0].Job].GPA
	if !w.metric {
		return gpa.String() + " gal/ac"
	}
	perHa := unit("gal").Per(unit("L"))
	perHa.Quo(perHa, unit("ac").Per(unit("ha")))
	return model.RoundRat(perHa.Mul(perHa, model.Decimal(gpa).Rat())).Fixed(1) + " L/ha"
}
