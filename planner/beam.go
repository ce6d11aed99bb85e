package planner

import (
	"cmp"
	"context"
	"slices"

	"padturn/model"
)

// beam builds plans load by load: it keeps the most promising of the plans
// that have filled the same number of loads, gives each of them every possible
// next load, and keeps the most promising of those. It decides the order of
// jobs and the sprayer of any-sprayer jobs as it goes.
type beam struct {
	e     *evaluator
	width int
	beamPlan
	order   []int         // workspace: sprayers that can come next
	jobWork []model.Clock // by job: the turns of a job that names its sprayer
	dayEnd  []model.Clock // by sprayer: when it should be back with its last load
	undone  []int         // workspace: by metered number, how far off it is wanted
	free    []model.Clock
	coming  []arrivalAt
}

// beamPlan is a way for a beam to build.
type beamPlan struct {
	bayPrice  float64 // what a second of a bay's time is worth, in wait_per_h
	comers    int     // the next load is one of so many sprayers', those back first
	fileOrder bool    // each sprayer takes its jobs in file order
}

// node is a plan in the making.
type node struct {
	state snapshot
	taken []bool // by job: its run has begun
	named []int  // by sprayer: jobs that name it and have not begun
	// jobsLeft counts all jobs that have not begun, anyLeft those for any sprayer.
	jobsLeft, anyLeft int
	work              []model.Clock // by sprayer: turns of the jobs that name it and have not begun
	last              *deed
}

// deed is one step of a plan in the making: a load for a sprayer at a bay.
type deed struct {
	before       *deed
	sprayer, bay int
	run          Run // the run that begins with the load; nil within a run
}

// option is a possible next step of a node.
type option struct {
	from  *node
	deed  deed
	guide float64
	score score
	open  bool // the plan is not complete with it
}

// newBeam lays out a beam over an evaluator of its own.
func newBeam(e *evaluator, width int, plan beamPlan) *beam {
	b := &beam{e: e, width: width, beamPlan: plan, undone: make([]int, len(e.in.products))}
	b.bayPrice *= float64(model.RatePerHour(e.in.p.Settings.Costs.WaitPerH))
	for i, j := range e.in.p.Jobs {
		var work model.Clock
		if j.Sprayer != model.None {
			for _, l := range e.shop.loads(j.Sprayer, Run{i}) {
				work += b.turnTime(l)
			}
		}
		b.jobWork = append(b.jobWork, work)
	}
	for i := range e.in.p.Sprayers {
		b.dayEnd = append(b.dayEnd, min(e.in.p.Sprayers[i].AvailableUntil, e.in.p.Settings.SprayUntil))
	}
	return b
}

// search returns the best plan that a beam finds, or nil when ctx ends first.
func (b *beam) search(ctx context.Context) *candidate {
	first := b.root()
	layer := []*node{first}
	var spare []*node
	best, bestScore := (*deed)(nil), worst
	for len(layer) > 0 {
		if ctx.Err() != nil {
			return nil
		}
		var options []option
		for _, n := range layer {
			options = b.expand(n, options)
		}
		slices.SortStableFunc(options, func(x, y option) int { return cmp.Compare(x.guide, y.guide) })
		var next []*node
		seen := map[string]int{}
		for i := range options {
			o := &options[i]
			if !o.open {
				if o.score.less(bestScore) {
					bestScore, best = o.score, &o.deed
				}
				continue
			}
			if len(next) == b.width {
				continue
			}
			if n := b.grow(o, seen, &spare); n != nil {
				next = append(next, n)
			}
		}
		spare = append(spare, layer...)
		layer = next
	}
	if best == nil {
		return nil
	}
	return b.candidate(best)
}

