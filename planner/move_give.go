package planner

import "slices"

// giveAway gives a job for any sprayer to another sprayer, at a random place
// among its jobs.
func giveAway(w *walker, c *candidate) bool {
	return w.give(c, func(jobs []int, _ int) int { return w.rng.IntN(len(jobs) + 1) })
}

// giveInOrder is giveAway to the place that the file gives the job.
func giveInOrder(w *walker, c *candidate) bool {
	return w.give(c, func(jobs []int, job int) int {
		at, _ := slices.BinarySearch(jobs, job)
		return at
	})
}

// give moves a random job for any sprayer to another sprayer, to the place
// among its jobs that is asked for.
func (w *walker) give(c *candidate, place func(jobs []int, job int) int) bool {
	n := len(c.jobs)
	if n < 2 {
		return false
	}
	job := w.e.in.anyJobs[w.rng.IntN(len(w.e.in.anyJobs))]
	s, i := c.find(job)
	to := w.rng.IntN(n - 1)
	if to >= s {
		to++
	}
	c.jobs[s] = slices.Delete(c.jobs[s], i, i+1)
	c.jobs[to] = slices.Insert(c.jobs[to], place(c.jobs[to], job), job)
	w.e.chain(c, s)
	w.e.chain(c, to)
	c.handOver(s, to)
	c.fitSequence(s, w.e.in.anyBay)
	c.fitSequence(to, w.e.in.anyBay)
	return true
}

// handOver gives slots that a sprayer has too many, its last, to another that has
// too few.
func (c *candidate) handOver(from, to int) {
	over, short := -len(c.chains[from]), len(c.chains[to])
	for _, x := range c.sequence {
		switch int(x.sprayer) {
		case from:
			over++
		case to:
			short--
		}
	}
	for k := len(c.sequence) - 1; k >= 0 && over > 0 && short > 0; k-- {
		if int(c.sequence[k].sprayer) == from {
			c.sequence[k].sprayer = int16(to)
			over--
			short--
		}
	}
}

// find returns whose job one is, and where among them.
func (c *candidate) find(job int) (sprayer, at int) {
	for s, jobs := range c.jobs {
		if i := slices.Index(jobs, job); i >= 0 {
			return s, i
		}
	}
	panic("planner: a job is on no route")
}
