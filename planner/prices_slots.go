package planner

import (
	"math"

	"padturn/model"
)

// slotPrices is what a search for prices knows of those that are by slot, of mixes or of
// kinds: the prices, the best so far, by how much more is wanted than there is, and where
// that leads.
type slotPrices struct {
	price, best       [][]model.Money
	excess, direction [][]float64
	change            [][]float64 // how prices change: the direction, or spread over others
}

func newSlotPrices(price [][]model.Money) *slotPrices {
	s := &slotPrices{price: price}
	for k := range price {
		s.best = append(s.best, make([]model.Money, len(price[k])))
		s.excess = append(s.excess, make([]float64, len(price[k])))
	}
	s.direction = zerosLike(s.excess)
	s.change = s.direction
	return s
}

func zerosLike(like [][]float64) [][]float64 {
	list := make([][]float64, len(like))
	for k := range list {
		list[k] = make([]float64, len(like[k]))
	}
	return list
}

func (s *slotPrices) keep() {
	for k := range s.best {
		copy(s.best[k], s.price[k])
	}
}

func (s *slotPrices) restore() {
	for k := range s.best {
		copy(s.price[k], s.best[k])
	}
}

// add counts a span of slots.
func (s *slotPrices) add(k int, from, to int32, times float64) {
	for slot := from; slot < min(to, int32(len(s.excess[k]))); slot++ {
		s.excess[k][slot] += times
	}
}

// move changes the prices.
func (s *slotPrices) move(length float64) {
	for k := range s.price {
		for slot := range s.price[k] {
			s.price[k][slot] += model.Money(math.Round(length * s.change[k][slot]))
		}
	}
}

// floor leaves no price below nothing.
func (s *slotPrices) floor() {
	for k := range s.price {
		for slot := range s.price[k] {
			s.price[k][slot] = max(s.price[k][slot], 0)
		}
	}
}

// Up to twice around before and after a start, in seconds, prices of kinds change with its
// own, the less the farther from it. So do those of its line's other kinds, all but ownShare
// as much.
const (
	around   = 10 * 60
	ownShare = 0.1
)

// smoothKinds works out how prices of kinds change.
func (p *pricing) smoothKinds(s *slotPrices) {
	lines := make([][]float64, len(p.lines))
	for n := range lines {
		lines[n] = make([]float64, p.slots)
	}
	for k := range s.direction {
		smooth(s.direction[k], s.excess[k])
		line := lines[p.kinds[k].line]
		for slot, d := range s.direction[k] {
			line[slot] += d
		}
	}
	wide, sums := around>>p.shift, make([]float64, p.slots)
	for k, change := range s.change {
		line := lines[p.kinds[k].line]
		for slot, d := range s.direction[k] {
			change[slot] = float64(ownShare*d) + float64((1-ownShare)*line[slot])
		}
		sumAround(sums, change, wide, 1)
		sumAround(change, sums, wide, 1/float64(2*wide+1))
	}
}

// sumAround sets sums to those of what lies so many places around each, in a unit.
func sumAround(sums, of []float64, wide int, unit float64) {
	sum := 0.0
	for i := range min(wide, len(of)) {
		sum += of[i]
	}
	for i := range sums {
		if i+wide < len(of) {
			sum += of[i+wide]
		}
		if i > wide {
			sum -= of[i-wide-1]
		}
		sums[i] = unit * sum
	}
}

// Products are rounded before they are added, so that all processors agree.

func smooth(d, now []float64) {
	for k := range d {
		d[k] = float64(smoothing*d[k]) + float64((1-smoothing)*now[k])
	}
}

func product(a, b []float64) float64 {
	sum := 0.0
	for k := range a {
		sum += float64(a[k] * b[k])
	}
	return sum
}
