package standing

import (
	"cmp"
	"slices"

	"padturn/model"
)

// span is a time [from, to).
type span struct{ from, to model.Clock }

// blocked lists when a part of a load may not be sprayed (R9), by time, not
// overlapping: holds, hours outside spraying, the job's earliest, and the times
// its sprayer is out.
func (s *Standing) blocked(l *Planned, job int) []span {
	set, j := &s.Problem.Settings, &s.Problem.Jobs[job]
	list := []span{{0, max(set.SprayFrom, j.Earliest)}, {set.SprayUntil, model.Never}}
	for i := range s.Problem.Holds {
		if h := &s.Problem.Holds[i]; s.applies(h, l, j) {
			list = append(list, span{h.From, h.To})
		}
	}
	return merged(append(list, s.outs[s.sprayer(l.Sprayer)]...))
}

// applies says whether a hold keeps a load from being sprayed on a job: by the
// products that are in its tank, whatever the job's mix is by now.
func (s *Standing) applies(h *model.Hold, l *Planned, j *model.Job) bool {
	scope := &h.Scope
	switch {
	case scope.Bay != model.None:
		return false
	case scope.Sprayer != model.None:
		return s.Problem.Sprayers[scope.Sprayer].Name == l.Sprayer
	case scope.Field != "":
		return scope.Field == j.Field
	case scope.Product == model.Water:
		return l.CarrierGal > 0 && !slices.ContainsFunc(l.Doses, func(d Dose) bool { return s.isCarrier(l, d.Product) })
	case scope.Product != "":
		return slices.ContainsFunc(l.Doses, func(d Dose) bool { return d.Product == scope.Product })
	case scope.Group != "":
		return slices.ContainsFunc(l.Doses, func(d Dose) bool {
			return slices.Contains(s.Problem.Products[s.product(d.Product)].Groups, scope.Group)
		})
	}
	return true
}

// isCarrier says whether a product is the carrier of a load's mix.
func (s *Standing) isCarrier(l *Planned, product string) bool {
	m := s.mix(l.Mix)
	return m != model.None && s.Problem.Mixes[m].Carrier != model.None &&
		s.Problem.Products[s.Problem.Mixes[m].Carrier].Name == product
}

func merged(list []span) []span {
	slices.SortFunc(list, func(a, b span) int { return cmp.Compare(a.from, b.from) })
	var out []span
	for _, x := range list {
		switch n := len(out); {
		case x.from >= x.to:
		case n > 0 && x.from <= out[n-1].to:
			out[n-1].to = max(out[n-1].to, x.to)
		default:
			out = append(out, x)
		}
	}
	return out
}

// finish returns when work of a length that is begun at t and rests in the
// blocked times is done; Never where it is not.
func finish(blocked []span, t, length model.Clock) model.Clock {
	for _, b := range blocked {
		if b.to <= t {
			continue
		}
		if b.from >= t+length {
			break
		}
		length -= max(b.from-t, 0)
		if t = b.to; t >= model.Never {
			return model.Never
		}
	}
	return min(t+length, model.Never)
}

// workedBy returns how much of such work is done at a moment.
func workedBy(blocked []span, t, moment model.Clock) model.Clock {
	var done model.Clock
	for _, b := range blocked {
		if b.to <= t {
			continue
		}
		if t >= moment {
			return done
		}
		done += max(min(b.from, moment)-t, 0)
		t = b.to
	}
	return done + max(moment-t, 0)
}
