package standing

import (
	"cmp"
	"slices"

	"padturn/model"
)

// Stock is what there is of a product at the moment.
type Stock struct {
	Product string
	Unit    string
	Level   model.Decimal    // stock unit, what hangs counted in
	Rows    []model.StockRow // as stock.csv would have it
	Counted *model.Clock     // when it was last counted, nil where it never was
}

// report puts down what the replay came to.
func (p *pad) report() {
	s := p.s
	for i := range p.stores {
		product := &s.Problem.Products[i]
		entry := Stock{Product: product.Name, Unit: product.Unit.Name, Level: p.stores[i].sum(), Rows: p.stores[i].rows(product.Name)}
		for _, f := range s.facts {
			if c, ok := f.News.(StockCount); ok && c.Product == product.Name {
				entry.Counted = model.Some(f.At)
			}
		}
		s.Stock = append(s.Stock, entry)
	}
	for i := range p.bays {
		m := &p.bays[i]
		bay := Bay{Name: s.Problem.Bays[i].Name, Load: m.load, FreeFrom: max(m.busy, s.At), LastMix: m.lastMix, Rinsed: m.rinsed}
		for _, h := range m.on {
			bay.On = append(bay.On, p.hooked(h))
		}
		for _, used := range m.used {
			bay.Unused = append(bay.Unused, m.loads-1-used)
		}
		bay.Loads = m.loads
		s.Bays = append(s.Bays, bay)
	}
	if p.water.limited {
		s.Water = p.water.at(s.At)
	}
	s.Rinsate = p.water.rinsate
}

func (p *pad) hooked(h hook) Hooked {
	if h.product == model.None {
		return Hooked{}
	}
	out := Hooked{Product: p.s.Problem.Products[h.product].Name}
	if p.stores[h.product].apart {
		out.Left = new(model.Decimal)
	}
	if h.tote != nil {
		*out.Left, out.Size = h.tote.left, h.tote.size
	}
	return out
}

// placeSprayers says where the sprayers are and what they have had.
func (s *Standing) placeSprayers() {
	for i := range s.Problem.Sprayers {
		s.Sprayers = append(s.Sprayers, s.placeSprayer(i))
	}
}

func (s *Standing) placeSprayer(i int) Sprayer {
	m := Sprayer{Name: s.Problem.Sprayers[i].Name, BackAt: s.Problem.Sprayers[i].AvailableFrom}
	for _, l := range s.had(m.Name) {
		m.Load, m.BackAt = l.Told.ID, l.BackAt
		m.Sprayed = append(m.Sprayed, model.TankUnderway{Mix: l.Told.Mix, Crops: s.crops(&l.Told), Cleanout: l.Told.Cleanout})
	}
	if next := s.nextOf(m.Name); next != nil && next.Told.Cleanout != "" && s.cleaned(next) {
		m.Cleaned, m.BackAt = next.Told.Cleanout, next.Ready
	}
	for _, out := range s.outs[i] {
		if out.from <= s.At {
			m.BackAt = max(m.BackAt, out.to)
		}
		if out.from <= s.At && s.At < out.to {
			m.Out, m.OutFrom, m.OutTill = true, out.from, out.to
		}
	}
	return m
}

// had lists the loads that a sprayer has had in its tank, oldest first.
func (s *Standing) had(sprayer string) []*Load {
	var list []*Load
	for i := range s.Loads {
		if l := &s.Loads[i]; l.Begun && l.Told.Sprayer == sprayer {
			list = append(list, l)
		}
	}
	slices.SortStableFunc(list, func(a, b *Load) int { return cmp.Compare(a.Start, b.Start) })
	return list
}

// crops lists the crops that a load was meant for, each once, in the order of
// its parts.
func (s *Standing) crops(t *Planned) []string {
	var list []string
	for _, p := range t.Parts {
		if crop := s.Problem.Jobs[s.job(p.Job)].Crop; !slices.Contains(list, crop) {
			list = append(list, crop)
		}
	}
	return list
}
