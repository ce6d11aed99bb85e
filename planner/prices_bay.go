package planner

import (
	"slices"

	"padturn/model"
)

// bayPrices is what bays that fill the same mixes and are shut at the same times
// may be paid at the present prices.
type bayPrices struct {
	fills []bool
	clear []int32 // by slot: the first from it on in which the bay is shut throughout
	// toGo is by mix in the manifold and slot the least that the bay costs from
	// then on, its set-ups less what it is paid. next is what it does.
	toGo [][]model.Money
	next [][]int16
	bays []*openingPrices
}

// openingPrices is the beginning of one bay's day.
type openingPrices struct {
	from  int32      // slot
	setUp []baySetUp // by mix, from what it holds at the opening
	toGo  model.Money
	mix   int // what it is set up for first, at which slot; None where for nothing
	at    int32
}

// baySetUp is the least that lies between two mixes on a bay.
type baySetUp struct {
	slots int32
	money model.Money
}

// What a bay does next, where it is not set up for another mix.
const (
	bayStops = -1 - iota
	bayKeeps
	bayIdles
)

func (p *pricing) layOutBays() {
	for b := range p.in.bays {
		data := &p.in.bays[b]
		i := slices.IndexFunc(p.bays, func(o *bayPrices) bool {
			return slices.Equal(o.fills, p.wantedOf(data.fills)) && slices.Equal(o.clear, p.clearSlots(data))
		})
		if i < 0 {
			i = len(p.bays)
			made := &bayPrices{fills: p.wantedOf(data.fills), clear: p.clearSlots(data)}
			for range p.in.p.Mixes {
				made.toGo, made.next = append(made.toGo, make([]model.Money, p.slots+1)), append(made.next, make([]int16, p.slots+1))
			}
			p.bays = append(p.bays, made)
		}
		open := &openingPrices{from: p.slotOf(max(p.in.now, data.freeFrom))}
		for m := range p.in.p.Mixes {
			open.setUp = append(open.setUp, p.firstSetUp(data, m))
		}
		p.bays[i].bays = append(p.bays[i].bays, open)
	}
	p.setUps = make([][]baySetUp, len(p.in.p.Mixes))
	for m := range p.setUps {
		for to := range p.in.p.Mixes {
			p.setUps[m] = append(p.setUps[m], p.setUpBetween(m, to))
		}
	}
}

// wantedOf leaves the mixes out of some that no load is of.
func (p *pricing) wantedOf(mixes []bool) []bool {
	wanted := slices.Clone(mixes)
	for m, fill := range p.leastFill {
		wanted[m] = wanted[m] && fill > 0
	}
	return wanted
}

// clearSlots lists, by slot, the first from it on that a bay is shut in from its
// beginning to its end.
func (p *pricing) clearSlots(b *bayData) []int32 {
	list := make([]int32, p.slots+1)
	list[p.slots] = p.slots
	for s := p.slots - 1; s >= 0; s-- {
		list[s] = list[s+1]
		for _, shut := range b.shut {
			if shut.from <= p.timeOf(s) && shut.to >= p.timeOf(s+1) {
				list[s] = s
			}
		}
	}
	return list
}

// firstSetUp returns the set-up for a bay's first mix. All that is missing must go
// on; where the mix wants more than fits, some of it only inside the load.
func (p *pricing) firstSetUp(b *bayData, mix int) baySetUp {
	own := p.wants[mix].without(&b.plumbed)
	missing := own.without(&b.onAtOpening)
	inside := max(own.count()-b.free, 0)
	set := p.setUp(p.in.firstRinse(b, mix), max(missing.count()-inside, 0))
	set.money += p.in.changeMoney * model.Money(min(inside, missing.count()))
	return set
}

