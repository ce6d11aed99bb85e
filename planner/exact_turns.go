package planner

import (
	"encoding/binary"
	"slices"

	"padturn/model"
)

// turnGraph is all that one sprayer can do on a day: stops at the pad, and the
// turns that lead from one to the next.
type turnGraph struct {
	stops []stop
	wait  model.HourlyRate
}

// stop is a sprayer at the pad between two loads.
type stop struct {
	turns []turn
	done  bool            // its own jobs are done, and it is in the middle of no run
	depth int32           // the most loads that can lie before it
	need  []model.Decimal // tracked stock taken by then, by tracked index
	live  uint64          // metered products that a later load may want
	// slope is the most that a second's delay of all that is still to be done
	// can cost, in money. Before a sprayer comes to a field too early, and waits
	// there unpaid, a delay costs that much more: pauses is this by the time of
	// day.
	slope  model.Money
	pauses [pauseSpans]model.Money
	// fixed is the least that is still to be paid besides waiting, rinses and
	// changeovers; soonest is before when the sprayer can't be there.
	fixed   model.Money
	soonest model.Clock
}

// Times of day that pauses are told apart by, counted from the opening.
const (
	pauseSpans = 16
	pauseSpan  = 1800 // seconds
)

// pauseSpanOf returns the span that a time is in; later ones have no pauses
// that are not bounded by the last.
func (in *instance) pauseSpanOf(t model.Clock) int {
	return int(min(max(t-in.opens, 0)/pauseSpan, pauseSpans-1))
}

// turn is one load and what follows until the sprayer is back. Times are
// counted from the end of the filling: what ends at max(end + after, until).
type turn struct {
	l          *load
	to         int32
	run        Run // that it begins, nil in the middle of one
	takes      uint32
	told       *toldLoad // that it is held to be, or nil
	clean      model.Clock
	cleanFrom  model.Clock // when its cleanout can begin
	fixed      model.Money // cleanout, any-sprayer work
	back       afterFill
	pauseUntil model.Clock // filled later, it does not come to a field too early
	timeliness []priced
	due        []priced
	held       bool // a hold may catch it, so that its parts must be gone through
}

// afterFill is a moment that follows from the end of a filling.
type afterFill struct{ after, until model.Clock }

func (a afterFill) at(end model.Clock) model.Clock { return max(end+a.after, a.until) }

// priced is a moment that costs money for each second after another.
type priced struct {
	afterFill
	from model.Clock
	rate model.Money // for each second
	part int         // of the load
}

// tankPast is what counts of a sprayer's past for its cleanouts: contents, and
// for which levels it has not been cleaned since.
type tankPast []pastContents

type pastContents struct {
	contents int
	open     uint64 // by level
}

// graphMaker makes the turn graph of a sprayer.
type graphMaker struct {
	in       *instance
	use      padUse
	told     *toldPlan
	shop     *workshop
	sprayer  int
	inOrder  bool
	route    []Run          // the only runs it makes, in order; nil: any
	jobs     []int          // its own and any sprayer's, in file order
	free     map[int]uint32 // any-sprayer jobs: their bits
	blocked  map[int]blocked
	graph    turnGraph
	numbers  map[string]int32
	turnsCap int
}

// blocked says until when a job can't be sprayed whenever its sprayer comes, and
// whether there are holds later.
type blocked struct {
	until model.Clock
	later bool
}

// blockedOf works out when a job can't be sprayed. Plans of a morning go through all
// holds: there it is not worth knowing which of them are waited for anyway.
func (pad *padModel) blockedOf(shop *workshop, sprayer, job int) blocked {
	spans := shop.blockedSpans(sprayer, job)
	if pad.use == forPlans && pad.in.p.Underway == nil {
		return blocked{spans[0].to, len(spans) > 1}
	}
	until, later := pad.in.blockedFirst(sprayer, job, spans)
	return blocked{until, len(later) > 0}
}

