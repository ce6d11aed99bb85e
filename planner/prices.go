package planner

import (
	"math/bits"
	"sync"

	"padturn/model"
)

// pricing bounds what a day costs with prices for the bays' time. A bay that is
// kept for a mix is paid its price by the second; a sprayer pays it while it is
// filled. At any prices, what the sprayers pay at least, each for itself, and what
// the bays must be paid at most, each for itself, differ by no more than what the
// best plan costs: in it, whoever fills a mix at a time has a bay kept for it.
// Likewise a job for any sprayer is paid for once to whoever does it. Good prices,
// with a high bound, are found step by step: dear where more would be filled than
// there are bays for, cheap where bays would stand idle.
//
// It is the Lagrangian relaxation of the time-indexed model (Dyer and Wolsey,
// "Formulating the single machine sequencing problem with release dates as a
// mixed integer program", Discrete Applied Mathematics 26, 1990), with the rinses
// and changeovers in the bays' part.
//
// With prices for mixes a bay may be paid for one all day, as if there always were a
// sprayer to fill. When no better ones are found, a proof gives each kind of filling of each
// sprayer prices of its own, for starting at a time, which may be less than nothing: then a
// bay is not paid for a sprayer again before it can be back (prices_line.go). That bound is no
// lower for the same prices, and goes on from there. So much of a memory is the first of those
// of Baldacci, Mingozzi and Roberti ("New route relaxation and pricing strategies for the
// vehicle routing problem", Operations Research 59, 2011).
//
// Time is counted in slots. Starts, fillings and rinses are rounded down to whole
// ones, which a plan's own keep clear of each other as they did before; costs and
// times away from the pad are not rounded.
type pricing struct {
	in     *instance
	graphs []turnGraph
	origin model.Clock // where slot 0 begins
	shift  uint        // a slot has 1 << shift seconds
	slots  int32

	price  [][]model.Money // by mix and slot
	paid   [][]model.Money // by mix and slot: Σ of prices before it
	prices [][]model.Money // by kind and slot: what it costs to start to be filled
	byLine bool            // bays are paid by prices of kinds
	credit []model.Money   // by any-sprayer job: what its sprayer is paid

	turns     map[*load]*pricedTurn
	sprayers  []sprayerPrices
	kinds     []fillKind
	lines     []fillLine
	linesOf   [][]int      // by sprayer
	bays      []*bayPrices // those that are alike, once
	lineBays  []*lineBay   // the same, if byLine
	wants     []mask       // by mix: metered products
	leastFill []int32      // by mix: slots of its shortest filling
	setUps    [][]baySetUp // by earlier and later mix
	stayPrice model.Money  // what each change inside a load that is stayed for is paid besides
	mostStays model.Money  // how many of them all sprayers together can have
	dry       []int        // see instance.runDry
	bound     model.Money
}

// The length of a slot, in powers of two of seconds: the least, and the most that it is
// where an evaluation would go through more slots of turns than it may.
const (
	shortSlot = 4
	longSlot  = 8
)

// Through how many slots of turns an evaluation may go: for each step of a search, and on
// any day. The shorter slots are, the less is lost by rounding: more than by prices that
// were looked for more often.
const (
	slotsPerStep = 50
	fewestCells  = 2_000_000
	mostCells    = 32_000_000
)

// newPricing lays a day out for its prices, so that an evaluation goes through so many
// slots of turns at most, if slots are not too long for that; nil where some filling, or
// a changeover that one may be longer by, is too short to be counted in slots, or in a day
// under way.
func newPricing(in *instance, graphs []turnGraph, cells int) *pricing {
	p := &pricing{in: in, graphs: graphs, origin: in.now, turns: map[*load]*pricedTurn{}}
	if in.p.Underway != nil {
		return nil
	}
	p.layOutStays()
	if !p.layOutSlots(cells) {
		return nil
	}
	p.price, p.paid = make([][]model.Money, len(in.p.Mixes)), make([][]model.Money, len(in.p.Mixes))
	for m := range p.price {
		p.price[m] = make([]model.Money, p.slots+1)
		p.paid[m] = make([]model.Money, p.slots+1)
	}
	for _, job := range in.anySprayerJobs() {
		p.credit = append(p.credit, in.jobBound(job))
	}
	p.linesOf = make([][]int, len(in.sprayers))
	p.wants, p.leastFill = make([]mask, len(in.p.Mixes)), make([]int32, len(in.p.Mixes))
	for i := range graphs {
		p.sprayers = append(p.sprayers, p.newSprayer(i))
		p.noteFills(&graphs[i])
	}
	p.noteEnds()
	p.layOutBays()
	p.bound = p.evaluate()
	return p
}

