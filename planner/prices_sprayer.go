package planner

import (
	"math/bits"

	"padturn/model"
)

// sprayerPrices is what a sprayer's day costs at the present prices.
type sprayerPrices struct {
	order []int32         // stops, each before those its turns lead to
	turns [][]*pricedTurn // by stop
	// first is by stop the slot before which the sprayer cannot be there.
	first []int32
	// toGo is by stop and slot, from the first on, the least that follows when the sprayer
	// is at the pad in the slot and goes on. Its time counts from the origin to the start of
	// its filling, so that what it is worth until it came is to be taken off. next
	// is how.
	toGo  [][]model.Money
	next  [][]fillChoice
	least model.Money // from the opening on
	stays stayWork
}

// pricedTurn is what one load costs by the slot in which its filling starts.
type pricedTurn struct {
	back  []int32       // when the sprayer is back, in seconds after the origin; -1: it can't start then
	cost  []model.Money // timeliness and lateness
	jumps []jump        // by slot
	held  bool          // its sprayer may be held before it, unpaid (R9, tank life)
	kind  int           // of its filling, for its price
	stay  stay
	on    int // its kind if the sprayer stays on
}

// jump is a moment in a slot from which on a start comes into a hold: the sprayer
// is back at another time, in seconds after the origin.
type jump struct{ slot, back int32 }

func (p *pricing) newSprayer(i int) sprayerPrices {
	g := &p.graphs[i]
	n := len(g.stops)
	s := sprayerPrices{order: g.order(), turns: make([][]*pricedTurn, n), first: make([]int32, n), toGo: make([][]model.Money, n), next: make([][]fillChoice, n)}
	s.stays.open(p.slots)
	for n := range g.stops {
		s.first[n] = p.slotOf(min(g.stops[n].soonest, p.in.lastEnd))
		s.toGo[n], s.next[n] = make([]model.Money, p.slots-s.first[n]), make([]fillChoice, p.slots-s.first[n])
		for k := range g.stops[n].turns {
			t := &g.stops[n].turns[k]
			made := p.pricedTurn(t)
			s.turns[n] = append(s.turns[n], made)
			from := s.first[n] + p.slotsOf(model.Seconds(t.clean))
			p.startsFrom(made.kind, from)
			p.startsFrom(made.on, from)
		}
	}
	return s
}

// pricedTurn works out a turn's costs, once for each load.
func (p *pricing) pricedTurn(t *turn) *pricedTurn {
	if made, ok := p.turns[t.l]; ok {
		return made
	}
	made := &pricedTurn{back: make([]int32, p.slots), cost: make([]model.Money, p.slots), stay: p.stayOf(t.l)}
	p.turns[t.l] = made
	fill, longest := p.in.leastFill(t.l), p.longestFill(t.l)
	made.kind, made.on = p.kindOf(t.l, fill), p.kindOf(t.l, fill+made.stay.longer)
	for s := range p.slots {
		start := p.timeOf(s)
		end := start + model.Clock(fill)
		made.back[s] = -1
		if end > t.l.lastEnd || p.timeOf(s+1) <= p.in.now {
			continue
		}
		cost, back := t.throughHolds(end)
		made.held = made.held || t.l.tankLife < model.Seconds(model.Never) &&
			model.Seconds(t.l.sprayedOut(p.timeOf(s+1)+longest)-start) > t.l.tankLife
		made.back[s] = int32(back - p.origin)
		made.cost[s] = cost
		p.addJumps(made, t.l, s)
	}
	return made
}

// kindOf returns the kind of a filling of the turn.
func (t *pricedTurn) kindOf(how fillChoice) int {
	if how.stays {
		return t.on
	}
	return t.kind
}

// addJumps finds the moments of a slot from which on the sprayer is back later by
// more than its start is: where a start comes into a hold.
func (p *pricing) addJumps(made *pricedTurn, l *load, s int32) {
	shortest := l.shortestHold()
	if shortest == model.Never {
		return
	}
	fill := model.Clock(p.in.leastFill(l))
	start, next := p.timeOf(s), p.timeOf(s+1)
	before := l.sprayedOut(start + fill)
	if shortest >= next-start && l.sprayedOut(next+fill)-before == next-start {
		return // no jump over a hold is made up for in one slot
	}
	for t := start + 1; t < next; t++ {
		out := l.sprayedOut(t + fill)
		if out > before+1 {
			made.jumps = append(made.jumps, jump{s, int32(out + l.driveBack - p.origin)})
		}
		before = out
	}
}

// shortestHold returns the length of the shortest hold that may keep some part from
// being sprayed; Never where there is none.
func (l *load) shortestHold() model.Clock {
	shortest := model.Never
	for i := range l.parts {
		for _, hold := range l.parts[i].blocked[1:] {
			shortest = min(shortest, hold.to-hold.from)
		}
	}
	return shortest
}

// priceSprayer works out what a sprayer's day costs at least.
func (p *pricing) priceSprayer(i int) model.Money {
	s, g := &p.sprayers[i], &p.graphs[i]
	for x := len(s.order) - 1; x >= 0; x-- {
		n := s.order[x]
		for k := range s.toGo[n] {
			s.toGo[n][k] = noWay
		}
		for k := range g.stops[n].turns {
			p.priceTurn(s, g, n, k)
		}
	}
	return p.fromPad(i, 0, p.in.sprayers[i].base)
}

