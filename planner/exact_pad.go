package planner

import (
	"math/bits"
	"slices"

	"padturn/model"
)

// The largest day that the exact search lays out, besides what fits into a key.
const (
	mostExactBays     = 4
	mostExactSprayers = 60
	mostExactProducts = 32 // metered ones
	mostExactAny      = 16 // jobs for any sprayer
)

// padState is what is in the manifolds and on the connections of all bays.
type padState struct {
	mix [mostExactBays]int16  // behind the mixes: what bay so-and-so had at first
	on  [mostExactBays]uint64 // metered products, the plumbed ones left out
}

// padUse is what a model of a day is for.
type padUse int

const (
	// forBounds leaves out what only ever makes a plan dearer, and counts nothing
	// that some plan need not pay.
	forBounds padUse = iota
	// forPlans also counts what no bound may rest on, so that a beam finds plans
	// that are as good as it holds them for: holds in the middle of the day, when
	// a load must be filled by. It knows no way to fill a mix on a bay that has too
	// few connections for it.
	forPlans
)

// scope says which plans a model knows of a day.
type scope struct {
	inOrder bool    // only those with the jobs of each sprayer in file order
	routes  [][]Run // only those with each job on the sprayer that has it here; nil: all
	fixed   bool    // only those with these very routes
	turns   int     // how many turns of a sprayer may be listed; 0: mostTurns
}

// jobsOf lists the jobs that a sprayer may do, in file order.
func (sc *scope) jobsOf(in *instance, sprayer int) []int {
	var jobs []int
	if sc.routes != nil {
		for _, run := range sc.routes[sprayer] {
			jobs = append(jobs, run...)
		}
		slices.Sort(jobs)
		return jobs
	}
	for i, j := range in.p.Jobs {
		if j.Sprayer == sprayer || j.Sprayer == model.None {
			jobs = append(jobs, i)
		}
	}
	return jobs
}

// padModel is a day as the exact search counts it: R4 to R10 without what only
// ever makes a plan dearer. See the package comment for what it leaves out.
type padModel struct {
	in     *instance
	use    padUse
	graphs []turnGraph
	any    [][]model.Decimal // by bit of an any-sprayer job: tracked stock it takes
	anyAll uint32
	bays   int
	// width is how many numbers a label has: its times; for plans of several bays what
	// is in the totes, too.
	width   int
	times   int       // bays, the last start where there are several bays, sprayers
	readyAt int       // where the sprayers' times begin
	fills   [][]bool  // by bay and mix
	rinse   [][]int16 // rinse level by what a bay had last (padState.mix) and the mix that follows
	oneBay  bool
	// What settle needs: how long rinses take at least, by what a bay had last and a mix
	// that follows at some time; the longest set-up, the shortest filling, and how soon a
	// sprayer is back that begins to be filled.
	sureRinse                            [][]int32
	mostSetUp, shortestFill, soonestBack int32
	late                                 model.Money // slope of overtime
	steady                               model.Clock // from when on the pad waits for nothing: see steadyFrom
	// unpaid is the most that sprayers can gain by what costs them nothing and is not in
	// the model, so that a bound is that much lower: waiting where a tank life keeps them
	// from being filled, and totes that run dry inside their loads.
	unpaid   model.Money
	holds    [][]span      // by sprayer: what may catch its loads; for bounds
	holdEnds []model.Clock // of all of them, in order

	totes   []toteLine // by tracked index; only on one bay
	hanging []tote     // only for plans of several bays
	toteOf  []int      // by metered number: its index in hanging, or None
	pads    *padNumbers

	coarser *coarser // how its states are those of a model with fewer, if there is one

	shift []uint // by sprayer: where its stop stands in a key
	anyAt uint
	padAt uint
}

// toteLine is a product's containers in the order they are used on one bay:
// what they hold together, and when each is there.
type toteLine struct {
	upTo []model.Decimal
	from []model.Clock
}

