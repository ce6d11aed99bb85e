package handout

import (
	"slices"
	"strings"

	"padturn/io/planfile"
)

// Stock is a product's stock over the day, in its stock unit as in stock.csv.
type Stock struct {
	Product string
	Unit    string
	Points  []Point // by time; the level holds until the next
	Reorder *planfile.Number
	LowFrom *planfile.Time // first moment below Reorder
	Least   planfile.Number
}

// Point is a change of a stock.
type Point struct {
	At       planfile.Time
	Event    string
	Change   planfile.Number
	Level    planfile.Number
	Delivery bool
}

// Opening is the stock when the day begins.
func (s Stock) Opening() planfile.Number { return s.Points[0].Level }

// Last is the stock when the day ends.
func (s Stock) Last() planfile.Number { return s.Points[len(s.Points)-1].Level }

// Moves says whether anything is taken or comes.
func (s Stock) Moves() bool { return len(s.Points) > 1 }

// Text is a level with at most two decimals.
func (s Stock) Text(n planfile.Number) string {
	text := n.Fixed(2)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}

// stocks groups the plan's stock events by product, in the plan's order.
func (w *writer) stocks() []Stock {
	var out []Stock
	place := map[string]int{}
	for _, e := range w.doc.Stock {
		i, seen := place[e.Product]
		if !seen {
			i = len(out)
			place[e.Product] = i
			out = append(out, Stock{Product: e.Product, Unit: unitWord(e.Unit), Reorder: w.reorder(e.Product)})
		}
		out[i].note(e)
	}
	slices.SortStableFunc(out, func(a, b Stock) int { return still(a) - still(b) })
	return out
}

// still puts the products that nobody touches after the others.
func still(s Stock) int {
	if s.Moves() {
		return 0
	}
	return 1
}

func (w *writer) reorder(product string) *planfile.Number {
	if p := w.products[product]; p != nil {
		return p.ReorderAt
	}
	return nil
}

func (s *Stock) note(e planfile.StockEvent) {
	if len(s.Points) == 0 || e.Level < s.Least {
		s.Least = e.Level
	}
	if e.Low && s.LowFrom == nil {
		s.LowFrom = &e.At
	}
	s.Points = append(s.Points, Point{e.At, e.Event, e.Change, e.Level, strings.HasPrefix(e.Event, "delivery")})
}

// Span is the time that a chart of the stock covers: the pad's hours, and what
// lies outside them. What is there from the opening is there before it.
func (h *Handout) Span(s Stock) (from, to planfile.Time) {
	from, to = h.Opens, h.Closes
	for _, p := range s.Points[1:] {
		from, to = min(from, p.At), max(to, p.At)
	}
	return from, to
}

// Most is the highest level.
func (s Stock) Most() planfile.Number {
	most := s.Points[0].Level
	for _, p := range s.Points {
		most = max(most, p.Level)
	}
	return most
}

// Top is the top of a chart's scale: above all levels and the reorder level.
func (s Stock) Top() float64 {
	top := s.Most()
	if s.Reorder != nil {
		top = max(top, *s.Reorder)
	}
	return max(float64(top)*1.08, 1)
}
