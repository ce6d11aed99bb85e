package planner

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/model"
	"padturn/planner/scenario"
)

// TestStoppedPassesBound stops passes after some labels, wherever that is: what they
// say then is no more than the best of all ways through small days costs, and often more
// than what is plain at first.
func TestStoppedPassesBound(t *testing.T) {
	raised := 0
	for seed := range uint64(12) {
		bays := 1 + int(seed%3)/2
		day := calmDay
		if seed%2 == 1 {
			day = showeryDay
		}
		in := day(t, scenario.Shape{Sprayers: 3, Loads: 8 - bays, Bays: bays}, scenario.Crowded, seed)
		m := newPadModel(newWorkshop(in), forBounds, scope{inOrder: true})
		if m == nil {
			continue
		}
		key, times, value := m.first()
		best := value + leastOfAll(m, false, key, times)
		atFirst := value + m.plainToGo(key, times) - m.unpaid
		last := atFirst
		for labels := int64(1); labels < 2000; labels += 1 + labels/3 {
			p := proverOf(m, best+1000*model.Dollar, 2)
			p.bound = -noWay
			p.work.chunks, p.work.atOnce = p.work.chunks[:1], 1 // so that it stops inside layers
			for !p.done && p.spent < labels {
				p.pass(t.Context(), labels-p.spent)
				assert.LessOrEqual(t, p.bound, best, "seed %d, %d labels", seed, labels)
			}
			assert.GreaterOrEqual(t, p.bound, atFirst, "seed %d, %d labels", seed, labels)
			if p.bound > last {
				raised++
				last = p.bound
			}
		}
	}
	assert.Greater(t, raised, 30)
}
