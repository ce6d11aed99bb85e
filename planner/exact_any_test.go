package planner

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/planner/scenario"
)

// TestUntakenCostsNoMore takes random steps into small days with jobs for any sprayer: what
// is certainly still to come after a step is no more than the cheapest way on. It counts
// where such jobs add to it, and where one was passed over by all.
func TestUntakenCostsNoMore(t *testing.T) {
	compared, added, dead, days := 0, 0, 0, uint64(300)
	if testing.Short() {
		days = 100
	}
	for seed := range days {
		rng := rand.New(rand.NewPCG(seed, 14))
		bays := 1 + int(seed%4)/3
		in := calmDay(t, scenario.Shape{Sprayers: 2 + rng.IntN(2), Loads: 7 - bays, Bays: bays}, scenario.Crowded, seed)
		for range rng.IntN(3) {
			in.p.Jobs[rng.IntN(len(in.p.Jobs))].Sprayer = -1
		}
		m := newPadModel(newWorkshop(in), forBounds, scope{inOrder: seed%3 > 0})
		if m == nil || len(m.any) == 0 {
			continue
		}
		key, times, value := m.first()
		key, times = stroll(m, rng, 1+rng.IntN(4), key, times, value)
		s := newStepper(m)
		s.read(key)
		for _, next := range append([]successor(nil), s.from(times, 0)...) {
			least := leastOfAll(m, true, next.key, append([]int32(nil), next.times...))
			compared++
			if next.toGo >= noWay/2 {
				dead++
				assert.GreaterOrEqual(t, least, noWay/2, "seed %d", seed)
				continue
			}
			assert.LessOrEqual(t, next.toGo, least, "seed %d", seed)
			if next.toGo > m.plainToGo(next.key, next.times) {
				added++
			}
		}
	}
	assert.Greater(t, compared, int(days))
	assert.Greater(t, added, int(days)/4, "more than sprayers pay in any case")
	assert.Positive(t, dead)
}