// newPadModel lays a day out for the exact search, or returns nil where the day
// is too large or has what the search does not count.
func newPadModel(shop *workshop, use padUse, sc scope) *padModel {
	in := shop.in
	if len(in.bays) > mostExactBays || len(in.p.Sprayers) > mostExactSprayers || len(in.products) > mostExactProducts {
		return nil
	}
	m := &padModel{in: in, use: use, bays: len(in.bays), oneBay: len(in.bays) == 1, late: in.overtime.For(1),
		pads: &padNumbers{ids: map[padState]int32{}}}
	if !m.layOutBays() {
		return nil
	}
	m.layOutNumbers()
	var free []int
	if sc.routes == nil {
		free = in.anySprayerJobs()
	}
	if len(free) > mostExactAny {
		return nil
	}
	if m.graphs = m.turnGraphs(shop, free, sc); m.graphs == nil {
		return nil
	}
	for _, job := range free {
		sum := make([]model.Decimal, len(in.tracked))
		addNeeds(sum, shop.loads(0, Run{job}), 1)
		m.any = append(m.any, sum)
	}
	m.anyAll = 1<<len(free) - 1
	m.layOutSettling()
	m.layOutTotes()
	m.steady = m.steadyFrom()
	if use == forBounds {
		m.unpaid = in.mostHeld(m.graphs) + m.unmodelledChanges()
		m.layOutHolds(shop)
	}
	if !m.layOutKeys(len(free)) {
		return nil
	}
	return m
}

// layOutNumbers gives the numbers of a label their places.
func (m *padModel) layOutNumbers() {
	m.readyAt = m.bays
	if !m.oneBay {
		m.readyAt++
	}
	m.times = m.readyAt + len(m.in.p.Sprayers)
	m.width = m.times
	if !m.oneBay && m.use == forPlans {
		m.countTotes()
	}
}

// layOutBays works out which bays fill which mixes and what rinses lie between
// them. It says whether the model can have all jobs filled.
func (m *padModel) layOutBays() bool {
	in := m.in
	m.rinse = append(m.rinse, in.rinse...)
	for b := range in.bays {
		m.rinse = append(m.rinse, in.firstRinses(&in.bays[b]))
		m.fills = append(m.fills, slices.Clone(in.bays[b].fills))
	}
	for i := range in.p.Jobs {
		mix, somewhere := in.p.Jobs[i].Mix, false
		for b := range in.bays {
			if m.fills[b][mix] && in.bays[b].crowded[mix] {
				if m.use == forBounds {
					return false
				}
				m.fills[b][mix] = false
			}
			somewhere = somewhere || m.fills[b][mix]
		}
		if !somewhere && m.use == forPlans {
			return false
		}
	}
	return true
}

// firstRinses lists by mix the rinse before the first load of a bay.
func (in *instance) firstRinses(bay *bayData) []int16 {
	list := make([]int16, len(in.p.Mixes))
	for mix := range list {
		list[mix] = in.firstRinse(bay, mix)
	}
	return list
}

// firstRinse returns the rinse level before a bay's first load, or None.
func (in *instance) firstRinse(bay *bayData, mix int) int16 {
	if bay.lastMix != model.None && in.rinse[bay.lastMix][mix] > bay.rinsed {
		return in.rinse[bay.lastMix][mix]
	}
	return model.None
}

func (m *padModel) layOutTotes() {
	m.totes = make([]toteLine, len(m.in.tracked))
	for t := range m.in.tracked {
		if !m.in.tracked[t].discrete {
			continue
		}
		line := &m.totes[t]
		var sum model.Decimal
		left := append([]container(nil), m.in.tracked[t].containers...)
		if !m.beginWithHung(t, line, left) {
			continue
		}
		for {
			c := firstToUse(left)
			if c < 0 {
				break
			}
			sum += left[c].left
			line.upTo = append(line.upTo, sum)
			line.from = append(line.from, left[c].from)
			left[c].left = 0
		}
	}
}

// beginWithHung puts the container that hangs on the one bay at the front of the
// line. One that is empty has to come off before the first load, which an empty
// place says. It says whether the others follow in order: where one was opened
// before the hung one, nobody knows which goes on next, and a line says nothing.
func (m *padModel) beginWithHung(t int, line *toteLine, left []container) bool {
	n := m.in.meteredOf[m.in.tracked[t].product]
	if n == model.None || !m.in.bays[0].onAtOpening.has(n) {
		return true
	}
	hung := m.in.bays[0].conns[m.in.bays[0].where[n]].tote
	if hung == model.None || left[hung].left == 0 {
		line.upTo, line.from = []model.Decimal{0}, []model.Clock{0}
		return true
	}
	left[hung].opened = min(left[hung].opened, neverOpened-1) // before any that is full
	return firstToUse(left) == hung
}

