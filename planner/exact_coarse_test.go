package planner

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/model"
)

// TestCoarserModelCostsNoMore goes some steps into small days, with totes that run dry
// often, and tries all ways on from there: the cheapest costs no more in the coarser
// model, from the same times.
func TestCoarserModelCostsNoMore(t *testing.T) {
	compared, cheaper, unsure, days := 0, 0, 0, uint64(400)
	if testing.Short() {
		days = 50
	}
	for seed := range days {
		rng := rand.New(rand.NewPCG(seed, 11))
		in := smallDay(t, rng, seed, func(in *model.Input) {
			if seed%3 == 0 {
				in.Holds = showers(rng, in)
			}
			smallTotes(in, model.WholeDecimal(5+rng.Int64N(40)))
		})
		m := newPadModel(newWorkshop(in), forBounds, scope{inOrder: true})
		if m == nil {
			continue
		}
		c := m.coarsen()
		for range 2 {
			key, times, value := m.first()
			key, times = stroll(m, rng, 1+rng.IntN(4), key, times, value)
			fine := leastOfAll(m, true, key, times)
			if fine >= noWay/2 {
				continue // a job for any sprayer was passed over by all
			}
			joined, _ := c.state(m, key)
			coarse := leastOfAll(c.m, true, joined, times)
			assert.LessOrEqual(t, coarse, fine, "seed %d", seed)
			compared++
			if coarse < fine {
				cheaper++
			}
			if at := c.m.newState(); anyUnsure(c.m, joined, at) {
				unsure++
			}
		}
	}
	assert.Greater(t, compared, int(days))
	assert.Positive(t, cheaper, "days on which the coarser model says less")
	assert.Positive(t, unsure, "states of which it is not known what is in the totes")
}

// smallTotes has what is kept in totes and drums in containers of a size, as much of it
// as before.
func smallTotes(in *model.Input, size model.Decimal) {
	for i := range in.Stock {
		s := &in.Stock[i]
		if s.Container == "tote" || s.Container == "drum" {
			s.Full = model.WholeDecimal(1 + int64(s.Full.Float()*s.Size.Float()/size.Float()))
			s.Size, s.Open = size, nil
		}
	}
}

// stroll takes some random steps from a label, and says where they lead.
func stroll(m *padModel, rng *rand.Rand, steps int, key uint64, times []int32, value model.Money) (uint64, []int32) {
	s := newStepper(m)
	for range steps {
		s.read(key)
		found := s.from(times, value)
		if len(found) == 0 {
			break
		}
		next := found[rng.IntN(len(found))]
		key, times = next.key, append([]int32(nil), next.times...)
	}
	return key, times
}

// anyUnsure says whether a state does not tell how much of a product is taken.
func anyUnsure(m *padModel, key uint64, at *state) bool {
	m.read(key, at)
	for _, x := range at.unsure {
		if x > 0 {
			return true
		}
	}
	return false
}