// fromPad returns the least that follows for a sprayer that is at the pad at a
// time, at a stop.
func (p *pricing) fromPad(i int, n int32, t model.Clock) model.Money {
	stop := &p.graphs[i].stops[n]
	least := noWay
	if stop.done || len(stop.turns) == 0 {
		least = 0
	}
	if slot := p.slotOf(t); len(stop.turns) > 0 && slot < p.slots {
		least = min(least, p.sprayers[i].toGo[n][slot-p.sprayers[i].first[n]]-p.graphs[i].wait.For(model.Seconds(t-p.origin)))
	}
	return least
}

// after is fromPad for a time in seconds after the origin.
func (p *pricing) after(s *sprayerPrices, to *stop, n, back int32, wait model.Money) model.Money {
	least := noWay
	if to.done || len(to.turns) == 0 {
		least = 0
	}
	if slot := back >> p.shift; len(to.turns) > 0 && slot < p.slots {
		least = min(least, s.toGo[n][max(slot-s.first[n], 0)]-wait*model.Money(back))
	}
	return least
}

// fillChoice is the turn that a sprayer takes, when its filling starts, and from which slot
// on that counts: a later one where it stays on, see stay.
type fillChoice struct {
	turn      int16
	start, at int16
	stays     bool
}

// priceTurn works out, by slot in which a sprayer may be at a stop, what it costs
// to take a turn of it and all that follows, where that is less than another turn.
func (p *pricing) priceTurn(s *sprayerPrices, g *turnGraph, n int32, k int) {
	t, made := &g.stops[n].turns[k], s.turns[n][k]
	wait := g.wait.For(1)
	clean := p.slotsOf(model.Seconds(t.clean))
	price, priceOn, jumps := p.prices[made.kind], p.prices[made.on], made.jumps
	fixed := t.fixed - p.credits(t.takes)
	p.beginStays(&s.stays, made, wait)
	best, how := noWay, fillChoice{turn: model.None}
	from, toGo, next := s.first[n], s.toGo[n], s.next[n]
	for slot := p.slots - 1; slot >= from; slot-- {
		first := firstIn(jumps, slot)
		rest := p.rest(s, g, t, made, slot, jumps[first:])
		jumps = jumps[:first]
		cost, x := rest+price[slot], fillChoice{int16(k), int16(slot), int16(slot), false}
		if made.stay.longer > 0 {
			s.stays.plain[slot] = rest
			if sum, at := s.stays.from(slot); sum+priceOn[slot] < cost {
				cost, x.stays, x.at = sum+priceOn[slot], true, int16(at)
			}
		}
		if !made.held {
			cost += wait * model.Money(slot) << p.shift
		}
		if cost < best {
			best, how = cost, x
		}
		if at := slot - clean; at >= from && how.turn >= 0 {
			if sum := best + fixed - wait*p.unpaidAt(made, t, at); sum < toGo[at-from] {
				toGo[at-from], next[at-from] = sum, how
			}
		}
	}
}

// rest returns what follows at least where a turn's filling counts from a slot on, in which
// some jumps are: all but the bay's time and the sprayer's until then.
func (p *pricing) rest(s *sprayerPrices, g *turnGraph, t *turn, made *pricedTurn, slot int32, jumps []jump) model.Money {
	if made.back[slot] < 0 {
		return noWay
	}
	to, wait := &g.stops[t.to], g.wait.For(1)
	least := p.after(s, to, t.to, made.back[slot], wait)
	for _, j := range jumps {
		least = min(least, p.after(s, to, t.to, j.back, wait))
	}
	return least + made.cost[slot]
}

// firstIn returns which of some jumps is the first in a slot, behind which there are none.
func firstIn(jumps []jump, slot int32) int {
	n := len(jumps)
	for n > 0 && jumps[n-1].slot == slot {
		n--
	}
	return n
}

// unpaidAt returns how many seconds that a sprayer spends at the pad before a turn
// are certainly not paid as waiting, at the most: its cleanout, or what is left
// until work can start. Where it may be held for longer nothing is paid.
func (p *pricing) unpaidAt(made *pricedTurn, t *turn, at int32) model.Money {
	if made.held {
		return -model.Money(at-1) << p.shift
	}
	return model.Money(max(t.clean, p.in.now-p.timeOf(at)))
}

// credits returns what is paid for jobs that any sprayer may do.
func (p *pricing) credits(takes uint32) model.Money {
	var sum model.Money
	for ; takes != 0; takes &= takes - 1 {
		sum += p.credit[bits.TrailingZeros32(takes)]
	}
	return sum
}

// eachFill goes through what a sprayer does at the present prices: which turns it takes,
// and how.
func (p *pricing) eachFill(i int, yield func(t *turn, how fillChoice)) {
	s, g := &p.sprayers[i], &p.graphs[i]
	wait := g.wait.For(1)
	n, back := int32(0), int32(p.in.sprayers[i].base-p.origin)
	for {
		stop := &g.stops[n]
		slot := back >> p.shift
		if len(stop.turns) == 0 || slot >= p.slots {
			return
		}
		slot = max(slot-s.first[n], 0)
		if stop.done && s.toGo[n][slot] >= wait*model.Money(back) {
			return
		}
		how := s.next[n][slot]
		t, made := &stop.turns[how.turn], s.turns[n][how.turn]
		yield(t, how)
		n, back = t.to, made.back[how.at]
		least := p.after(s, &g.stops[n], n, back, wait)
		for _, j := range made.jumps {
			if after := p.after(s, &g.stops[n], n, j.back, wait); j.slot == int32(how.at) && after < least {
				least, back = after, j.back
			}
		}
	}
}
