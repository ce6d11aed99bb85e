package planner

import (
	"context"
	"math"
	"math/bits"

	"padturn/model"
)

// priceSearch looks for good prices: a subgradient method with Polyak's steps towards
// what a known plan costs, the direction smoothed (Camerini, Fratta and Maffioli,
// "On improving relaxation methods by modified gradient techniques", Mathematical
// Programming Study 3, 1975).
type priceSearch struct {
	p         *pricing
	now       *excess
	direction *excess
	best      [][]model.Money
	credits   []model.Money
	stayPrice model.Money
	pace      float64
	stale     int
}

// How a search for prices goes on.
const (
	firstPace  = 0.02
	leastPace  = 1e-4
	slowerPace = 0.6
	patience   = 12 // rounds without a better bound
	smoothing  = 0.92
	// jobWeight makes an any-sprayer job weigh about as much as the slots of a
	// filling, whose prices change together.
	jobWeight = 30
)

func newPriceSearch(p *pricing) *priceSearch {
	s := &priceSearch{p: p, now: p.newExcess(), direction: p.newExcess(), pace: firstPace}
	s.best = make([][]model.Money, len(p.price))
	for m := range s.best {
		s.best[m] = make([]model.Money, len(p.price[m]))
	}
	s.credits = make([]model.Money, len(p.credit))
	s.keep()
	return s
}

// improve takes so many steps, or fewer where no more come to anything. It says
// whether any more might.
func (s *priceSearch) improve(ctx context.Context, target model.Money, steps int64) bool {
	for range steps {
		if ctx.Err() != nil || s.p.bound >= target || s.pace < leastPace {
			return false
		}
		s.step(target)
	}
	return true
}

func (s *priceSearch) keep() {
	for m := range s.best {
		copy(s.best[m], s.p.price[m])
	}
	copy(s.credits, s.p.credit)
	s.stayPrice = s.p.stayPrice
}

// restore goes back to the best prices.
func (s *priceSearch) restore() {
	for m := range s.best {
		copy(s.p.price[m], s.best[m])
	}
	copy(s.p.credit, s.credits)
	s.p.stayPrice = s.stayPrice
	s.p.evaluate()
}

// step changes the prices once.
func (s *priceSearch) step(target model.Money) {
	p := s.p
	p.measure(s.now)
	norm := s.turn()
	if norm == 0 {
		s.pace = 0
		return
	}
	length := s.pace * float64(target-p.bound) / norm
	for m := range p.price {
		for k := range p.price[m] {
			p.price[m][k] = max(p.price[m][k]+model.Money(math.Round(length*s.direction.slots[m][k])), 0)
		}
	}
	for i := range p.credit {
		p.credit[i] += model.Money(math.Round(length * jobWeight * s.direction.jobs[i]))
	}
	p.stayPrice = max(p.stayPrice+model.Money(math.Round(length*jobWeight*s.direction.stays[0])), 0)
	bound := p.evaluate()
	if bound > p.bound {
		p.bound, s.stale = bound, 0
		s.keep()
		return
	}
	if s.stale++; s.stale > patience {
		s.stale, s.pace = 0, s.pace*slowerPace
		s.restore()
	}
}

// turn smooths the direction, and returns the square of its length.
func (s *priceSearch) turn() float64 {
	var norm float64
	smooth := func(d, now []float64) {
		for k := range d {
			// Products are rounded before they are added, so that all processors agree.
			d[k] = float64(smoothing*d[k]) + float64((1-smoothing)*now[k])
			norm += float64(d[k] * d[k])
		}
	}
	for m := range s.now.slots {
		smooth(s.direction.slots[m], s.now.slots[m])
	}
	smooth(s.direction.jobs, s.now.jobs)
	smooth(s.direction.stays[:], s.now.stays[:])
	return norm
}

// excess is by how much more is wanted than there is at the present prices: bays
// by mix and slot, any-sprayer jobs not done, or done twice, and changes inside loads.
type excess struct {
	slots [][]float64
	jobs  []float64  // in jobWeight
	stays [1]float64 // likewise
}

func (p *pricing) newExcess() *excess {
	e := &excess{slots: make([][]float64, len(p.price)), jobs: make([]float64, len(p.credit))}
	for m := range e.slots {
		e.slots[m] = make([]float64, len(p.price[m]))
	}
	return e
}

// measure works out the excess of what all would do that was priced last.
func (p *pricing) measure(e *excess) {
	for m := range e.slots {
		clear(e.slots[m])
	}
	for i := range e.jobs {
		e.jobs[i] = jobWeight
	}
	stays := -float64(p.mostStays)
	for i := range p.sprayers {
		p.eachFill(i, func(t *turn, how fillChoice) {
			end := int32(how.at) + p.slotsOf(p.in.leastFill(t.l))
			if how.stays {
				end--
				stays += p.staysIn(p.turns[t.l], how)
			}
			e.add(t.l.mix, int32(how.start), end, 1)
			for takes := t.takes; takes != 0; takes &= takes - 1 {
				e.jobs[bits.TrailingZeros32(takes)] -= jobWeight
			}
		})
	}
	if e.stays[0] = jobWeight * stays; p.stayPrice == 0 {
		e.stays[0] = max(e.stays[0], 0)
	}
	for _, b := range p.bays {
		for _, open := range b.bays {
			p.eachKept(b, open, func(mix int, from, to int32) { e.add(mix, from, to, -1) })
		}
	}
}

// add counts a span of slots for a mix.
func (e *excess) add(mix int, from, to int32, bays float64) {
	for s := from; s < min(to, int32(len(e.slots[mix]))); s++ {
		e.slots[mix][s] += bays
	}
}
