package planner

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner/scenario"
)

// calmDay is a day of the family without weather and without a limit to its
// water: on one bay all of it is in the exact search's model.
func calmDay(t testing.TB, shape scenario.Shape, c scenario.Crowding, seed uint64) *instance {
	t.Helper()
	return modelledDay(t, shape, c, seed, func(*model.Input) {})
}

// showeryDay is a calmDay but for some holds in its first hours: for all, or for one
// sprayer. They end soon enough for whatever is held to be sprayed.
func showeryDay(t testing.TB, shape scenario.Shape, c scenario.Crowding, seed uint64) *instance {
	t.Helper()
	rng := rand.New(rand.NewPCG(seed, 5))
	return modelledDay(t, shape, c, seed, func(in *model.Input) { in.Holds = showers(rng, in) })
}

// showers draws holds, some for one sprayer only, some of a bay.
func showers(rng *rand.Rand, in *model.Input) []model.HoldRow {
	var holds []model.HoldRow
	for range 1 + rng.IntN(2) {
		from := model.Clock(6*3600 + 1800 + rng.IntN(3*3600))
		hold := model.HoldRow{From: from, To: from + model.Clock(300+rng.IntN(3000)), Kind: "rain"}
		bays := in.Settings.Pad.Bays
		bay := "bay:" + bays[len(bays)-1].Name
		switch rng.IntN(6) {
		case 0, 1:
			hold.Scope = "sprayer:" + in.Sprayers[0].Sprayer
		case 2:
			hold.Scope = bay
		case 3:
			holds = append(holds, model.HoldRow{From: from, To: hold.To, Kind: "other", Scope: bay})
		}
		holds = append(holds, hold)
	}
	return holds
}

func modelledDay(t testing.TB, shape scenario.Shape, c scenario.Crowding, seed uint64, change func(*model.Input)) *instance {
	t.Helper()
	input := shape.Day(c, seed)
	input.Holds, input.Forecast, input.Settings.Pad.Water = nil, nil, nil
	change(&input)
	p, report := model.NewProblem(input)
	require.True(t, report.OK(), "%v", report.Errors)
	return newInstance(p)
}

// smallDay makes a crowded day of 2 or 3 sprayers, and 7 loads at one bay or, one day in
// four, 6 at two: few enough to try all ways on.
func smallDay(t *testing.T, rng *rand.Rand, seed uint64, change func(*model.Input)) *instance {
	bays := 1 + int(seed%4)/3
	return modelledDay(t, scenario.Shape{Sprayers: 2 + rng.IntN(2), Loads: 8 - bays, Bays: bays}, scenario.Crowded, seed, change)
}

// follow takes random steps from a label until everything is done, or stands
// still. It returns the steps and what was paid on the way, as the model counts.
func follow(m *padModel, rng *rand.Rand, key uint64, times []int32) ([]step, model.Money, bool) {
	s := newStepper(m)
	var steps []step
	var sum model.Money
	for {
		s.read(key)
		if m.isDone(s.at) {
			return steps, sum + m.end(s.at, times), true
		}
		found := s.from(times, 0)
		if len(found) == 0 {
			return nil, 0, false // a job for any sprayer was passed over by all
		}
		next := found[rng.IntN(len(found))]
		steps = append(steps, next.step)
		sum += next.value
		key, times = next.key, append([]int32(nil), next.times...)
	}
}

// TestModelCountsAsTheEvaluator plays random ways through the exact search's
// model and has the evaluator count the same decisions. Where any sprayer may do
// a job, the model may hold a product for wanted that only a sprayer would want
// which does not get the job: then the evaluator takes off what is not wanted.
func TestModelCountsAsTheEvaluator(t *testing.T) {
	compared, days := 0, uint64(60)
	if testing.Short() {
		days = 20
	}
	for seed := range days {
		rng := rand.New(rand.NewPCG(seed, 1))
		day := calmDay
		if seed%2 == 1 {
			day = showeryDay
		}
		in := day(t, scenario.Shape{Sprayers: 2 + rng.IntN(3), Loads: 8 + rng.IntN(12), Bays: 1}, scenario.Crowded, seed)
		m := newPadModel(newWorkshop(in), forBounds, scope{inOrder: rng.IntN(2) == 0})
		if m == nil {
			continue
		}
		p := &prover{m: m}
		e := newEvaluator(in)
		for range 10 {
			key, times, value := m.first()
			steps, cost, done := follow(m, rng, key, times)
			if !done {
				continue
			}
			d := p.decisions(steps)
			require.NoError(t, d.check(in.p))
			s := e.evaluate(e.candidateOf(&d))
			if len(e.dropped) > 0 {
				continue // a random way that does not fit into the day
			}
			compared++
			if len(m.any) == 0 {
				assert.Equal(t, s.cost, value+cost, "seed %d: %v and %v", seed, s.cost.Dollars(), (value + cost).Dollars())
			}
			assert.LessOrEqual(t, s.cost, value+cost, "seed %d", seed)
		}
	}
	assert.Greater(t, compared, int(days)*5)
}

