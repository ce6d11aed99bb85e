package standing

import (
	"cmp"
	"slices"

	"padturn/model"
)

// slack is how much stock may be short and still counts as there.
const slack = model.One / 1_000_000

// levels follow the stock of every product as a sum.
type levels struct {
	s       *Standing
	opening []model.Decimal
	counts  [][]counted // by product, by time
	draws   [][]counted
}

// counted is an amount at a moment.
type counted struct {
	at     model.Clock
	amount model.Decimal
}

func (s *Standing) newLevels() *levels {
	n := len(s.Problem.Products)
	v := &levels{s, make([]model.Decimal, n), make([][]counted, n), make([][]counted, n)}
	for i := range s.Problem.Products {
		v.opening[i] = s.Problem.Products[i].OnHand()
	}
	for _, f := range s.facts {
		if c, ok := f.News.(StockCount); ok && s.product(c.Product) >= 0 {
			i := s.product(c.Product)
			v.counts[i] = append(v.counts[i], counted{f.At, c.sum()})
		}
	}
	return v
}

// sum is what a count comes to, in the stock unit.
func (c *StockCount) sum() model.Decimal {
	sum := c.Size * (c.Full / model.One)
	for _, open := range c.Open {
		sum += open
	}
	return sum
}

// draw notes what a load takes at its start.
func (v *levels) draw(l *Load) {
	for _, d := range l.Doses {
		i := v.s.product(d.Product)
		v.draws[i] = append(v.draws[i], counted{l.Start, d.Amount})
	}
}

// at returns the level of a product at a moment: from the latest count on,
// which comes after a delivery of its moment and before a draw. It is never below
// nothing: what was drawn beyond was there, though nobody knew.
func (v *levels) at(product int, t model.Clock) model.Decimal {
	level, since := v.opening[product], model.Clock(-1)
	for _, c := range v.counts[product] {
		if c.at <= t && c.at >= since {
			level, since = c.amount, c.at
		}
	}
	counts := since >= 0
	var moves []counted
	for _, d := range v.s.Deliveries {
		if v.s.product(d.Row.Product) == product && d.Row.At <= t && (!counts || d.Row.At > since) {
			moves = append(moves, counted{d.Row.At, d.Row.Size * (d.Row.Count / model.One)})
		}
	}
	for _, d := range v.draws[product] {
		if d.at <= t && (!counts || d.at >= since) {
			moves = append(moves, counted{d.at, -d.amount})
		}
	}
	slices.SortStableFunc(moves, func(x, y counted) int { return cmp.Compare(x.at, y.at) })
	for _, m := range moves {
		level = max(level+m.amount, 0)
	}
	return level
}

// enough returns the earliest moment from t at which there is enough for a
// load, as far as deliveries and counts are known, and the product that it waits
// for; Never where there is none.
func (v *levels) enough(l *Load, t model.Clock) (model.Clock, string) {
	waitsFor := ""
	for _, d := range l.Doses {
		i := v.s.product(d.Product)
		if t >= model.Never || v.at(i, t)+slack >= d.Amount {
			continue
		}
		next := model.Never
		for _, x := range v.s.Deliveries {
			if v.s.product(x.Row.Product) == i && x.Row.At > t && x.Row.At < next && v.at(i, x.Row.At)+slack >= d.Amount {
				next = x.Row.At
			}
		}
		t, waitsFor = next, d.Product
	}
	return t, waitsFor
}
