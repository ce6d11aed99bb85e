package audit

import (
	"math/big"
	"strings"

	"padturn/model"
)

// hold is a span [from, to) in which something must not be done.
type hold struct {
	from, to model.Clock
	scope    string
}

func (d *day) addHolds(in *model.Input) {
	for _, r := range in.Holds {
		h := hold{r.From, r.To, r.Scope}
		if name, ok := strings.CutPrefix(r.Scope, "bay:"); ok {
			if b := d.bays[name]; b != nil {
				b.shut = append(b.shut, h)
			}
			continue
		}
		d.holds = append(d.holds, h)
	}
	for _, r := range in.Forecast {
		if decimal(r.RainIn, new(big.Rat)).Sign() > 0 {
			d.holds = append(d.holds, hold{r.From, r.To, ""})
		}
		wind := larger(decimal(r.WindMph, new(big.Rat)), decimal(r.GustMph, new(big.Rat)))
		for _, p := range d.productOrder {
			if p.MaxWindMph != nil && less(p.MaxWindMph.Rat(), wind) {
				d.holds = append(d.holds, hold{r.From, r.To, "product:" + p.Product})
			}
		}
	}
}

// applies says whether a hold keeps this sprayer from spraying this job.
func (h hold) applies(s *sprayer, j *job) bool {
	if h.scope == "" {
		return true
	}
	if group, ok := strings.CutPrefix(h.scope, "@"); ok {
		return j.mix.anyStands("@" + group)
	}
	kind, name, _ := strings.Cut(h.scope, ":")
	switch kind {
	case "sprayer":
		return name == s.name
	case "field":
		return name == j.Field
	case "product":
		return j.mix.has(name)
	}
	return false
}

// holdsFor lists the holds that keep this sprayer from spraying this job.
func (d *day) holdsFor(s *sprayer, j *job) []hold {
	var list []hold
	for _, h := range d.holds {
		if h.applies(s, j) {
			list = append(list, h)
		}
	}
	return list
}

// open returns the earliest moment from t at which something that takes so
// long fits between the bay's own holds.
func (b *bay) open(t, duration model.Clock) model.Clock {
	for moved := true; moved; {
		moved = false
		for _, h := range b.shut {
			if t < h.to && t+duration > h.from {
				t, moved = h.to, true
			}
		}
	}
	return t
}

// meets returns a hold of the bay that the span [from, to) runs into.
func (b *bay) meets(from, to model.Clock) (hold, bool) {
	for _, h := range b.shut {
		if from < h.to && to > h.from {
			return h, true
		}
	}
	return hold{}, false
}
