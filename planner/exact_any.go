package planner

import "padturn/model"

// take works out what a stop pays at least where jobs for any sprayer are done from there
// on, as far as a turn to another stop that pays so much can have them done.
func (s *stop) take(t *turn, to *stop, pays model.Money) {
	for job := range s.taking {
		switch {
		case t.takes&(1<<job) != 0:
			s.taking[job] = min(s.taking[job], to.fixed+pays)
		case to.taking[job] < noWay:
			s.taking[job] = min(s.taking[job], to.taking[job]+pays)
		}
	}
}

// untaken returns what it costs at least that jobs for any sprayer are still to be done,
// besides what the sprayers at some stops pay in any case: each has to be done by one of
// them. noWay says that one of the jobs was passed over by all.
func (m *padModel) untaken(stops []int32, taken uint32) model.Money {
	most := model.Money(0)
	for job := range m.any {
		if taken&(1<<job) != 0 {
			continue
		}
		least := noWay
		for i, n := range stops {
			stop := &m.graphs[i].stops[n]
			if stop.taking[job] < noWay {
				least = min(least, stop.taking[job]-stop.fixed)
			}
		}
		most = max(most, least)
	}
	return most
}