// layOutSlots chooses the length of a slot.
func (p *pricing) layOutSlots(cells int) bool {
	shortest := model.Seconds(model.Never)
	turns := 0
	for i := range p.graphs {
		p.origin = min(p.origin, p.in.sprayers[i].base)
		for n := range p.graphs[i].stops {
			turns += len(p.graphs[i].stops[n].turns)
			for k := range p.graphs[i].stops[n].turns {
				shortest = min(shortest, p.in.leastFill(p.graphs[i].stops[n].turns[k].l))
			}
		}
	}
	if p.in.change > 0 && p.mostStays > 0 {
		shortest = min(shortest, p.in.change-1)
	}
	day := p.in.lastEnd - p.origin + 1
	for p.shift = shortSlot; p.shift < longSlot && int(day>>p.shift)*turns > cells && shortest>>(p.shift+1) > 0; p.shift++ {
	}
	p.slots = int32(day>>p.shift) + 1
	return shortest>>p.shift > 0 && bits.Len32(uint32(p.slots)) < 16
}

// cells is about how many slots an iteration goes through.
func (p *pricing) cells() int64 {
	turns := len(p.bays) * len(p.price) * len(p.price)
	for i := range p.graphs {
		for n := range p.graphs[i].stops {
			turns += len(p.graphs[i].stops[n].turns)
		}
	}
	return int64(turns) * int64(p.slots)
}

// noteFills notes what the loads of a sprayer say about their mixes.
func (p *pricing) noteFills(g *turnGraph) {
	for n := range g.stops {
		for k := range g.stops[n].turns {
			l := g.stops[n].turns[k].l
			fill := p.slotsOf(p.in.leastFill(l))
			if p.wants[l.mix] = l.wants; p.leastFill[l.mix] == 0 || fill < p.leastFill[l.mix] {
				p.leastFill[l.mix] = fill
			}
		}
	}
}

// slotOf returns the slot that a time is in.
func (p *pricing) slotOf(t model.Clock) int32 { return int32((t - p.origin) >> p.shift) }

// timeOf returns when a slot begins.
func (p *pricing) timeOf(slot int32) model.Clock { return p.origin + model.Clock(slot)<<p.shift }

// slotsOf returns how many whole slots a duration has.
func (p *pricing) slotsOf(s model.Seconds) int32 { return int32(s >> p.shift) }

// evaluate works out the bound at the present prices.
func (p *pricing) evaluate() model.Money {
	if !p.byLine {
		p.payByMix()
	}
	bound := -p.stayPrice * p.mostStays
	var group sync.WaitGroup
	for i := range p.sprayers {
		group.Go(func() { p.sprayers[i].least = p.priceSprayer(i) })
	}
	bays := p.priceBays(&group)
	group.Wait()
	for i := range p.sprayers {
		if p.sprayers[i].least >= noWay/2 {
			return noWay // it can't do its jobs in a day
		}
		bound += p.sprayers[i].least
	}
	for _, c := range p.credit {
		bound += c
	}
	return bound + bays()
}

// payByMix works out what mixes pay until each slot, and so what kinds pay.
func (p *pricing) payByMix() {
	for m := range p.price {
		sum := model.Money(0)
		for s := range p.slots {
			p.paid[m][s] = sum
			sum += p.price[m][s]
		}
		p.paid[m][p.slots] = sum
	}
	for k := range p.kinds {
		paid, fill := p.paid[p.lines[p.kinds[k].line].mix], p.kinds[k].slots
		for s := range p.slots {
			p.prices[k][s] = paid[min(s+fill, p.slots)] - paid[s]
		}
	}
}

// priceBays has a group work out what bays cost at least. It returns their sum, once the
// group is done.
func (p *pricing) priceBays(group *sync.WaitGroup) (sum func() model.Money) {
	for i, b := range p.bays {
		group.Go(func() {
			if p.byLine {
				p.priceLines(p.lineBays[i])
			} else {
				p.priceBay(b)
			}
		})
	}
	return func() model.Money {
		sum := model.Money(0)
		for i, b := range p.bays {
			for n, open := range b.bays {
				if p.byLine {
					sum += p.lineBays[i].opens[n].toGo
				} else {
					sum += open.toGo
				}
			}
		}
		return sum
	}
}
