package planner

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner/scenario"
)

// TestSettlingChangesNothing goes on from labels with random delays: the cheapest way
// costs the same when their times are settled. Days end in overtime, where the bays' last
// times count; rinses are long beside fillings, which makes some of them needless.
func TestSettlingChangesNothing(t *testing.T) {
	compared, days := 0, uint64(60)
	var settled [3]int // times of bays, of the last start, of sprayers
	if testing.Short() {
		days = 12
	}
	for seed := range days {
		rng := rand.New(rand.NewPCG(seed, 13))
		bays := 1 + int(seed%2)
		in := modelledDay(t, scenario.Shape{Sprayers: 2 + rng.IntN(2), Loads: 8 - bays, Bays: bays}, scenario.Crowded, seed, func(in *model.Input) {
			in.Settings.Pad.Closes = in.Settings.Pad.Opens + 3600
			for i := range in.Settings.RinseLevels {
				in.Settings.RinseLevels[i].Min *= 9
			}
			if seed%4 < 2 {
				smallTotes(in, model.WholeDecimal(5+rng.Int64N(40)))
			}
			if seed%3 == 0 {
				in.Holds = showers(rng, in)
			}
		})
		m := newPadModel(newWorkshop(in), forBounds, scope{inOrder: true})
		if m == nil {
			continue
		}
		compared += comparePairs(t, m, rng, 20_000, func(key uint64, o, _ []int32, _ *shift) bool {
			times := delayed(m, rng, o, 7200)
			later := slices.Clone(times)
			s := newStepper(m)
			s.read(key)
			copy(s.stops, s.at.stops)
			here := arc{known: true}
			s.lookOut(&here, &s.at.pad, s.at.taken)
			s.settle(&here, later)
			for _, putsOff := range []bool{false, true} {
				assert.Equal(t, leastOfAll(m, putsOff, key, times), leastOfAll(m, putsOff, key, later), "seed %d, put off: %v", seed, putsOff)
			}
			countLater(m, times, later, &settled)
			return true
		})
	}
	assert.Greater(t, compared, int(days)*20)
	for kind, n := range settled {
		assert.Greater(t, n, int(days), "times of kind %d", kind)
	}
}

// countLater counts the times of bays, of the last start and of sprayers that were made
// later.
func countLater(m *padModel, times, later []int32, count *[3]int) {
	for k := range m.times {
		kind := 0
		switch {
		case k >= m.readyAt:
			kind = 2
		case k >= m.bays:
			kind = 1
		}
		if later[k] > times[k] {
			count[kind]++
		}
	}
}

// A long rinse between two mixes is not sure where a third between them needs none: who
// waits for the later one is then filled sooner than after the rinse.
func TestLongRinseNeedNotBe(t *testing.T) {
	in := plainDay()
	in.Settings.RinseLevels[0].Min = dec(30)
	in.Rules = []model.RuleRow{{Where: "manifold", After: "A", Before: "B", Level: "flush"}}
	in.Sprayers = append(in.Sprayers, model.SprayerRow{Sprayer: "S3", TankGal: dec(1000), AcPerH: model.Some(dec(60))})
	addJob(&in, "1", "S1", "mix A", 20)
	addJob(&in, "2", "S2", "mix B", 20)
	addJob(&in, "3", "S3", "mix C", 20)
	p := problem(t, in)
	m := newPadModel(newWorkshop(newInstance(p)), forBounds, scope{inOrder: true})
	require.NotNil(t, m)
	key, times, sum := m.first()
	s := newStepper(m)
	for _, sprayer := range []int8{0, 2, 1} {
		s.read(key)
		found := s.from(times, 0)
		next := found[slices.IndexFunc(found, func(x successor) bool { return x.step.sprayer == sprayer })]
		key, times, sum = next.key, slices.Clone(next.times), sum+next.value
	}
	s.read(key)
	plan := evaluateInFileOrder(t, p, Slot{0, 0}, Slot{2, 0}, Slot{1, 0})
	assert.Equal(t, plan.Cost.Total(), sum+m.end(s.at, times))
}
