package planner

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/model"
)

// TestLinesCostTheLeast compares what bays are said to cost with all ways to fill kinds one
// after the other, with random prices, set-ups, shut times and overtime; and walks the way
// that is said to cost so little.
func TestLinesCostTheLeast(t *testing.T) {
	fills := 0
	for seed := range uint64(300) {
		rng := rand.New(rand.NewPCG(seed, 3))
		p := randomLines(rng)
		b := p.lineBays[0]
		p.priceLines(b)
		open := &b.opens[0]
		assert.Equal(t, min(p.leastOf(b, nil, 0, map[after]model.Money{}), 0), open.toGo, "seed %d", seed)
		walked, end, before := model.Money(0), open.from, (*fillLine)(nil)
		p.eachStart(b, open, func(k int16, slot int32) {
			kind, line := &p.kinds[k], p.lineOfKind(k)
			set := p.between(open, before, line.mix)
			assert.GreaterOrEqual(t, slot, end+set.slots, "seed %d: the set-up", seed)
			assert.GreaterOrEqual(t, b.clear[slot], slot+kind.slots, "seed %d: shut", seed)
			if before != nil && before.sprayer == line.sprayer {
				assert.GreaterOrEqual(t, slot, end+before.away, "seed %d: not back", seed)
			}
			walked += set.money - p.prices[k][slot]
			end, before = slot+kind.slots, line
			fills++
		})
		if before != nil {
			walked += p.stopped(end)
		}
		assert.Equal(t, open.toGo, walked, "seed %d: the way", seed)
	}
	assert.Greater(t, fills, 600)
}

// randomLines makes a bay that may fill a few kinds of two mixes and three sprayers.
func randomLines(rng *rand.Rand) *pricing {
	p := &pricing{in: &instance{overtime: 1, closes: model.Clock(rng.IntN(30) << 6), bays: make([]bayData, 1)}, slots: 26, shift: 6}
	p.linesOf = make([][]int, 3)
	for k := range 2 + rng.IntN(4) {
		l := load{Load: &model.Load{}, sprayer: rng.IntN(3), mix: rng.IntN(2), driveOut: model.Clock(rng.IntN(8) << 6)}
		p.startsFrom(p.kindOf(&l, model.Seconds(1+k)<<p.shift), int32(rng.IntN(6)))
	}
	p.noteEnds()
	for range 2 {
		p.setUps = append(p.setUps, []baySetUp{{int32(rng.IntN(3)), model.Money(rng.IntN(5))}, {int32(rng.IntN(3)), model.Money(rng.IntN(5))}})
	}
	for k := range p.prices {
		for slot := range p.prices[k] {
			p.prices[k][slot] = model.Money(rng.IntN(30) - 15)
		}
	}
	b := &bayPrices{fills: []bool{true, rng.IntN(4) > 0}, clear: randomShut(rng, p.slots)}
	b.bays = []*openingPrices{{from: int32(rng.IntN(3)), setUp: p.setUps[0]}}
	p.lineBays = []*lineBay{p.newLineBay(b)}
	return p
}

// between returns the set-up between a filling, or the opening, and a mix.
func (p *pricing) between(open *lineOpening, before *fillLine, mix int) baySetUp {
	if before == nil {
		return open.setUp[mix]
	}
	return p.setUps[before.mix][mix]
}

// after is the line of a filling that a bay has done, and the slot in which it ends.
type after struct {
	line *fillLine
	end  int32
}

// leastOf tries everything that a bay may do after a filling that ends in a slot. It keeps
// what it has found.
func (p *pricing) leastOf(b *lineBay, before *fillLine, end int32, found map[after]model.Money) model.Money {
	if least, ok := found[after{before, end}]; ok {
		return least
	}
	least := noWay
	if before != nil {
		least = p.stopped(end)
	}
	for k := range p.kinds {
		kind, line := &p.kinds[k], p.lineOfKind(int16(k))
		set := p.between(&b.opens[0], before, line.mix)
		from := end + set.slots
		if before == nil {
			from += b.opens[0].from
		} else if before.sprayer == line.sprayer {
			from = max(from, end+before.away)
		}
		for slot := max(from, kind.first); b.fills[line.mix] && slot+kind.slots <= p.slots; slot++ {
			if slot < p.slots && b.clear[slot] >= slot+kind.slots {
				least = min(least, set.money-p.prices[k][slot]+p.leastOf(b, line, slot+kind.slots, found))
			}
		}
	}
	found[after{before, end}] = least
	return least
}
