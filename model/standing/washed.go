package standing

import "padturn/model"

// Washed is a field that was sprayed less than a label's rainfast hours before
// a rain began: somebody should check whether it works.
type Washed struct {
	Job, Field, Load string
	Acres            model.Decimal // sprayed before the rain
	SprayedAt        model.Clock   // the last of them, or when the rain began
	Product          string        // with the longest rainfast hours
	RainfastH        model.Decimal
	Rain             model.Clock // when it began or is to begin
	Forecast         bool        // not reported: only forecast
	ToCome           bool        // it has not begun yet
}

// Rained says when the rain came or comes, as a half sentence.
func (w *Washed) Rained() string {
	switch {
	case w.Forecast:
		return "rain is forecast for " + w.Rain.HHMM()
	case w.ToCome:
		return "rain is expected at " + w.Rain.HHMM()
	}
	return "rain began at " + w.Rain.HHMM()
}

// Washed lists the fields to check, in the order of the plan: for each part of a
// load the first rain after it.
func (s *Standing) Washed() []Washed {
	var list []Washed
	for i := range s.Loads {
		l := &s.Loads[i]
		product, hours := s.rainfast(l)
		if !l.Begun || hours == 0 {
			continue
		}
		works := s.works(l)
		for k, part := range l.Told.Parts {
			if rain := s.rainAfter(l, k, &works[k]); rain >= 0 {
				w := s.washed(l, k, &works[k], rain)
				w.Job, w.Load, w.Product, w.RainfastH = part.Job, l.Told.ID, product, hours
				if model.Decimal(w.Rain-w.SprayedAt)*model.One/3600 < hours {
					list = append(list, w)
				}
			}
		}
	}
	return list
}

// rainfast returns the product of a load with the longest rainfast hours.
func (s *Standing) rainfast(l *Load) (string, model.Decimal) {
	name, most := "", model.Decimal(0)
	for _, d := range l.Doses {
		if h := s.Problem.Products[s.product(d.Product)].RainfastH; h != nil && *h > most {
			name, most = d.Product, *h
		}
	}
	return name, most
}

// rainAfter finds the first rain that began after some of a part was sprayed, or
// -1. A rain that is not reported counts where it is forecast.
func (s *Standing) rainAfter(l *Load, part int, w *fieldWork) int {
	first := -1
	job := &s.Problem.Jobs[s.job(l.Told.Parts[part].Job)]
	for i := range s.Problem.Holds {
		h := &s.Problem.Holds[i]
		if h.Kind != "rain" || !s.applies(h, &l.Told, job) || s.sprayedBefore(l, part, w, h.From) <= 0 {
			continue
		}
		if first < 0 || h.From < s.Problem.Holds[first].From {
			first = i
		}
	}
	return first
}

// sprayedBefore is what of a part was sprayed by a moment; nothing of it counts
// that is still to be sprayed now.
func (s *Standing) sprayedBefore(l *Load, part int, w *fieldWork, t model.Clock) model.Decimal {
	if t >= s.At || l.SprayedAt[part] <= t {
		if l.SprayedAt[part] > s.At {
			return min(l.Acres(part), l.Told.Parts[part].Acres-w.left(min(t, s.At), l.SprayedAt[part]))
		}
		return l.Acres(part)
	}
	return l.Told.Parts[part].Acres - w.left(t, l.SprayedAt[part])
}

func (s *Standing) washed(l *Load, part int, w *fieldWork, rain int) Washed {
	h := &s.Problem.Holds[rain]
	return Washed{
		Field:     s.Problem.Jobs[s.job(l.Told.Parts[part].Job)].Field,
		Acres:     s.sprayedBefore(l, part, w, h.From),
		SprayedAt: min(l.SprayedAt[part], h.From, s.At),
		Rain:      h.From, Forecast: rain >= len(s.Day.Holds), ToCome: h.From > s.At,
	}
}
