package planner

import "slices"

// slot is a Slot, packed, with the set of products that may come off for its
// load, by metered number; those numbered from 32 cannot be in it.
type slot struct {
	sprayer, bay int16
	off          uint32
}

// candidate is decisions in the middle of a search, with the loads they make.
// Its chains belong to one evaluator's workshop.
type candidate struct {
	jobs     [][]int   // by sprayer: its jobs in order
	alone    []bool    // by job: it does not share a run with the job before it
	chains   [][]*load // by sprayer: the loads that come of it
	sequence []slot
	takeOff  TakeOff
	omitted  []LoadRef
	leave    []bool // by job: its runs are left out, so that others fit
	leaves   int    // how many jobs are left out
}

// emptyCandidate decides nothing yet.
func (e *evaluator) emptyCandidate() *candidate {
	n := len(e.in.p.Sprayers)
	return &candidate{jobs: make([][]int, n), alone: make([]bool, len(e.in.p.Jobs)), chains: make([][]*load, n),
		leave: make([]bool, len(e.in.p.Jobs))}
}

// candidateOf lays decisions out for an evaluator.
func (e *evaluator) candidateOf(d *Decisions) *candidate {
	c := e.emptyCandidate()
	c.takeOff, c.omitted = d.TakeOff, slices.Clone(d.Omitted)
	for s, route := range d.Routes {
		for _, run := range route {
			c.jobs[s] = append(c.jobs[s], run...)
			c.alone[run[0]] = true
		}
		e.chain(c, s)
	}
	for i, x := range d.Sequence {
		at := slot{sprayer: int16(x.Sprayer), bay: int16(x.Bay)}
		if d.Off != nil {
			at.off = e.in.offSet(d.Off[i])
		}
		c.sequence = append(c.sequence, at)
	}
	return c
}

// omits says whether a sprayer's k-th load is left out.
func (c *candidate) omits(sprayer, k int) bool {
	if len(c.omitted) > 0 && slices.Contains(c.omitted, LoadRef{sprayer, k}) {
		return true
	}
	return c.leaves > 0 && c.leave[c.chains[sprayer][k].parts[0].job]
}

// leaveWholeJobs turns omitted loads into jobs left out, which stay the same
// jobs when the loads change. A job of which only some loads are omitted is
// tried again.
func (c *candidate) leaveWholeJobs() {
	if len(c.omitted) == 0 {
		return
	}
	for i := range c.leave {
		c.leave[i] = false
	}
	kept := make([]bool, len(c.leave))
	for s, chain := range c.chains {
		for k, l := range chain {
			job := l.parts[0].job
			c.leave[job] = !kept[job] && c.omits(s, k)
			kept[job] = kept[job] || !c.leave[job]
		}
	}
	c.omitted, c.leaves = c.omitted[:0], 0
	for _, left := range c.leave {
		if left {
			c.leaves++
		}
	}
}

// runs calls yield with each run of a sprayer in order.
func (e *evaluator) runs(c *candidate, sprayer int, yield func(Run)) {
	jobs := c.jobs[sprayer]
	from := 0
	for i := 1; i <= len(jobs); i++ {
		if i == len(jobs) || c.alone[jobs[i]] || !e.shop.mayShare(sprayer, jobs[i-1], jobs[i]) {
			yield(jobs[from:i])
			from = i
		}
	}
}

// chain works out a sprayer's loads anew, after its jobs have changed.
func (e *evaluator) chain(c *candidate, sprayer int) {
	e.in.begunFirst(c.jobs[sprayer], sprayer)
	e.layOutChain(c, sprayer)
}

// layOutChain works out the loads of a sprayer's jobs as they stand.
func (e *evaluator) layOutChain(c *candidate, sprayer int) {
	chain := c.chains[sprayer][:0]
	e.runs(c, sprayer, func(run Run) { chain = append(chain, e.shop.loads(sprayer, run)...) })
	c.chains[sprayer] = chain
}

// decisions returns what a candidate decides, on its own memory.
func (e *evaluator) decisions(c *candidate) Decisions {
	d := Decisions{Routes: make([][]Run, len(c.jobs)), TakeOff: c.takeOff}
	for s := range c.jobs {
		e.runs(c, s, func(run Run) { d.Routes[s] = append(d.Routes[s], slices.Clone(run)) })
	}
	lists := false
	for _, x := range c.sequence {
		d.Sequence = append(d.Sequence, Slot{int(x.sprayer), int(x.bay)})
		d.Off = append(d.Off, e.in.offList(x.off))
		lists = lists || x.off != 0
	}
	if !lists {
		d.Off = nil
	}
	for s, chain := range c.chains {
		for k := range chain {
			if c.omits(s, k) {
				d.Omitted = append(d.Omitted, LoadRef{s, k})
			}
		}
	}
	return d
}

// copyFrom makes c the same as o, which must be of the same evaluator.
func (c *candidate) copyFrom(o *candidate) {
	for s := range o.jobs {
		c.jobs[s] = append(c.jobs[s][:0], o.jobs[s]...)
		c.chains[s] = append(c.chains[s][:0], o.chains[s]...)
	}
	copy(c.alone, o.alone)
	if c.leaves > 0 || o.leaves > 0 {
		copy(c.leave, o.leave)
	}
	c.leaves = o.leaves
	c.sequence = append(c.sequence[:0], o.sequence...)
	c.takeOff = o.takeOff
	c.omitted = append(c.omitted[:0], o.omitted...)
}

// place is where a job stands next to another on a sprayer.
type place struct{ sprayer, job, next int }

// mayShare is Problem.MayShare, remembered.
func (w *workshop) mayShare(sprayer, job, next int) bool {
	at := place{sprayer, job, next}
	may, known := w.share[at]
	if !known {
		may = w.in.p.MayShare(sprayer, job, next)
		w.share[at] = may
	}
	return may
}

// fitSequence makes a candidate's sequence have as many slots of a sprayer as
// the sprayer has loads: it adds them behind the sprayer's last, or takes the
// last ones out.
func (c *candidate) fitSequence(sprayer int, bay func(*load) int) {
	have := 0
	for _, x := range c.sequence {
		if int(x.sprayer) == sprayer {
			have++
		}
	}
	chain := c.chains[sprayer]
	for ; have < len(chain); have++ {
		c.sequence = append(c.sequence, slot{sprayer: int16(sprayer), bay: int16(bay(chain[have]))})
	}
	for i := len(c.sequence) - 1; have > len(chain); i-- {
		if int(c.sequence[i].sprayer) == sprayer {
			c.sequence = slices.Delete(c.sequence, i, i+1)
			have--
		}
	}
}

// fixBays gives loads that their bay can't fill to one that can. Moves shift
// loads between slots without looking at their bays.
func (e *evaluator) fixBays(c *candidate) {
	if !e.in.picky {
		return
	}
	clear(e.given)
	for i := range c.sequence {
		x := &c.sequence[i]
		l := c.chains[x.sprayer][e.given[x.sprayer]]
		e.given[x.sprayer]++
		if !e.in.bays[x.bay].fills[l.mix] {
			x.bay = int16(e.in.anyBay(l))
		}
	}
}

// anyBay returns the first bay that can fill a load.
func (in *instance) anyBay(l *load) int {
	return max(slices.IndexFunc(in.bays, func(b bayData) bool { return b.fills[l.Mix] }), 0)
}