// The largest graph that is made of one sprayer.
const (
	mostStops = 4096
	mostTurns = 20_000 // before stops are joined; where jobs stay in order so many times
	// as many, as they come to little when stops are joined
	inOrderTurns = 5
)

// mostAny is how many jobs for any sprayer a turn has bits for.
const mostAny = 32

// anySprayerJobs lists the jobs that name no sprayer.
func (in *instance) anySprayerJobs() []int {
	var list []int
	for i := range in.p.Jobs {
		if in.p.Jobs[i].Sprayer == model.None {
			list = append(list, i)
		}
	}
	return list
}

// boundGraphs makes the graphs of all sprayers for bounds, or nothing where one is
// too large.
func boundGraphs(in *instance, inOrder bool) []turnGraph {
	pad := &padModel{in: in, use: forBounds}
	return pad.turnGraphs(newWorkshop(in), in.anySprayerJobs(), scope{inOrder: inOrder})
}

// turnGraphs makes the graphs of all sprayers, or nothing where one is too
// large. any are the jobs that any sprayer may do.
func (pad *padModel) turnGraphs(shop *workshop, any []int, sc scope) []turnGraph {
	in := pad.in
	bits := map[int]uint32{}
	if len(any) > mostAny {
		return nil
	}
	for i, job := range any {
		bits[job] = 1 << i
	}
	var graphs []turnGraph
	for s := range in.p.Sprayers {
		m := &graphMaker{in: in, use: pad.use, told: pad.told, shop: shop, sprayer: s, inOrder: sc.inOrder, free: bits, blocked: map[int]blocked{}, numbers: map[string]int32{}, turnsCap: mostTurns}
		if sc.inOrder {
			m.turnsCap *= inOrderTurns
		}
		m.graph.wait = in.p.Sprayers[s].Wait
		if sc.fixed {
			m.route = append([]Run{}, sc.routes[s]...)
		}
		m.jobs = sc.jobsOf(in, s)
		for _, job := range m.jobs {
			m.blocked[job] = pad.blockedOf(shop, s, job)
		}
		if len(m.jobs) > 64 || !m.make() {
			return nil
		}
		graphs = append(graphs, m.graph)
	}
	return graphs
}

func (m *graphMaker) make() bool {
	m.stopAt(whereabouts{past: m.pastSoFar()})
	if m.turnsCap < 0 {
		return false
	}
	m.graph.join()
	if len(m.graph.stops) > mostStops {
		return false
	}
	m.finish()
	return true
}

// pastSoFar is what a sprayer's tank has had before the loads that are planned.
func (m *graphMaker) pastSoFar() tankPast {
	var past tankPast
	if last := m.in.p.Sprayers[m.sprayer].LastMix; last != model.None {
		past = past.after(last, model.None)
	}
	if !m.in.sprayers[m.sprayer].used {
		return past
	}
	for _, t := range m.shop.history[m.sprayer] {
		past = past.after(t.contents, int(t.cleanout))
	}
	return past.cleaned(int(m.in.sprayers[m.sprayer].cleaned))
}

// whereabouts is where a sprayer is in its day.
type whereabouts struct {
	gone uint64 // jobs done, begun or passed over, by place in jobs
	run  Run    // being done, nil between runs
	k    int    // loads of it filled
	past tankPast
}

// stopAt returns the number of the stop at a place, which is made with all
// that follows from it if it is not there yet.
func (m *graphMaker) stopAt(at whereabouts) int32 {
	key := m.key(&at)
	if n, ok := m.numbers[key]; ok {
		return n
	}
	n := int32(len(m.graph.stops))
	m.numbers[key] = n
	m.graph.stops = append(m.graph.stops, stop{need: m.need(&at)})
	if m.turnsCap < 0 {
		return n
	}
	var turns []turn
	if at.run != nil {
		turns = []turn{m.turn(at, at.run, at.k, at.gone, 0)}
	} else {
		m.graph.stops[n].done = m.ownDone(at.gone)
		m.eachRun(at.gone, nil, 0, func(run Run, gone uint64, takes uint32) {
			t := m.turn(at, run, 0, gone, takes)
			t.run = run
			turns = append(turns, t)
		})
	}
	m.turnsCap -= len(turns)
	m.graph.stops[n].turns = turns
	return n
}

