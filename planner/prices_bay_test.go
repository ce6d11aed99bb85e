package planner

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/model"
)

// TestBaysCostTheLeast compares what a bay is said to cost with all that it may do, with
// random prices, set-ups, a shut time and overtime; and walks the way that is said to cost
// so little.
func TestBaysCostTheLeast(t *testing.T) {
	changed := 0
	for seed := range uint64(500) {
		p := randomBay(rand.New(rand.NewPCG(seed, 3)))
		b := p.bays[0]
		p.priceBay(b)
		open := b.bays[0]
		way := bayWay{p: p, b: b, known: map[keptBay]model.Money{}}
		assert.Equal(t, way.fromOpening(), open.toGo, "seed %d", seed)

		walked, before, end := model.Money(0), model.None, open.from
		p.eachKept(b, open, func(mix int, from, to int32) {
			set := open.setUp[mix]
			if before != model.None {
				set = baySetUp{}
				if mix != before {
					set = p.setUps[before][mix]
					changed++
				}
			}
			assert.GreaterOrEqual(t, from, end+set.slots, "seed %d: the set-up", seed)
			assert.GreaterOrEqual(t, b.clear[from], to, "seed %d: shut", seed)
			walked += set.money
			for slot := from; slot < to; slot++ {
				walked -= p.price[mix][slot]
			}
			before, end = mix, to
		})
		if before != model.None {
			walked += p.stopped(end)
		}
		assert.Equal(t, open.toGo, walked, "seed %d: the way", seed)
	}
	assert.Greater(t, changed, 200)
}

// randomBay makes a bay for up to three mixes.
func randomBay(rng *rand.Rand) *pricing {
	const mixes = 3
	p := &pricing{in: &instance{overtime: 1, closes: model.Clock(rng.IntN(30)), bays: make([]bayData, 1)}, slots: 26}
	b := &bayPrices{}
	for range mixes {
		p.leastFill = append(p.leastFill, 1+int32(rng.IntN(4)))
		price, paid := make([]model.Money, p.slots+1), make([]model.Money, p.slots+1)
		for slot := range p.slots {
			price[slot] = model.Money(max(rng.IntN(20)-9, 0))
			paid[slot+1] = paid[slot] + price[slot]
		}
		p.price, p.paid = append(p.price, price), append(p.paid, paid)
		var sets []baySetUp
		for range mixes {
			sets = append(sets, baySetUp{int32(rng.IntN(3)), model.Money(rng.IntN(12))})
		}
		p.setUps = append(p.setUps, sets)
		b.fills = append(b.fills, rng.IntN(5) > 0)
		b.toGo, b.next = append(b.toGo, make([]model.Money, p.slots+1)), append(b.next, make([]int16, p.slots+1))
	}
	b.clear = randomShut(rng, p.slots)
	b.bays = []*openingPrices{{from: int32(rng.IntN(3)), setUp: p.setUps[0]}}
	p.bays = []*bayPrices{b}
	return p
}

// randomShut lists the first slot from each on in which a bay is shut: at random for one.
func randomShut(rng *rand.Rand, slots int32) []int32 {
	clear, shut := make([]int32, slots+1), int32(rng.IntN(int(slots)))
	for slot := range clear {
		if clear[slot] = slots; int32(slot) <= shut {
			clear[slot] = shut
		}
	}
	return clear
}

// stopped is what a bay costs that fills no more from a slot on.
func (p *pricing) stopped(slot int32) model.Money {
	return p.in.overtime.For(model.Seconds(max(p.timeOf(slot)-p.in.closes, 0)))
}

// keptBay is a bay that is set up for a mix in a slot.
type keptBay struct {
	mix  int
	slot int32
}

// bayWay tries all that a bay may do.
type bayWay struct {
	p     *pricing
	b     *bayPrices
	known map[keptBay]model.Money
}

func (w *bayWay) fromOpening() model.Money {
	least, open := model.Money(0), w.b.bays[0]
	for mix := range w.b.fills {
		for slot := open.from; slot < w.p.slots; slot++ {
			least = min(least, w.fill(mix, slot, open.setUp[mix]))
		}
	}
	return least
}

// fill is what it costs at least to be set up for a mix from a slot on, and to fill it.
func (w *bayWay) fill(mix int, slot int32, set baySetUp) model.Money {
	from := slot + set.slots
	end := from + w.p.leastFill[mix]
	if !w.b.fills[mix] || end > w.p.slots {
		return noWay
	}
	cost := set.money
	for s := from; s < end; s++ {
		if cost -= w.p.price[mix][s]; w.b.clear[s] == s {
			return noWay
		}
	}
	return cost + w.from(keptBay{mix, end})
}

// from is what a bay costs at least from a state on.
func (w *bayWay) from(x keptBay) model.Money {
	if least, ok := w.known[x]; ok {
		return least
	}
	least := w.p.stopped(x.slot)
	if next := (keptBay{x.mix, x.slot + 1}); x.slot < w.p.slots {
		least = min(least, w.from(next))
		if w.b.clear[x.slot] > x.slot {
			least = min(least, w.from(next)-w.p.price[x.mix][x.slot])
		}
	}
	for mix := range w.b.fills {
		if mix != x.mix {
			least = min(least, w.fill(mix, x.slot, w.p.setUps[x.mix][mix]))
		}
	}
	w.known[x] = least
	return least
}
