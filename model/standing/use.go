package standing

import (
	"math/big"

	"padturn/model"
)

// Recipe returns what acres of a mix take of each product of its recipe, in the
// product's stock unit, at gpa gal/ac: by rate, not by what was drawn.
func (s *Standing) Recipe(mix string, acres, gpa model.Decimal) []Dose {
	var doses []Dose
	i := s.mix(mix)
	if i == model.None {
		return nil
	}
	for _, g := range s.Problem.Mixes[i].Recipe {
		p := &s.Problem.Products[g.Product]
		amount := new(big.Rat).Mul(g.Rate.Rat(), g.Unit.Factor)
		amount.Mul(amount, acres.Rat())
		if g.Unit.Base != model.PerAcre {
			amount.Mul(amount, gpa.Rat())
		}
		per, err := model.Convert(g.Unit.Unit, p.Unit, p.Density)
		if err != nil {
			continue // NewProblem would have refused it
		}
		doses = append(doses, Dose{p.Name, model.RoundRat(amount.Mul(amount, per)), p.Metered})
	}
	return doses
}

// Use is what of a product was used in the day.
type Use struct {
	Product, Unit               string
	Opening, Delivered, Closing model.Decimal // stock unit
	Projected                   model.Decimal // by the recipes, for what was filled
	Real                        model.Decimal // what is gone
	// Known says that the real figure is more than the plan's own: the product
	// was counted, or drawn by meter or scale.
	Known bool
	// Emptied is how many containers are empty; not of bulk.
	Emptied   model.Decimal
	Container string
	// LeftOver is what the acres that are left need, by the recipes.
	LeftOver  model.Decimal
	ReorderAt *model.Decimal
}

// Uses adds up the use of every product, in the order of the files. The carrier
// counts as a product where it is one.
func (s *Standing) Uses() []Use {
	list := make([]Use, len(s.Stock))
	for i, stock := range s.Stock {
		u := &list[i]
		*u = Use{Product: stock.Product, Unit: stock.Unit, Closing: stock.Level, Known: stock.Counted != nil}
		u.Opening = s.Problem.Products[i].OnHand()
		u.ReorderAt = s.Problem.Products[i].ReorderAt
		u.Container, _ = s.Day.KeptIn(stock.Product)
	}
	for _, d := range s.Deliveries {
		if d.Arrived {
			list[s.product(d.Row.Product)].Delivered += d.Row.Size * (d.Row.Count / model.One)
		}
	}
	s.addProjected(list)
	for i := range list {
		u := &list[i]
		u.Real = u.Opening + u.Delivered - u.Closing
		u.Emptied = s.emptied(i)
	}
	return list
}

// addProjected adds what the loads should have taken, and what is left would.
func (s *Standing) addProjected(list []Use) {
	for i := range s.Loads {
		l := &s.Loads[i]
		if !l.Begun {
			continue
		}
		for _, p := range l.Told.Parts {
			for _, d := range s.Recipe(l.Told.Mix, p.Acres, s.Problem.Jobs[s.job(p.Job)].GPA) {
				list[s.product(d.Product)].Projected += d.Amount
			}
		}
		for _, d := range l.Told.Doses {
			if s.isCarrier(&l.Told, d.Product) {
				list[s.product(d.Product)].Projected += d.Amount
			}
		}
		for _, m := range l.marks {
			for _, d := range m.Drew {
				list[s.product(d.Product)].Known = true
			}
		}
	}
	for i, j := range s.Jobs {
		job := &s.Problem.Jobs[i]
		for _, d := range s.Recipe(s.Problem.Mixes[job.Mix].Name, j.ToFill, job.GPA) {
			list[s.product(d.Product)].LeftOver += d.Amount
		}
	}
}

// emptied counts the containers that were there, or came, and are empty.
func (s *Standing) emptied(product int) model.Decimal {
	if s.Problem.Products[product].Bulk {
		return 0
	}
	var had, has model.Decimal
	count := func(to *model.Decimal, r model.StockRow) {
		*to += r.Full
		if valueOr(r.Open, 0) > 0 {
			*to += model.One
		}
	}
	name := s.Problem.Products[product].Name
	for _, r := range s.Day.Stock {
		if r.Product == name {
			count(&had, r)
		}
	}
	for _, d := range s.Deliveries {
		if d.Arrived && d.Row.Product == name {
			had += d.Row.Count
		}
	}
	for _, r := range s.Stock[product].Rows {
		count(&has, r)
	}
	return max(had-has, 0)
}

// Applied is what of one product was sprayed on one job.
type Applied struct {
	Job, Mix string
	Product  string
	Amount   model.Decimal // stock unit, by what was drawn
	Acres    model.Decimal
	From, To model.Clock // first and last spraying
	Loads    []string
	Sprayers []string
	Presumed bool // some of it was not reported
	GivenUp  bool // a load of it was dropped: its amount is an estimate
}

// Applications lists what was sprayed on which job, by job and product, in the
// order of the loads.
func (s *Standing) Applications() []Applied {
	var list []Applied
	for i := range s.Loads {
		l := &s.Loads[i]
		if !l.Begun {
			continue
		}
		for k, part := range l.Told.Parts {
			if l.Acres(k) <= 0 {
				continue
			}
			for _, d := range l.Doses {
				s.addApplied(&list, l, k, Applied{Job: part.Job, Mix: l.Told.Mix, Product: d.Product, Amount: scaled(d.Amount, l.Acres(k), l.covers())})
			}
		}
	}
	return list
}

// covers is the acres that what was drawn went on: of a load that is done those
// that were sprayed, else those it was made for.
func (l *Load) covers() model.Decimal {
	if l.State == Done {
		return l.Told.Acres() - l.LeftAcres()
	}
	return l.Told.Acres()
}

// addApplied adds what a part of a load got of a product.
func (s *Standing) addApplied(list *[]Applied, l *Load, part int, a Applied) {
	a.Acres = l.Acres(part)
	a.To = l.SprayedAt[part]
	a.From = max(a.To-partOf(l.Told.Parts[part].Spray, a.Acres, l.Told.Parts[part].Acres), l.End)
	a.Loads, a.Sprayers, a.Presumed = []string{l.Told.ID}, []string{l.Told.Sprayer}, l.Presumed
	a.GivenUp = l.State == Dropped
	for i := range *list {
		old := &(*list)[i]
		if old.Job == a.Job && old.Product == a.Product && old.Mix == a.Mix {
			old.Amount, old.Acres = old.Amount+a.Amount, old.Acres+a.Acres
			old.From, old.To = min(old.From, a.From), max(old.To, a.To)
			old.Loads = append(old.Loads, a.Loads...)
			if old.Sprayers[len(old.Sprayers)-1] != a.Sprayers[0] {
				old.Sprayers = append(old.Sprayers, a.Sprayers...)
			}
			old.Presumed, old.GivenUp = old.Presumed || a.Presumed, old.GivenUp || a.GivenUp
			return
		}
	}
	*list = append(*list, a)
}

// scaled is amount × part ÷ whole.
func scaled(amount, part, whole model.Decimal) model.Decimal {
	if whole == 0 {
		return 0
	}
	r := new(big.Rat).Mul(amount.Rat(), part.Rat())
	return model.RoundRat(r.Quo(r, whole.Rat()))
}
