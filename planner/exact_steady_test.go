package planner

import (
	"math/bits"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/model"
)

// TestSoonerSavesWhatIsSaid goes on from labels, and from the same a while sooner: where
// the time of day makes no difference, the cheapest way saves what is said at least. Half
// of the days have holds, some what comes to the pad in the morning, all a job that may
// have to wait.
func TestSoonerSavesWhatIsSaid(t *testing.T) {
	compared, unsteady, days := 0, 0, uint64(180)
	if testing.Short() {
		days = 30
	}
	for seed := range days {
		rng := rand.New(rand.NewPCG(seed, 12))
		in := smallDay(t, rng, seed, func(in *model.Input) {
			if seed%2 == 0 {
				in.Holds = showers(rng, in)
			}
			if seed%3 == 0 && len(in.Settings.Pad.Bays) == 1 {
				deliverLate(rng, in)
			}
			in.Jobs[rng.IntN(len(in.Jobs))].Earliest = model.Some(model.Clock(7*3600 + rng.IntN(4*3600)))
		})
		m := newPadModel(newWorkshop(in), forBounds, scope{inOrder: true})
		if m == nil {
			continue
		}
		comparePairs(t, m, rng, 20_000, func(key uint64, o, _ []int32, s *shift) bool {
			by := 1 + rng.Int32N(1800)
			sooner := soonerBy(m, s, o, by)
			if !m.isSteady(s, sooner) {
				unsteady++
				return false
			}
			for _, putsOff := range []bool{false, true} {
				after, other := leastOfAll(m, putsOff, key, sooner), leastOfAll(m, putsOff, key, o)
				if other >= noWay/2 {
					return false // a job for any sprayer was passed over by all
				}
				assert.LessOrEqual(t, after+s.gain*model.Money(by), other, "seed %d, put off: %v", seed, putsOff)
			}
			compared++
			return true
		})
	}
	assert.Greater(t, compared, int(days)*10)
	assert.Positive(t, unsteady)
}

// deliverLate has most of what is kept in totes come to the pad in the course of the
// morning.
func deliverLate(rng *rand.Rand, in *model.Input) {
	smallTotes(in, model.WholeDecimal(20))
	for i := range in.Stock {
		s := &in.Stock[i]
		if s.Container == "tote" && s.Full > model.One {
			in.Deliveries = append(in.Deliveries, model.DeliveryRow{At: model.Clock(6*3600 + rng.IntN(4*3600)),
				Product: s.Product, Container: s.Container, Size: s.Size, Count: s.Full - model.One})
			s.Full = model.One
		}
	}
}

// soonerBy returns times all of which that count are sooner.
func soonerBy(m *padModel, s *shift, times []int32, by int32) []int32 {
	sooner := append([]int32(nil), times...)
	for k := range m.readyAt {
		sooner[k] -= by
	}
	for again := s.again; again != 0; again &= again - 1 {
		sooner[m.readyAt+bits.TrailingZeros64(again)] -= by
	}
	return sooner
}