// need returns the tracked stock that a sprayer has taken for its own jobs. The
// jobs of any sprayer are counted, as a whole, where it is known who does them:
// what their loads take here is made up for.
func (m *graphMaker) need(at *whereabouts) []model.Decimal {
	sum := make([]model.Decimal, len(m.in.tracked))
	for i, job := range m.jobs {
		if at.gone&(1<<i) != 0 && m.free[job] == 0 || slices.Contains(at.run, job) {
			sign := model.Decimal(1)
			if slices.Contains(at.run, job) {
				if m.free[job] == 0 {
					continue // counted load by load
				}
				sign = -1
			}
			addNeeds(sum, m.shop.loads(m.sprayer, Run{job}), sign)
		}
	}
	if at.run != nil {
		addNeeds(sum, m.shop.loads(m.sprayer, at.run)[:at.k], 1)
	}
	return sum
}

func addNeeds(sum []model.Decimal, loads []*load, sign model.Decimal) {
	for _, l := range loads {
		for _, d := range l.needs {
			sum[d.n] += sign * d.amount
		}
	}
}

// ownDone says whether all jobs that name the sprayer are done.
func (m *graphMaker) ownDone(gone uint64) bool {
	for i, job := range m.jobs {
		if gone&(1<<i) == 0 && m.free[job] == 0 {
			return false
		}
	}
	return true
}

// eachRun calls yield with each run that can come next, with the jobs that are
// gone once it is taken and the bits of those that any sprayer may do.
func (m *graphMaker) eachRun(gone uint64, run Run, takes uint32, yield func(Run, uint64, uint32)) {
	if m.route != nil {
		m.nextOfRoute(gone, yield)
		return
	}
	passed := gone
	for i, job := range m.jobs {
		if gone&(1<<i) != 0 || m.turnsCap < 0 || !m.mayBegin(gone, run, job) {
			continue
		}
		if len(run) == 0 || m.shop.mayShare(m.sprayer, run[len(run)-1], job) {
			longer := append(slices.Clone(run), job)
			after, bits := passed|1<<i, takes|m.free[job]
			yield(longer, after, bits)
			m.eachRun(after, longer, bits, yield)
		}
		if m.inOrder {
			if m.free[job] == 0 {
				return
			}
			passed |= 1 << i
		}
	}
}

// mayBegin says whether a job can come next in a run: a sprayer goes on first with
// the job that it has begun.
func (m *graphMaker) mayBegin(gone uint64, run Run, job int) bool {
	begun := m.in.sprayers[m.sprayer].begun
	return len(run) > 0 || begun == model.None || job == begun || gone&(1<<slices.Index(m.jobs, begun)) != 0
}

// nextOfRoute is eachRun where the runs are given: the first that is not gone.
func (m *graphMaker) nextOfRoute(gone uint64, yield func(Run, uint64, uint32)) {
	for _, run := range m.route {
		first := slices.Index(m.jobs, run[0])
		if gone&(1<<first) != 0 {
			continue
		}
		var takes uint32
		for _, job := range run {
			gone |= 1 << slices.Index(m.jobs, job)
			takes |= m.free[job]
		}
		yield(run, gone, takes)
		return
	}
}

