package planner

import (
	"slices"

	"padturn/model"
)

// A move changes a candidate a little, at random, and says whether it did. It
// leaves the candidate fit.
type move func(w *walker, c *candidate) bool

// moveSet is the moves that can change anything on a day.
type moveSet struct {
	small        []move // of loads and jobs, one for each step
	jobs         []move // of jobs only, for kicks
	routes       []move // of jobs only, where the loads are laid out anew
	redispatches bool   // some steps of walkers lay loads out anew
	kin          *kin   // by which candidates are sifted; nil where the order of loads is not all
}

// kinMoves lists the moves where the order of loads at one bay is all there is.
func kinMoves(k *kin) moveSet {
	return moveSet{kin: k, small: []move{joinKin, joinKin, joinKin, joinKin, joinKin, joinKin, swapSlots, turnBlock}}
}

// movesFor lists the moves for a day; those listed twice are tried twice as
// often. tight says that not all may fit.
func movesFor(in *instance, tight, keepOrder bool) moveSet {
	small := []move{shiftSlot, fitSlot, fitSlot, swapSlots, shiftBlock, swapSprayers, swapBlocks}
	if len(in.bays) > 1 {
		small = append(small, changeBay, fitSlot)
	}
	var jobs, often, routes []move
	if in.jobsHaveOrder() {
		jobs = append(jobs, toggleShare)
		if !keepOrder {
			jobs = append(jobs, shiftJob)
			often = append(often, shiftJob, shiftJob)
		}
	}
	if slices.ContainsFunc(in.p.Jobs, func(j model.Job) bool { return j.Sprayer == model.None }) {
		if keepOrder {
			jobs = append(jobs, giveInOrder)
		} else {
			jobs = append(jobs, giveAway)
			often = append(often, giveAway)
		}
	}
	if len(jobs) == 0 { // the order of loads is all there is
		small = append(small, turnBlock, turnBlock)
	}
	if len(jobs) > 1 || in.someShare() { // not only toggleShare, in vain
		routes = slices.Clone(jobs)
	}
	if in.jobsHaveOrder() && !keepOrder {
		routes = append(routes, orderMixes, orderMixes, orderMixes)
	}
	small = slices.Concat(small, jobs, often)
	if in.mustChange() {
		small = append(small, switchTakeOff)
	}
	if tight {
		small = append(small, toggleLeave)
		if !keepOrder {
			small = append(small, takeInLast)
		}
	}
	return moveSet{small: small, jobs: jobs, routes: routes, redispatches: keepOrder || len(routes) == 0 || in.isRest()}
}

// jobsHaveOrder says whether some sprayer can have two jobs or more.
func (in *instance) jobsHaveOrder() bool {
	named := make([]int, len(in.p.Sprayers))
	for _, j := range in.p.Jobs {
		if j.Sprayer == model.None {
			return len(in.p.Jobs) > 1
		}
		named[j.Sprayer]++
	}
	return slices.Max(named) > 1
}

// someShare says whether there are jobs that may share loads.
func (in *instance) someShare() bool {
	for i := range in.p.Jobs {
		for j := range in.p.Jobs {
			if i != j && in.p.MayShare(max(in.p.Jobs[i].Sprayer, 0), i, j) {
				return true
			}
		}
	}
	return false
}

// nearby is how far a slot is usually moved.
const nearby = 12

// near returns a random place within nearby of i, and not i, in a list of n.
func (w *walker) near(i, n int) int {
	lo, hi := max(i-nearby, 0), min(i+nearby, n-1)
	j := lo + w.rng.IntN(hi-lo)
	if j >= i {
		j++
	}
	return j
}

// shiftSlot takes a load out of the sequence and puts it in elsewhere. The
// slot names only the sprayer: its loads stay in their order.
func shiftSlot(w *walker, c *candidate) bool {
	n := len(c.sequence)
	if n < 2 {
		return false
	}
	i := w.rng.IntN(n)
	j := w.beside(i, n)
	if !c.matters(i, j) {
		return false
	}
	moveItem(c.sequence, i, j)
	return true
}

func moveItem(list []slot, from, to int) {
	x := list[from]
	if from < to {
		copy(list[from:to], list[from+1:to+1])
	} else {
		copy(list[to+1:from+1], list[to:from])
	}
	list[to] = x
}

// swapSlots exchanges two slots that differ in sprayer or bay.
func swapSlots(w *walker, c *candidate) bool {
	n := len(c.sequence)
	if n < 2 {
		return false
	}
	i := w.rng.IntN(n)
	j := w.beside(i, n)
	if c.sequence[i] == c.sequence[j] {
		return false
	}
	c.sequence[i], c.sequence[j] = c.sequence[j], c.sequence[i]
	return true
}

// shiftBlock moves two to four loads in a row together.
func shiftBlock(w *walker, c *candidate) bool {
	n := len(c.sequence)
	size := 2 + w.rng.IntN(3)
	if n < size+1 {
		return false
	}
	i := w.rng.IntN(n - size + 1)
	j := w.beside(i, n-size+1)
	for range size {
		if j > i {
			moveItem(c.sequence, i, j+size-1)
		} else {
			moveItem(c.sequence, i+size-1, j)
		}
	}
	return true
}

