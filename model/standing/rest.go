package standing

import (
	"fmt"
	"slices"

	"padturn/model"
)

// Rest is what is left of the day as an input to plan: jobs with the acres that
// are in no tank, the stock that is there, what hangs on the connections, and
// Underway. A day with nothing left has no jobs.
func (s *Standing) Rest() model.Input {
	in := s.Day
	in.Jobs = s.restJobs()
	in.Stock = s.untouched()
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
		now.OnHandGal = min(model.RoundRat(s.Water), w.CapacityGal)
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
			row.Job, row.Acres = j.Name, j.ToFill
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

// untouched is the stock without totes that are opened or on a connection, which
// are in Underway.
func (s *Standing) untouched() []model.StockRow {
	var rows []model.StockRow
	for i, t := range s.pad.stores {
		name := s.Problem.Products[i].Name
		left := store{kind: t.kind, size: t.size, lots: t.lots}
		for _, c := range t.containers {
			if c.opened == 0 && !c.hanging && c.freeFrom <= s.At {
				left.containers = append(left.containers, c)
			}
		}
		rows = append(rows, left.rows(name)...)
	}
	return rows
}

func (s *Standing) underway() *model.Underway {
	u := &model.Underway{At: s.At, Rinsate: s.Rinsate, Water: s.Water, Begun: s.begunJobs(), NoNews: s.NoNews}
	for _, b := range s.Bays {
		u.Bays = append(u.Bays, model.BayUnderway{FreeFrom: b.FreeFrom, Rinsed: b.Rinsed, Unused: b.Unused, Loads: b.Loads})
	}
	for i := range s.pad.stores {
		u.Totes = append(u.Totes, s.totes(i)...)
	}
	for _, m := range s.Sprayers {
		back := m.BackAt
		if back >= model.Never {
			back = s.At
		}
		u.Sprayers = append(u.Sprayers, model.SprayerUnderway{
			BackAt: back, Sprayed: m.Sprayed, Cleaned: m.Cleaned, Loads: s.numbered(m.Name), Gone: m.gone(),
		})
	}
	for i := range s.Loads {
		if l := &s.Loads[i]; !l.Begun && l.State != Dropped {
			u.Told = append(u.Told, model.ToldLoad{
				Sprayer: l.Told.Sprayer, Mix: l.Told.Mix, Bay: l.Told.Bay, Jobs: l.Told.jobs(), Run: l.Told.Run, Acres: l.Told.Acres(), Start: l.Told.Start,
				Off: s.comesOff(l.Told.ID),
			})
		}
	}
	return u
}

// gone says why a sprayer is not counted on any more; blank where it is.
func (m *Sprayer) gone() string {
	switch {
	case m.BackAt < model.Never:
		return ""
	case m.Out:
		return fmt.Sprintf("sprayer %s was reported out at %s", m.Name, m.OutFrom.HHMM())
	}
	return fmt.Sprintf("sprayer %s has load %s in its tank, which can't be sprayed out today", m.Name, m.Load)
}

// comesOff lists the products that the plan takes off connections for a load.
func (s *Standing) comesOff(load string) []string {
	var off []string
	for i := range s.told.Changes {
		if c := &s.told.Changes[i]; c.Load == load && c.Off != "" && c.Off != c.On {
			off = append(off, c.Off)
		}
	}
	return off
}

// totes lists the opened and the hanging containers of a product, in the order
// they were opened.
func (s *Standing) totes(product int) []model.ToteUnderway {
	var list []model.ToteUnderway
	for _, c := range sortedByOpening(s.pad.stores[product].containers) {
		if c.opened == 0 && !c.hanging && c.freeFrom <= s.At {
			continue
		}
		t := model.ToteUnderway{
			Bay: model.None, Product: s.Problem.Products[product].Name, Kind: c.kind, Size: c.size, Left: max(c.left, 0),
			Opened: c.opened > 0, FreeFrom: c.freeFrom,
		}
		for b := range s.pad.bays {
			for k, h := range s.pad.bays[b].on {
				if h.tote == c {
					t.Bay, t.Connection = b, k
				}
			}
		}
		list = append(list, t)
	}
	return list
}

// putOff says whether the plan, which nothing was reported since, has a sprayer fill
// another job before it goes on with one: the sprayer was out when it was made.
func (s *Standing) putOff(sprayer, job string) bool {
	if !s.NoNews {
		return false
	}
	first := true
	for i := range s.Loads {
		if l := &s.Loads[i]; l.Told.Sprayer == sprayer && !l.Begun && l.State != Dropped {
			if slices.Contains(l.Told.jobs(), job) {
				return !first
			}
			first = false
		}
	}
	return false
}

// begunJobs lists the jobs that a sprayer is in the middle of: those of its last
// load that are not wholly filled. A job whose sprayer is out, or that was given
// to another, is free.
func (s *Standing) begunJobs() []model.BegunJob {
	var list []model.BegunJob
	for _, m := range s.Sprayers {
		had := s.had(m.Name)
		if len(had) == 0 || m.Out || m.BackAt >= model.Never {
			continue
		}
		for _, name := range had[len(had)-1].Told.jobs() {
			i := s.job(name)
			named := s.Day.Jobs[i].Sprayer
			if s.Jobs[i].ToFill > 0 && (named == "" || named == m.Name) && !s.putOff(m.Name, name) {
				list = append(list, model.BegunJob{Job: name, Sprayer: m.Name})
			}
		}
	}
	return list
}