// firstToUse returns the container that goes on first of those that hold
// something, whenever it is there.
func firstToUse(list []container) int {
	best := model.None
	for i := range list {
		if list[i].left > 0 && (best < 0 || list[i].opened < list[best].opened) {
			best = i
		}
	}
	return best
}

// layOutKeys gives every part of a state its place in a key of 64 bits; free is how
// many jobs any sprayer may do.
func (m *padModel) layOutKeys(free int) bool {
	at := uint(0)
	for i := range m.graphs {
		m.shift = append(m.shift, at)
		at += uint(bits.Len(uint(len(m.graphs[i].stops) - 1)))
	}
	m.anyAt = at
	m.padAt = at + uint(free)
	return m.padAt+uint(bits.Len(mostPads-1)) <= 63
}

// state is a key taken apart.
type state struct {
	stops  []int32
	taken  uint32 // any-sprayer jobs done or begun
	pad    padState
	need   []model.Decimal // by tracked index; not for bounds of several bays
	unsure []model.Decimal // how much more it may be
	live   uint64          // products that the day still wants
	depth  int32
}

func (m *padModel) newState() *state {
	return &state{stops: make([]int32, len(m.graphs)), need: make([]model.Decimal, len(m.in.tracked)), unsure: make([]model.Decimal, len(m.in.tracked))}
}

// key puts a state together.
func (m *padModel) key(stops []int32, taken uint32, pad int32) uint64 {
	k := uint64(taken)<<m.anyAt | uint64(pad)<<m.padAt
	for i, n := range stops {
		k |= uint64(n) << m.shift[i]
	}
	return k
}

// read takes a key apart, but for what is on the pad.
func (m *padModel) read(k uint64, s *state) {
	s.live, s.depth = 0, 0
	for i := range m.graphs {
		s.stops[i] = int32(m.stopOf(k, i))
		stop := &m.graphs[i].stops[s.stops[i]]
		s.depth += stop.depth
		s.live |= stop.live
	}
	s.taken = uint32(k >> m.anyAt & (1<<(m.padAt-m.anyAt) - 1))
	if m.oneBay || m.use == forPlans {
		m.sumNeeds(s)
	}
}

func (m *padModel) sumNeeds(s *state) {
	for t := range s.need {
		s.need[t], s.unsure[t] = 0, 0
		for i := range m.graphs {
			stop := &m.graphs[i].stops[s.stops[i]]
			s.need[t] += stop.need[t]
			if stop.unsure != nil {
				s.unsure[t] += stop.unsure[t]
			}
		}
		for i := range m.any {
			if s.taken&(1<<i) != 0 {
				s.need[t] += m.any[i][t]
			}
		}
	}
}

// isDone says whether everything is sprayed in a state.
func (m *padModel) isDone(s *state) bool {
	for i, n := range s.stops {
		if !m.graphs[i].stops[n].done {
			return false
		}
	}
	return s.taken == m.anyAll
}

// end returns what is still to be paid when everything is done: overtime, and
// the waits that were credited to sprayers in case they took another load.
func (m *padModel) end(s *state, t []int32) model.Money {
	var sum model.Money
	last := t[0]
	for _, f := range t[1:m.bays] {
		last = max(last, f)
	}
	sum += m.late * model.Money(max(model.Clock(last)-m.in.closes, 0))
	for i, n := range s.stops {
		if len(m.graphs[i].stops[n].turns) > 0 {
			sum += m.graphs[i].wait.For(model.Seconds(t[m.readyAt+i]))
		}
	}
	return sum
}

// first returns the state, the times and the value at the opening.
func (m *padModel) first() (uint64, []int32, model.Money) {
	var pad padState
	t := make([]int32, m.width)
	for b := range m.in.bays {
		pad.mix[b] = int16(len(m.in.p.Mixes) + b)
		on := m.in.bays[b].onAtOpening.without(&m.in.bays[b].plumbed)
		pad.on[b] = on[0]
		t[b] = int32(m.in.bays[b].freeFrom)
	}
	if !m.oneBay {
		t[m.bays] = int32(m.in.now)
	}
	var value model.Money
	for i := range m.graphs {
		t[m.readyAt+i] = int32(m.in.sprayers[i].base)
		if len(m.graphs[i].stops[0].turns) > 0 {
			value -= m.graphs[i].wait.For(model.Seconds(m.in.sprayers[i].base))
		}
	}
	m.firstTotes(t)
	return m.key(make([]int32, len(m.graphs)), 0, m.pads.id(&pad)), t, value
}