// TestDelayCostsNoMoreThanSaid goes the same way on from two labels of a state:
// the later one must not cost more than delayCost says.
func TestDelayCostsNoMoreThanSaid(t *testing.T) {
	compared, days := 0, uint64(40)
	if testing.Short() {
		days = 10
	}
	for seed := range days {
		rng := rand.New(rand.NewPCG(seed, 2))
		in := calmDay(t, scenario.Shape{Sprayers: 3, Loads: 10, Bays: 1 + rng.IntN(2)}, scenario.Crowded, seed)
		m := newPadModel(newWorkshop(in), forBounds, scope{inOrder: true})
		if m == nil {
			continue
		}
		compared += compareWaysOn(t, m, rng, 1<<40)
	}
	assert.Greater(t, compared, int(days)*50)
}

// TestDelayInHoldsCostsNoMoreThanSaid is the same where holds come, which make a delay
// longer, or a pause shorter: the cheapest ways on are compared, with loads put off
// and without.
func TestDelayInHoldsCostsNoMoreThanSaid(t *testing.T) {
	compared, days := 0, uint64(80)
	if testing.Short() {
		days = 10
	}
	for seed := range days {
		rng := rand.New(rand.NewPCG(seed, 6))
		bays := 1 + rng.IntN(2)
		in := showeryDay(t, scenario.Shape{Sprayers: 3, Loads: 8 - bays, Bays: bays}, scenario.Crowded, seed)
		m := newPadModel(newWorkshop(in), forBounds, scope{inOrder: true})
		if m == nil {
			continue
		}
		compared += comparePairs(t, m, rng, 20_000, func(key uint64, o, x []int32, s *shift) bool {
			late, later := delayed(m, rng, o, 600), delayed(m, rng, o, 3600)
			for _, s.asPlanned = range []bool{false, true} {
				for _, pair := range [][2][]int32{{o, x}, {o, late}, {late, o}, {o, later}, {late, later}} {
					after, other := leastOfAll(m, !s.asPlanned, key, pair[0]), leastOfAll(m, !s.asPlanned, key, pair[1])
					assert.LessOrEqual(t, after, other+m.delayCost(s, pair[0], pair[1], noWay), "seed %d, as planned: %v", seed, s.asPlanned)
				}
			}
			return true
		})
	}
	assert.Greater(t, compared, int(days)*20)
}

// delayed returns times of which some are later, by so many seconds at the most.
func delayed(m *padModel, rng *rand.Rand, times []int32, most int32) []int32 {
	later := append([]int32(nil), times...)
	for k := range later[:m.times] {
		if rng.IntN(2) == 0 {
			later[k] += rng.Int32N(most)
		}
	}
	return later
}

// compareWaysOn goes on from pairs of labels, the same way from both, and returns how
// many it compared.
func compareWaysOn(t *testing.T, m *padModel, rng *rand.Rand, labels int64) int {
	return comparePairs(t, m, rng, labels, func(key uint64, o, x []int32, s *shift) bool {
		way := rng.Uint64()
		_, after, done := follow(m, rand.New(rand.NewPCG(way, 0)), key, o)
		_, other, _ := follow(m, rand.New(rand.NewPCG(way, 0)), key, x)
		if done {
			assert.LessOrEqual(t, after, other+m.delayCost(s, o, x, noWay))
		}
		return done
	})
}

// comparePairs makes labels of each state of a day, until so many are looked at, and
// has some pairs of each state compared. It returns how many were.
func comparePairs(t *testing.T, m *padModel, rng *rand.Rand, labels int64, compare func(key uint64, o, x []int32, s *shift) bool) int {
	p := newPass(t.Context(), proverOf(m, noWay, 1), &stage{m, fineness{cellBits: 8}, newWork(m, 1)}, labels)
	p.begin()
	compared := 0
	for depth := range len(p.layers) {
		p.open(int32(depth))
		for i := range p.layers[depth].shards {
			l := &p.layers[depth].shards[i]
			for n, key := range l.table.keys {
				i := l.head[n]
				if i < 0 || l.labels[i].next < 0 || rng.IntN(3) > 0 {
					continue
				}
				j := l.labels[i].next
				var s shift
				m.shiftOf(key, false, &s)
				if compare(key, l.times[int(i)*m.width:int(i+1)*m.width], l.times[int(j)*m.width:int(j+1)*m.width], &s) {
					compared++
				}
			}
		}
	}
	return compared
}

// TestProofFindsTheBest holds a proof to all ways there are through the model of
// small days, and the passes to each other: no bound above a later one's plan.
func TestProofFindsTheBest(t *testing.T) {
	proved := 0
	for seed := range uint64(18) {
		bays := 1 + int(seed%3)/2
		in := calmDay(t, scenario.Shape{Sprayers: 3, Loads: 8 - bays, Bays: bays}, scenario.Crowded, seed)
		proved += checkProof(t, in, seed)
	}
	assert.GreaterOrEqual(t, proved, 15)
}