// setUpBetween returns the least set-up from one mix to another on any bay: what
// both want and a bay has no connections for must be changed.
func (p *pricing) setUpBetween(from, to int) baySetUp {
	changes := len(p.in.products)
	for b := range p.in.bays {
		data := &p.in.bays[b]
		f, t := p.wants[from].without(&data.plumbed), p.wants[to].without(&data.plumbed)
		if f.count() > data.free || t.count() > data.free {
			changes = 0
		}
		more := t.without(&f)
		changes = min(changes, max(f.count()+more.count()-data.free, 0))
	}
	return p.setUp(p.in.rinse[from][to], changes)
}

func (p *pricing) setUp(rinse int16, changes int) baySetUp {
	time, money := p.in.change*model.Seconds(changes), p.in.changeMoney*model.Money(changes)
	if rinse != model.None {
		time, money = time+p.in.rinses[rinse].time, money+p.in.rinses[rinse].money
	}
	return baySetUp{p.slotsOf(time), money}
}

// priceBay works out the least that a kind of bay costs.
func (p *pricing) priceBay(b *bayPrices) {
	share := p.in.overtime.For(1) / model.Money(len(p.in.bays)) // the last bay to end pays for all
	for slot := p.slots; slot >= 0; slot-- {
		stop := share * model.Money(max(p.timeOf(slot)-p.in.closes, 0))
		for m := range b.toGo {
			best, how := stop, int16(bayStops)
			if slot < p.slots && b.fills[m] {
				if idle := b.toGo[m][slot+1]; idle < best {
					best, how = idle, bayIdles
				}
				if b.clear[slot] > slot {
					if keep := b.toGo[m][slot+1] - p.price[m][slot]; keep < best {
						best, how = keep, bayKeeps
					}
				}
			}
			b.toGo[m][slot], b.next[m][slot] = best, how
		}
		p.changeMixes(b, slot)
	}
	for _, open := range b.bays {
		p.priceOpening(b, open)
	}
}

// changeMixes looks whether a bay had better be set up for another mix in a slot.
func (p *pricing) changeMixes(b *bayPrices, slot int32) {
	for m := range b.toGo {
		if !b.fills[m] {
			continue
		}
		for to := range b.toGo {
			if to == m || !b.fills[to] {
				continue
			}
			if cost := p.setUps[m][to].money + p.filled(b, to, slot+p.setUps[m][to].slots); cost < b.toGo[m][slot] {
				b.toGo[m][slot], b.next[m][slot] = cost, int16(to)
			}
		}
	}
}

// filled returns what a bay costs from a slot on in which it begins a filling.
func (p *pricing) filled(b *bayPrices, mix int, slot int32) model.Money {
	end := slot + p.leastFill[mix]
	if end > p.slots || b.clear[slot] < end {
		return noWay
	}
	return b.toGo[mix][end] - (p.paid[mix][end] - p.paid[mix][slot])
}

func (p *pricing) priceOpening(b *bayPrices, open *openingPrices) {
	open.toGo, open.mix = 0, model.None
	for m := range b.toGo {
		if !b.fills[m] {
			continue
		}
		for slot := open.from; slot < p.slots; slot++ {
			if cost := open.setUp[m].money + p.filled(b, m, slot+open.setUp[m].slots); cost < open.toGo {
				open.toGo, open.mix, open.at = cost, m, slot
			}
		}
	}
}

// eachKept goes through the spans that a bay keeps for mixes.
func (p *pricing) eachKept(b *bayPrices, open *openingPrices, yield func(mix int, from, to int32)) {
	mix, slot := open.mix, open.at
	if mix == model.None {
		return
	}
	begin := func(set baySetUp) {
		from := slot + set.slots
		slot = from + p.leastFill[mix]
		yield(mix, from, slot)
	}
	begin(open.setUp[mix])
	for {
		switch next := b.next[mix][slot]; next {
		case bayStops:
			return
		case bayKeeps:
			yield(mix, slot, slot+1)
			slot++
		case bayIdles:
			slot++
		default:
			from := mix
			mix = int(next)
			begin(p.setUps[from][mix])
		}
	}
}