// turn makes the k-th load of a run a turn.
func (m *graphMaker) turn(at whereabouts, run Run, k int, gone uint64, takes uint32) turn {
	loads := m.shop.loads(m.sprayer, run)
	l := loads[k]
	t := turn{l: l, takes: takes, told: m.toldOf(loads, k)}
	level := m.cleanout(at.past, l)
	if level != model.None {
		t.clean, t.cleanFrom = model.Clock(m.in.cleanouts[level].time), m.in.cleanFrom
		t.fixed = l.wait.For(m.in.cleanouts[level].time) + m.in.cleanouts[level].money
	}
	t.fixed += l.wait.For(l.anyTime)
	m.field(&t, loads[k+1:])
	next := whereabouts{gone: gone, past: at.past.after(l.contents, int(level))}
	if k+1 < len(loads) {
		next.run, next.k = run, k+1
	}
	t.to = m.stopAt(next)
	return t
}

// field works out the times and prices in the fields. later are the run's
// loads after this one: a job is done with the last that has a part of it.
func (m *graphMaker) field(t *turn, later []*load) {
	at := afterFill{t.l.driveOut, -model.Never}
	t.pauseUntil = -model.Never
	for i := range t.l.parts {
		p := &t.l.parts[i]
		// Before the spraying hours and its earliest, and in a hold that it must wait out.
		from := m.blocked[p.job].until
		t.held = t.held || m.blocked[p.job].later && m.use == forPlans
		at.after += model.Clock(p.drive)
		t.pauseUntil = max(t.pauseUntil, from-at.after)
		at.until = max(at.until+model.Clock(p.drive), from)
		at.after += model.Clock(p.spray)
		at.until += model.Clock(p.spray)
		if p.timeliness > 0 {
			t.timeliness = append(t.timeliness, priced{at, m.in.opens, p.timeliness, i})
		}
		for j := range m.in.due {
			if d := &m.in.due[j]; d.job == p.job && !hasJob(later, p.job) {
				t.due = append(t.due, priced{at, d.at, d.rate.For(1), i})
			}
		}
	}
	t.back = afterFill{at.after + t.l.driveBack, at.until + t.l.driveBack}
}

func hasJob(loads []*load, job int) bool {
	return slices.ContainsFunc(loads, func(l *load) bool {
		return slices.ContainsFunc(l.parts, func(p part) bool { return p.job == job })
	})
}

// cleanout returns the level needed before a load: see evaluator.cleanoutFor.
func (m *graphMaker) cleanout(past tankPast, l *load) int16 {
	need := int16(model.None)
	for _, c := range past {
		if v := m.shop.cleanout[c.contents][l.contents]; v > need && c.open&(1<<v) != 0 {
			need = v
		}
	}
	return need
}

// after returns the past once a cleanout, if there is one, and a load are done.
func (past tankPast) after(contents, level int) tankPast {
	next := tankPast{{contents, ^uint64(0)}}
	for _, c := range past.cleaned(level) {
		if c.contents != contents {
			next = append(next, c)
		}
	}
	slices.SortFunc(next, func(x, y pastContents) int { return x.contents - y.contents })
	return next
}

// cleaned returns the past once a cleanout, if there is one, is done.
func (past tankPast) cleaned(level int) tankPast {
	var next tankPast
	for _, c := range past {
		c.open &^= 1<<(level+1) - 1
		if c.open != 0 {
			next = append(next, c)
		}
	}
	return next
}

// key names a place.
func (m *graphMaker) key(at *whereabouts) string {
	b := binary.AppendUvarint(nil, at.gone)
	b = binary.AppendUvarint(b, uint64(at.k))
	for _, job := range at.run {
		b = binary.AppendUvarint(b, uint64(job)+1)
	}
	b = append(b, 0)
	if m.in.sprayerRules {
		for _, c := range at.past {
			b = binary.AppendUvarint(b, uint64(c.contents))
			b = binary.AppendUvarint(b, c.open)
		}
	}
	return string(b)
}