// TestProofFindsTheBestInShowers is the same for days with holds. Where loads may be
// put off, the least is often below the best plan's: only the last pass closes that.
func TestProofFindsTheBestInShowers(t *testing.T) {
	proved, below, days := 0, 0, uint64(60)
	if testing.Short() {
		days = 18
	}
	for seed := range days {
		bays := 1 + int(seed%3)/2
		in := showeryDay(t, scenario.Shape{Sprayers: 3, Loads: 8 - bays, Bays: bays}, scenario.Crowded, seed)
		proved += checkProof(t, in, seed)
		if m := newPadModel(newWorkshop(in), forBounds, scope{inOrder: true}); m != nil {
			key, times, _ := m.first()
			if leastOfAll(m, true, key, times) < leastOfAll(m, false, key, times) {
				below++
			}
		}
	}
	assert.GreaterOrEqual(t, proved, int(days)/2)
	assert.Positive(t, below, "loads that are worth putting off")
}

// checkProof holds the bounds of a day to the best of all ways, and its proof where
// there must be one. It returns how many proofs: one or none.
func checkProof(t *testing.T, in *instance, seed uint64) int {
	m := newPadModel(newWorkshop(in), forBounds, scope{inOrder: true})
	if m == nil {
		return 0
	}
	key, times, value := m.first()
	best := value + leastOfAll(m, false, key, times)
	without := checkPasses(t, in, m, best, seed)
	if m.coarser = m.coarsen(); m.coarser == nil {
		return without
	}
	return min(without, checkPasses(t, in, m, best, seed))
}

// checkPasses is checkProof for the passes of a model.
func checkPasses(t *testing.T, in *instance, m *padModel, best model.Money, seed uint64) int {
	p := proverOf(m, best+1000*model.Dollar, 2)
	for !p.done {
		if steps := p.pass(t.Context(), 1<<40); steps != nil {
			d := p.decisions(steps)
			e := newEvaluator(in)
			p.lower(e.evaluate(e.candidateOf(&d)).cost)
		}
		assert.LessOrEqual(t, p.bound, best, "seed %d, pass %d", seed, p.round)
	}
	if len(m.holdEnds) > 0 && !m.startsAsModelled() {
		return 0
	}
	assert.Equal(t, best-m.unpaid, p.bound, "seed %d", seed)
	if m.oneBay { // on several, the model leaves totes out that run dry
		assert.Equal(t, best, p.below, "seed %d", seed)
	}
	return 1
}

// leastOfAll tries all ways on from a label, also with loads put off until holds catch
// them or without.
func leastOfAll(m *padModel, putsOff bool, key uint64, times []int32) model.Money {
	s := newStepper(m)
	s.putsOff, s.takesAny = putsOff, !putsOff
	s.read(key)
	if m.isDone(s.at) {
		return m.end(s.at, times)
	}
	best := noWay
	for _, next := range append([]successor(nil), s.from(times, 0)...) {
		best = min(best, next.value+leastOfAll(m, putsOff, next.key, append([]int32(nil), next.times...)))
	}
	return best
}

// TestCellsTellStatesApart names cells of alike times in several states.
func TestCellsTellStatesApart(t *testing.T) {
	for _, bits := range []uint{31, 7} {
		p := &pass{m: &padModel{times: 2}, fine: fineness{cellBits: bits}}
		for state := range int32(1000) {
			for second := range int32(300) {
				require.Equal(t, state, int32(p.cellOf(state, []int32{second, 21_600})>>32))
			}
		}
		assert.Equal(t, p.cellOf(3, []int32{128, 256}), p.cellOf(3, []int32{255, 383}), "one cell")
	}
}

// TestDelayOfAShutBay makes sure that nothing makes up for a delay where a bay is shut
// for a while yet: it may become as long as that.
func TestDelayOfAShutBay(t *testing.T) {
	in := &instance{bays: []bayData{{shut: []span{{35_000, 40_000}}}}}
	m := &padModel{in: in, bays: 1, times: 2, readyAt: 1, late: model.Dollar}
	var s shift
	m.shiftOf(0, false, &s)
	early, late := []int32{30_000, 30_000}, []int32{30_001, 30_000}
	assert.Zero(t, m.delayCost(&s, early, late, noWay))
	assert.Greater(t, m.delayCost(&s, late, early, noWay), 1_000_000*model.Dollar)
	assert.True(t, m.covers(&s, 0, early, model.Dollar, late))
	assert.False(t, m.covers(&s, 0, late, 1_000_000*model.Dollar, early))
	in.bays[0].shut = nil
	assert.True(t, m.covers(&s, 0, late, model.Dollar, early))
	assert.False(t, m.covers(&s, 0, late, model.Dollar-1, early))
}

// TestKeyTable holds the table to a map.
func TestKeyTable(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	var table keyTable
	want := map[uint64]int32{}
	for range 20_000 {
		key := rng.Uint64N(6000) << rng.IntN(40)
		n, isNew := table.add(key)
		old, known := want[key]
		require.Equal(t, !known, isNew)
		if known {
			require.Equal(t, old, n)
		}
		want[key] = n
		absent := rng.Uint64() | 1<<60
		require.Equal(t, int32(-1), table.find(absent))
	}
	for key, n := range want {
		require.Equal(t, n, table.find(key))
	}
}
