package planner

import (
	"encoding/binary"
	"math"
	"slices"

	"padturn/model"
)

// graphMaker makes the turn graph of a sprayer.
type graphMaker struct {
	in       *instance
	use      padUse
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

// mostAtStop is how many turns may lead on from a stop: as many as a step's number
// of its turn can tell apart.
const mostAtStop = math.MaxInt16

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
func boundGraphs(shop *workshop, sc scope) []turnGraph {
	pad := &padModel{in: shop.in, use: forBounds}
	return pad.turnGraphs(shop, shop.in.anySprayerJobs(), sc)
}

// turnGraphs makes the graphs of all sprayers, or nothing where one is too
// large. any are the jobs that any sprayer may do.
func (pad *padModel) turnGraphs(shop *workshop, free []int, sc scope) []turnGraph {
	in := pad.in
	bits := map[int]uint32{}
	if len(free) > mostAny {
		return nil
	}
	for i, job := range free {
		bits[job] = 1 << i
	}
	var graphs []turnGraph
	for s := range in.p.Sprayers {
		m := &graphMaker{in: in, use: pad.use, shop: shop, sprayer: s, inOrder: sc.inOrder, free: bits, blocked: map[int]blocked{}, numbers: map[string]int32{}, turnsCap: mostTurns}
		if sc.turns > 0 {
			m.turnsCap = min(m.turnsCap, sc.turns)
		}
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
	if m.turnsCap -= len(turns); len(turns) > mostAtStop {
		m.turnsCap = -1
	}
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
	t := turn{l: l, takes: takes}
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
	t.pauseUntil, t.over = -model.Never, -model.Never
	for i := range t.l.parts {
		p := &t.l.parts[i]
		// Before the spraying hours and its earliest, and in a hold that it must wait out.
		from := m.blocked[p.job].until
		at.after += model.Clock(p.drive)
		t.pauseUntil = max(t.pauseUntil, from-at.after)
		at.until = max(at.until+model.Clock(p.drive), from)
		if m.blocked[p.job].later {
			t.over = max(t.over, p.blocked[len(p.blocked)-1].to-at.after)
		}
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
	if m.use == forBounds && t.over > m.in.now {
		t.jumps = m.in.jumps(t.l)
	}
}

func hasJob(loads []*load, job int) bool {
	return slices.ContainsFunc(loads, func(l *load) bool {
		return slices.ContainsFunc(l.parts, func(p part) bool { return p.job == job })
	})
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