// root is the plan with nothing in it.
func (b *beam) root() *node {
	b.e.reset(b.e.emptyCandidate())
	b.e.takeOff = TakeOffFurthest
	for i := range b.e.sprayers {
		b.e.sprayers[i].chain = nil
	}
	n := &node{taken: make([]bool, len(b.e.in.p.Jobs)), named: make([]int, len(b.e.sprayers)), jobsLeft: len(b.e.in.p.Jobs),
		work: make([]model.Clock, len(b.e.sprayers))}
	for i, j := range b.e.in.p.Jobs {
		if j.Sprayer != model.None {
			n.named[j.Sprayer]++
			n.work[j.Sprayer] += b.jobWork[i]
		} else {
			n.anyLeft++
		}
	}
	b.e.save(&n.state)
	return n
}

// expand lists the possible next steps of a plan.
func (b *beam) expand(n *node, options []option) []option {
	b.lookAhead(n)
	for _, s := range b.nextSprayers(n) {
		mark := &n.state.sprayers[s]
		if mark.k < len(mark.chain) {
			options = b.tryBays(n, s, nil, options)
			continue
		}
		for _, run := range b.nextRuns(n, s) {
			options = b.tryBays(n, s, run, options)
		}
	}
	return options
}

// nextSprayers lists the sprayers that can have the next load: of those with work
// as many as asked for, those first that are back first.
func (b *beam) nextSprayers(n *node) []int {
	b.order = b.order[:0]
	for s := range n.state.sprayers {
		if m := &n.state.sprayers[s]; m.k < len(m.chain) || n.named[s] > 0 || n.anyLeft > 0 {
			b.order = append(b.order, s)
		}
	}
	if len(b.order) <= b.comers {
		return b.order
	}
	slices.SortStableFunc(b.order, func(x, y int) int {
		return cmp.Compare(n.state.sprayers[x].base, n.state.sprayers[y].base)
	})
	return b.order[:b.comers]
}

// tryBays tries a sprayer's next load at every bay that can fill it.
func (b *beam) tryBays(n *node, sprayer int, run Run, options []option) []option {
	for bay := range b.e.in.bays {
		if b.play(n, sprayer, bay, run) {
			o := option{from: n, deed: deed{n.last, sprayer, bay, run}, score: score{b.e.left, b.e.money}}
			o.guide, o.open = b.guide(n, sprayer, run)
			options = append(options, o)
		}
	}
	return options
}

// play takes a node's state one load further, and says whether that was
// possible.
func (b *beam) play(n *node, sprayer, bay int, run Run) bool {
	e := b.e
	e.restore(&n.state)
	s := &e.sprayers[sprayer]
	if run != nil {
		s.chain, s.k = e.shop.loads(sprayer, run), 0
	}
	l := s.chain[s.k]
	if !e.in.bays[bay].fills[l.mix] {
		return false
	}
	return e.serve(sprayer, bay)
}

// serve gives a sprayer's next load to a bay and takes all steps until it is
// filled; false when it would wait for what only another bay can let go.
func (e *evaluator) serve(sprayer, b int) bool {
	s, bay := &e.sprayers[sprayer], &e.bays[b]
	s.skipped = slices.Grow(s.skipped[:0], len(s.chain))[:len(s.chain)]
	clear(s.skipped)
	if n := len(e.shop.contents); len(s.tank) < n {
		s.tank = append(s.tank, make([]int, n-len(s.tank))...)
	}
	e.toClean = 0
	e.prepare(s)
	for s.ready == model.Never && s.cleanAt < model.Never {
		e.clean(sprayer)
	}
	bay.queue = append(bay.queue[:0], queued{l: s.chain[s.k], k: s.k})
	bay.pos, bay.phase, bay.at = 0, phaseSetup, max(bay.free, e.in.now)
	for bay.phase != phaseDone {
		e.step(b)
		if bay.at == model.Never {
			return false
		}
	}
	return true
}

