package planner

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner/scenario"
)

// TestThinLeavesNothingNeedless has a pass thin its layers: no label that is left makes
// another of its state needless, be it cheaper or sooner.
func TestThinLeavesNothingNeedless(t *testing.T) {
	compared, dearer := 0, 0
	for seed := range uint64(6) {
		in := calmDay(t, scenario.Shape{Sprayers: 4, Loads: 16, Bays: 1}, scenario.Busy, seed)
		m := newPadModel(newWorkshop(in), forBounds, scope{inOrder: true})
		require.NotNil(t, m)
		p := newPass(t.Context(), proverOf(m, noWay, 1), &stage{m, fineness{cellBits: 8}, newWork(m, 1)}, 20_000)
		p.begin()
		for depth := range len(p.layers) {
			p.open(int32(depth))
			for i := range p.layers[depth].shards {
				n, d := checkThinned(t, m, &p.layers[depth].shards[i])
				compared, dearer = compared+n, dearer+d
			}
		}
	}
	assert.Greater(t, compared, 1000)
	assert.Positive(t, dearer, "labels behind which cheaper ones stand")
}

// checkThinned compares all labels of each state of a shard, and counts how often one that
// comes first is the dearer.
func checkThinned(t *testing.T, m *padModel, sh *shard) (compared, dearer int) {
	timesOf := func(i int32) []int32 { return sh.times[int(i)*m.width : int(i+1)*m.width] }
	for n, key := range sh.table.keys {
		var s shift
		m.shiftOf(key, false, &s)
		for i := sh.head[n]; i >= 0; i = sh.labels[i].next {
			for j := sh.labels[i].next; j >= 0; j = sh.labels[j].next {
				x, y := sh.labels[i].value, sh.labels[j].value
				assert.False(t, m.covers(&s, x, timesOf(i), y, timesOf(j)) || m.covers(&s, y, timesOf(j), x, timesOf(i)))
				compared++
				if x > y {
					dearer++
				}
			}
		}
	}
	return compared, dearer
}

// TestMergedLabelCostsNoMore merges labels of small days, half of them with holds, one of
// which often is sooner in all its times: whatever follows either, the merged one costs no
// more, though it need not be as cheap as the cheaper of them.
func TestMergedLabelCostsNoMore(t *testing.T) {
	merged, above, days := 0, 0, uint64(60)
	if testing.Short() {
		days = 12
	}
	for seed := range days {
		rng := rand.New(rand.NewPCG(seed, 14))
		in := smallDay(t, rng, seed, func(in *model.Input) {
			if seed%2 == 0 {
				in.Holds = showers(rng, in)
			}
		})
		m := newPadModel(newWorkshop(in), forBounds, scope{inOrder: true})
		if m == nil {
			continue
		}
		comparePairs(t, m, rng, 20_000, func(key uint64, o, x []int32, s *shift) bool {
			if rng.IntN(2) == 0 {
				x = soonerBy(m, s, x, rng.Int32N(1800))
			}
			value := rng.Int64N(200) * int64(model.Dollar)
			sh := shard{labels: []label{{next: -1}}, times: append([]int32(nil), o...)}
			if !sh.merge(m, s, 0, &label{value: model.Money(value)}, x) {
				return false
			}
			least := min(leastOfAll(m, true, key, o), model.Money(value)+leastOfAll(m, true, key, x))
			assert.LessOrEqual(t, sh.labels[0].value+leastOfAll(m, true, key, sh.times), least, "seed %d", seed)
			if merged++; sh.labels[0].value > 0 {
				above++
			}
			return true
		})
	}
	assert.Greater(t, merged, int(days)*5)
	assert.Positive(t, above, "labels that are dearer than the cheaper of both")
}
