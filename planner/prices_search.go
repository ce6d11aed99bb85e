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
// Programming Study 3, 1975). It looks for prices of mixes first, then, if byKinds says so, of
// kinds.
type priceSearch struct {
	p             *pricing
	byKinds       bool
	mixes         *slotPrices
	kinds         *slotPrices // nil before there are prices of kinds
	jobs, jobsNow []float64   // direction and excess of any-sprayer jobs
	stays         float64     // direction of changes inside
	credits       []model.Money
	stayPrice     model.Money
	pace          float64
	stale         int
}

// How a search for prices goes on.
const (
	firstPace  = 0.02
	kindsPace  = 0.004 // below it prices of kinds are looked for, from firstPace on
	leastPace  = 1e-4
	slowerPace = 0.6
	patience   = 12 // rounds without a better bound
	smoothing  = 0.92
	// jobWeight makes an any-sprayer job, and a change that is stayed for, weigh about as much
	// as the slots of a filling, whose prices change together. Prices of kinds are for
	// whole fillings.
	jobWeight  = 30
	kindWeight = 1
)

func newPriceSearch(p *pricing) *priceSearch {
	s := &priceSearch{p: p, mixes: newSlotPrices(p.price), pace: firstPace}
	s.jobs, s.jobsNow = make([]float64, len(p.credit)), make([]float64, len(p.credit))
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
		if s.byKinds && s.kinds == nil && s.pace < kindsPace {
			s.goOnByKinds()
		}
		s.step(target)
	}
	return true
}

// goOnByKinds has bays paid by prices of kinds, which begin as those of their mixes.
func (s *priceSearch) goOnByKinds() {
	s.restore()
	s.p.goByLine()
	s.p.bound = max(s.p.bound, s.p.evaluate())
	s.kinds = newSlotPrices(s.p.prices)
	s.kinds.change = zerosLike(s.kinds.direction)
	clear(s.jobs)
	s.stays, s.pace, s.stale = 0, firstPace, 0
	s.keep()
}

// present returns the prices that are looked for, and what a job weighs beside them.
func (s *priceSearch) present() (*slotPrices, float64) {
	if s.kinds != nil {
		return s.kinds, kindWeight
	}
	return s.mixes, jobWeight
}

func (s *priceSearch) keep() {
	prices, _ := s.present()
	prices.keep()
	copy(s.credits, s.p.credit)
	s.stayPrice = s.p.stayPrice
}

// restore goes back to the best prices.
func (s *priceSearch) restore() {
	prices, _ := s.present()
	prices.restore()
	copy(s.p.credit, s.credits)
	s.p.stayPrice = s.stayPrice
	s.p.evaluate()
}

// step changes the prices once.
func (s *priceSearch) step(target model.Money) {
	p := s.p
	prices, weight := s.present()
	norm := s.turn(prices, weight)
	if norm == 0 {
		s.pace = 0
		return
	}
	length := s.pace * float64(target-p.bound) / norm
	prices.move(length)
	if s.kinds == nil {
		prices.floor()
	}
	for i := range p.credit {
		p.credit[i] += model.Money(math.Round(length * weight * s.jobs[i]))
	}
	p.stayPrice = max(p.stayPrice+model.Money(math.Round(length*weight*s.stays)), 0)
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

// turn works out by how much more is wanted than there is at the present prices, turns the
// direction to it, smoothed, and returns the square of the direction's length.
func (s *priceSearch) turn(prices *slotPrices, weight float64) float64 {
	stays := s.measure(prices, weight)
	if s.kinds != nil {
		s.p.smoothKinds(prices)
	} else {
		for m := range prices.direction {
			smooth(prices.direction[m], prices.excess[m])
		}
	}
	smooth(s.jobs, s.jobsNow)
	s.stays = float64(smoothing*s.stays) + float64((1-smoothing)*stays)
	norm := product(s.jobs, s.jobs) + float64(s.stays*s.stays)
	for k := range prices.direction {
		norm += product(prices.direction[k], prices.change[k])
	}
	return norm
}

// measure works out the excess of what all would do that was priced last. It returns that of
// changes inside.
func (s *priceSearch) measure(prices *slotPrices, weight float64) float64 {
	p := s.p
	for k := range prices.excess {
		clear(prices.excess[k])
	}
	for i := range s.jobsNow {
		s.jobsNow[i] = weight
	}
	stays := -float64(p.mostStays)
	for i := range p.sprayers {
		p.eachFill(i, func(t *turn, how fillChoice) {
			made := p.turns[t.l]
			stays += p.staysIn(made, how)
			s.add(prices, made.kindOf(how), int32(how.start))
			for takes := t.takes; takes != 0; takes &= takes - 1 {
				s.jobsNow[bits.TrailingZeros32(takes)] -= weight
			}
		})
	}
	s.takeBays(prices)
	if stays *= weight; p.stayPrice == 0 {
		return max(stays, 0)
	}
	return stays
}

// add counts a filling of a sprayer.
func (s *priceSearch) add(prices *slotPrices, kind int, start int32) {
	if s.kinds != nil {
		prices.excess[kind][start]++
		return
	}
	x := &s.p.kinds[kind]
	prices.add(s.p.lines[x.line].mix, start, start+x.slots, 1)
}

// takeBays takes off what bays fill.
func (s *priceSearch) takeBays(prices *slotPrices) {
	for i, b := range s.p.bays {
		for n, open := range b.bays {
			if s.kinds != nil {
				line := s.p.lineBays[i]
				s.p.eachStart(line, &line.opens[n], func(kind int16, slot int32) { prices.excess[kind][slot]-- })
			} else {
				s.p.eachKept(b, open, func(mix int, from, to int32) { prices.add(mix, from, to, -1) })
			}
		}
	}
}
