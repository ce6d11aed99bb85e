package planner

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/model"
)

// TestStaysCostNoMoreThanChanges goes through every second at which a filling may start and
// every number of changes inside: what is said for the slot that it starts in may be no
// more than what it costs to the second. What follows a filling costs more the later its
// sprayer is back, by whatever steps, and is paid for from then on; a
// hold may catch it.
func TestStaysCostNoMoreThanChanges(t *testing.T) {
	compared, exact := 0, 0
	for seed := range uint64(300) {
		rng := rand.New(rand.NewPCG(seed, 5))
		p := &pricing{in: &instance{}, shift: 3, slots: 60}
		length := model.Seconds(1) << p.shift
		p.in.change = length + 1 + model.Seconds(rng.IntN(30))
		wait, money := model.Money(rng.IntN(20)), model.Money(rng.IntN(400))
		filled, away := length+model.Seconds(rng.IntN(30)), model.Seconds(rng.IntN(50))
		first := 1 + model.Seconds(rng.IntN(int(p.in.change)))
		longer := func(n int) model.Seconds { // each further one a second less than a change, at times
			return first + model.Seconds(n-1)*p.in.change - model.Seconds(rng.IntN(n))
		}
		made := &pricedTurn{stay: stay{longer: first, first: money, more: money, count: 1}}
		follows := make([]model.Money, 3*p.slots)
		for s := 1; s < len(follows); s++ {
			follows[s] = follows[s-1] + model.Money(rng.IntN(2)*rng.IntN(300))
		}
		caught, hold := model.Seconds(rng.IntN(int(p.slots)<<p.shift)), model.Seconds(rng.IntN(100))
		after := func(x model.Seconds) model.Money {
			back := x + away
			if x >= caught { // by the hold
				back += hold
			}
			return follows[back>>p.shift] - wait*model.Money(back)
		}
		var w stayWork
		w.open(p.slots)
		p.beginStays(&w, made, wait)
		for slot := p.slots - 1; slot >= 0; slot-- {
			begin := model.Seconds(slot) << p.shift
			rest := after(begin)
			if caught > begin && caught < begin+length {
				rest = min(rest, after(caught))
			}
			w.plain[slot] = rest
			said, _ := w.from(slot)
			said += wait * model.Money(begin)
			for start := begin; start < begin+length; start++ {
				for n := 1; n < 5; n++ {
					d := longer(n)
					end := slot + p.slotsOf(filled+d)
					if end >= p.slots {
						continue
					}
					costs := wait*model.Money(start) + model.Money(n)*money + after(start+d)
					if !assert.LessOrEqual(t, said, costs, "seed %d, start %d, %d changes", seed, start, n) {
						return
					}
					compared++
					if said == costs {
						exact++
					}
				}
			}
		}
	}
	assert.Greater(t, compared, 100_000)
	assert.Greater(t, exact, 100, "what is said is hardly ever what it costs")
}