// finish works out what is asked about stops: depths from the first on, the
// rest from the last back.
func (m *graphMaker) finish() {
	order := m.graph.order()
	stops := m.graph.stops
	for n := range stops {
		stops[n].soonest = model.Never
	}
	stops[0].soonest = m.in.sprayers[m.sprayer].base
	for _, n := range order {
		for i := range stops[n].turns {
			t := &stops[n].turns[i]
			to := &stops[t.to]
			to.depth = max(to.depth, stops[n].depth+1)
			_, back := t.afterwards(t.soonestEnd(&stops[n], m.in))
			to.soonest = min(to.soonest, back)
		}
	}
	slices.Reverse(order)
	for _, n := range order {
		m.sumUp(&stops[n])
	}
}

// sumUp works out a stop's slopes, live products and least costs from those of
// the stops after it.
func (m *graphMaker) sumUp(s *stop) {
	for i := range s.turns {
		t := &s.turns[i]
		to := &m.graph.stops[t.to]
		var slope model.Money
		for _, p := range slices.Concat(t.timeliness, t.due) {
			slope += p.rate
		}
		for k := range s.pauses {
			pause := to.pauses[k]
			if t.pauseUntil > m.in.opens+model.Clock(k)*pauseSpan {
				pause += m.graph.wait.For(1)
			}
			s.pauses[k] = max(s.pauses[k], pause)
		}
		if len(to.turns) == 0 {
			slope += m.graph.wait.For(1) // of the last wait
		}
		s.slope = max(s.slope, to.slope+slope)
		s.live |= to.live | t.l.wants[0]
		inFields, _ := t.afterwards(t.soonestEnd(s, m.in))
		if fixed := to.fixed + t.fixed + inFields - t.mostKept(); i == 0 || fixed < s.fixed {
			s.fixed = fixed
		}
	}
	if s.done {
		s.fixed = min(s.fixed, 0) // it may do no more
		if len(s.turns) > 0 {
			s.slope = max(s.slope, m.graph.wait.For(1))
		}
	}
}

// soonestEnd returns before when a turn's load can't be filled.
func (t *turn) soonestEnd(s *stop, in *instance) model.Clock {
	return max(t.ready(in, s.soonest), in.now) + model.Clock(t.l.FillSeconds(0))
}

// paidFrom returns from when on a sprayer pays for waiting for a turn that is at the
// pad at a moment.
func (t *turn) paidFrom(in *instance, at model.Clock) model.Clock {
	return max(at+t.clean, in.opens)
}

// ready returns when a sprayer that is at the pad at a moment can be filled for a
// turn.
func (t *turn) ready(in *instance, at model.Clock) model.Clock {
	return max(max(at, t.cleanFrom)+t.clean, in.opens)
}

// afterwards returns the timeliness and lateness of a turn filled at end, and when
// the sprayer is back.
func (t *turn) afterwards(end model.Clock) (sum model.Money, back model.Clock) {
	if t.held {
		return t.throughHolds(end)
	}
	for _, p := range t.timeliness {
		sum += p.rate * model.Money(p.at(end)-p.from)
	}
	for _, p := range t.due {
		sum += p.rate * model.Money(max(p.at(end)-p.from, 0))
	}
	return sum, t.back.at(end)
}

// throughHolds is afterwards for a load that a hold may catch.
func (t *turn) throughHolds(at model.Clock) (sum model.Money, back model.Clock) {
	at += t.l.driveOut
	for i := range t.l.parts {
		p := &t.l.parts[i]
		at = p.finish(at + model.Clock(p.drive))
		for _, list := range [2][]priced{t.timeliness, t.due} {
			for _, c := range list {
				if c.part == i {
					sum += c.rate * model.Money(max(at-c.from, 0))
				}
			}
		}
	}
	return sum, at + t.l.driveBack
}

// order lists the stops so that each comes before those its turns lead to.
func (g *turnGraph) order() []int32 {
	seen := make([]bool, len(g.stops))
	var order []int32
	var visit func(n int32)
	visit = func(n int32) {
		if seen[n] {
			return
		}
		seen[n] = true
		for i := range g.stops[n].turns {
			visit(g.stops[n].turns[i].to)
		}
		order = append(order, n)
	}
	visit(0)
	slices.Reverse(order)
	return order
}