// nextRuns lists the runs that a sprayer can begin: for each mix the first job
// in file order, alone and with the jobs after it that can share.
func (b *beam) nextRuns(n *node, sprayer int) []Run {
	p := b.e.in.p
	var runs []Run
	var mixes []int
	for i := range p.Jobs {
		j := &p.Jobs[i]
		if n.taken[i] || j.Sprayer != sprayer && j.Sprayer != model.None || slices.Contains(mixes, j.Mix) {
			continue
		}
		if first := b.e.in.sprayers[sprayer].begun; first != model.None && first != i && !n.taken[first] {
			continue
		}
		mixes = append(mixes, j.Mix)
		run := Run{i}
		for next := i + 1; next < len(p.Jobs); next++ {
			if n.taken[next] || p.Jobs[next].Sprayer != sprayer {
				if b.fileOrder && !n.taken[next] && p.Jobs[next].Sprayer == model.None {
					break // it may come to this sprayer later
				}
				continue
			}
			if b.e.shop.mayShare(sprayer, run[len(run)-1], next) {
				run = append(run, next)
			} else if b.fileOrder {
				break
			}
		}
		runs = append(runs, run)
		if len(run) > 1 {
			runs = append(runs, Run{i})
		}
		if b.fileOrder {
			break
		}
	}
	return runs
}

// grow makes a node of an option, unless enough like it are there already.
func (b *beam) grow(o *option, seen map[string]int, spare *[]*node) *node {
	b.lookAhead(o.from)
	if !b.play(o.from, o.deed.sprayer, o.deed.bay, o.deed.run) {
		return nil
	}
	n := &node{}
	if k := len(*spare); k > 0 {
		n, *spare = (*spare)[k-1], (*spare)[:k-1]
	}
	n.taken = append(n.taken[:0], o.from.taken...)
	n.named = append(n.named[:0], o.from.named...)
	n.work = append(n.work[:0], o.from.work...)
	n.jobsLeft, n.anyLeft = o.from.jobsLeft-len(o.deed.run), o.from.anyLeft
	for _, j := range o.deed.run {
		n.taken[j] = true
		if s := b.e.in.p.Jobs[j].Sprayer; s != model.None {
			n.named[s]--
			n.work[s] -= b.jobWork[j]
		} else {
			n.anyLeft--
		}
	}
	key := b.key(n)
	if seen[key] >= alikeKept {
		*spare = append(*spare, n)
		return nil
	}
	seen[key]++
	b.e.save(&n.state)
	d := o.deed
	n.last = &d
	return n
}

// alikeKept is how many plans with the same loads filled and the same mixes in
// the manifolds a layer keeps.
const alikeKept = 3

// key names what is filled and what is in the manifolds.
func (b *beam) key(n *node) string {
	buf := make([]byte, 0, len(n.taken)+4*len(b.e.sprayers))
	for _, t := range n.taken {
		if t {
			buf = append(buf, 1)
		} else {
			buf = append(buf, 0)
		}
	}
	for i := range b.e.sprayers {
		s := &b.e.sprayers[i]
		buf = append(buf, byte(len(s.chain)-s.k), byte((len(s.chain)-s.k)>>8))
	}
	for i := range b.e.bays {
		buf = append(buf, byte(b.e.bays[i].mix), byte(b.e.bays[i].mix>>8))
	}
	return string(buf)
}

// candidate makes decisions of a complete plan.
func (b *beam) candidate(last *deed) *candidate {
	var deeds []*deed
	for d := last; d != nil; d = d.before {
		deeds = append(deeds, d)
	}
	slices.Reverse(deeds)
	c := b.e.emptyCandidate()
	for _, d := range deeds {
		if d.run != nil {
			c.jobs[d.sprayer] = append(c.jobs[d.sprayer], d.run...)
			c.alone[d.run[0]] = true
		}
		c.sequence = append(c.sequence, slot{sprayer: int16(d.sprayer), bay: int16(d.bay)})
	}
	for s := range c.jobs {
		b.e.chain(c, s)
	}
	return c
}
