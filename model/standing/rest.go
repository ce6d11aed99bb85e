package standing

import (
	"slices"

	"padturn/model"
)

// Rest is what is left of the day as an input to plan: jobs with the acres that
// are in no tank, the stock that is there, what hangs on the connections, and
// Underway. A day with nothing left has no jobs.
func (s *Standing) Rest() model.Input {
	in := s.Day
	in.Jobs = s.restJobs()
	in.Stock = nil
	for _, stock := range s.Stock {
		in.Stock = append(in.Stock, stock.Rows...)
	}
	in.Deliveries = nil
	for _, d := range s.Deliveries {
		if !d.Arrived && d.Row.At < model.Never {
			in.Deliveries = append(in.Deliveries, d.Row)
		}
	}
	in.Sprayers = s.restSprayers()
	in.Settings.Pad.Bays = s.restBays()
	if w := in.Settings.Pad.Water; w != nil {
		now := *w
		now.OnHandGal = min(*s.Water, w.CapacityGal)
		in.Settings.Pad.Water = &now
	}
	in.Underway = s.underway()
	return in
}

func (s *Standing) restJobs() []model.JobRow {
	var rows []model.JobRow
	for i, j := range s.Jobs {
		if j.ToFill > 0 {
			row := s.Day.Jobs[i]
			row.Acres = j.ToFill
			rows = append(rows, row)
		}
	}
	return rows
}

// restSprayers are the sprayers; one that is not to be counted on any more has
// no time left.
func (s *Standing) restSprayers() []model.SprayerRow {
	rows := slices.Clone(s.Day.Sprayers)
	for i := range rows {
		if s.Sprayers[i].BackAt >= model.Never {
			from := s.Problem.Sprayers[i].AvailableFrom
			rows[i].AvailableUntil = model.Some(max(s.At, from+1))
		}
	}
	return rows
}

func (s *Standing) restBays() []model.BaySettings {
	bays := slices.Clone(s.Day.Settings.Pad.Bays)
	for i := range bays {
		bays[i].LastMix = s.Bays[i].LastMix
		bays[i].Hooked = nil
		for _, h := range s.Bays[i].On[len(bays[i].Plumbed):] {
			if h.Product != "" {
				bays[i].Hooked = append(bays[i].Hooked, h.Product)
			}
		}
	}
	return bays
}

func (s *Standing) underway() *model.Underway {
	u := &model.Underway{At: s.At, Rinsate: s.Rinsate}
	for i, b := range s.Bays {
		u.Bays = append(u.Bays, model.BayUnderway{FreeFrom: b.FreeFrom, Rinsed: b.Rinsed})
		for k, h := range b.On {
			if h.Left != nil {
				u.Totes = append(u.Totes, model.ToteUnderway{Bay: i, Connection: k, Product: h.Product, Left: *h.Left})
			}
		}
	}
	for _, m := range s.Sprayers {
		back := m.BackAt
		if back >= model.Never {
			back = s.At
		}
		u.Sprayers = append(u.Sprayers, model.SprayerUnderway{BackAt: back, Sprayed: m.Sprayed})
	}
	for i := range s.Loads {
		if l := &s.Loads[i]; !l.Begun && l.State != Dropped {
			u.Told = append(u.Told, model.ToldLoad{
				Sprayer: l.Told.Sprayer, Mix: l.Told.Mix, Bay: l.Told.Bay, Jobs: l.Told.jobs(), Start: l.Told.Start,
			})
		}
	}
	return u
}