// swapSprayers exchanges two sprayers in a stretch of the sequence, all or the
// rest of it or a part: where one goes before the other once, it often should
// every time.
func swapSprayers(w *walker, c *candidate) bool {
	n := len(c.sequence)
	if n < 2 {
		return false
	}
	i, j := w.rng.IntN(n), w.rng.IntN(n)
	a, b := c.sequence[i].sprayer, c.sequence[j].sprayer
	if a == b {
		return false
	}
	from, to := min(i, j), max(i, j)
	if w.rng.IntN(2) == 0 {
		to = n - 1
	}
	balance := 0
	for k := from; k <= to; k++ {
		switch c.sequence[k].sprayer {
		case a:
			c.sequence[k].sprayer = b
			balance++
		case b:
			c.sequence[k].sprayer = a
			balance--
		}
	}
	c.rebalance(a, b, balance)
	return true
}

// rebalance gives the last slots of b back to a, or the other way round, when
// surplus of a's slots have become b's.
func (c *candidate) rebalance(a, b int16, surplus int) {
	if surplus < 0 {
		a, b, surplus = b, a, -surplus
	}
	for k := len(c.sequence) - 1; k >= 0 && surplus > 0; k-- {
		if c.sequence[k].sprayer == b {
			c.sequence[k].sprayer = a
			surplus--
		}
	}
}

// swapBlocks exchanges two blocks of loads that follow one another, of any
// length: what has an order of its own keeps it.
func swapBlocks(w *walker, c *candidate) bool {
	n := len(c.sequence)
	if n < 3 {
		return false
	}
	i := w.rng.IntN(n - 1)
	k := i + 1 + w.rng.IntN(n-i-1)
	j := k + 1 + w.rng.IntN(n-k)
	w.exchange(c, i, k, j)
	return true
}

// changeBay gives a load to another bay.
func changeBay(w *walker, c *candidate) bool {
	i := w.rng.IntN(len(c.sequence))
	b := int16(w.rng.IntN(len(w.e.in.bays) - 1))
	if b >= c.sequence[i].bay {
		b++
	}
	c.sequence[i].bay = b
	return true
}

// shiftJob moves a job elsewhere among its sprayer's jobs.
func shiftJob(w *walker, c *candidate) bool {
	s := w.rng.IntN(len(c.jobs))
	jobs := c.jobs[s]
	if len(jobs) < 2 {
		return false
	}
	i := w.rng.IntN(len(jobs))
	j := w.near(i, len(jobs))
	x := jobs[i]
	jobs = slices.Insert(slices.Delete(jobs, i, i+1), j, x)
	c.jobs[s] = jobs
	w.rebuild(c, s)
	return true
}

// toggleShare lets a job share a run with the one before it, or not.
func toggleShare(w *walker, c *candidate) bool {
	s := w.rng.IntN(len(c.jobs))
	jobs := c.jobs[s]
	if len(jobs) < 2 {
		return false
	}
	i := 1 + w.rng.IntN(len(jobs)-1)
	if !w.e.shop.mayShare(s, jobs[i-1], jobs[i]) {
		return false
	}
	c.alone[jobs[i]] = !c.alone[jobs[i]]
	w.rebuild(c, s)
	return true
}

// toggleLeave leaves a job out, or takes it in again: where not all fits, what
// is not filled can make room for what counts more.
func toggleLeave(w *walker, c *candidate) bool {
	j := w.rng.IntN(len(c.leave))
	c.leave[j] = !c.leave[j]
	if c.leave[j] {
		c.leaves++
	} else {
		c.leaves--
	}
	return true
}

// takeInLast takes a job that was left out in again as its sprayer's last, and
// fills it after everything else: it gets what the others leave.
func takeInLast(w *walker, c *candidate) bool {
	if c.leaves == 0 {
		return false
	}
	j := w.rng.IntN(len(c.leave))
	for !c.leave[j] {
		j = (j + 1) % len(c.leave)
	}
	c.leave[j] = false
	c.leaves--
	s := slices.IndexFunc(c.jobs, func(jobs []int) bool { return slices.Contains(jobs, j) })
	at := slices.Index(c.jobs[s], j)
	c.jobs[s] = append(slices.Delete(c.jobs[s], at, at+1), j)
	w.rebuild(c, s)
	count := 0
	for _, l := range c.chains[s] {
		if l.parts[len(l.parts)-1].job == j {
			count++
		}
	}
	end := len(c.sequence) - 1
	for i := end; i >= 0 && count > 0; i-- {
		if int(c.sequence[i].sprayer) == s {
			moveItem(c.sequence, i, end)
			end--
			count--
		}
	}
	return true
}

// switchTakeOff changes the rule by which products come off connections. What
// is wanted furthest ahead makes the fewest changeovers; now and then another
// rule makes them at better times.
func switchTakeOff(_ *walker, c *candidate) bool {
	c.takeOff = TakeOffLongestUnused - c.takeOff
	return true
}

// mustChange says whether some bay has fewer free connections than the day has
// metered products.
func (in *instance) mustChange() bool {
	return slices.ContainsFunc(in.bays, func(b bayData) bool { return b.free < len(in.products) })
}

// rebuild makes a sprayer's loads anew and gives each a slot.
func (w *walker) rebuild(c *candidate, sprayer int) {
	w.e.chain(c, sprayer)
	c.fitSequence(sprayer, w.e.in.anyBay)
}
