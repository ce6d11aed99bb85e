package outside

import (
	"io"
	"slices"

	"padturn/model"
)

// Parallel is an instance of identical parallel machines with tools: each job
// goes to one of the machines and takes its time there; putting a tool on takes
// a time, during which the machine stands; all should be done as early as
// possible.
//
// As a day: machines are bays, a job is a sprayer with one load that takes as
// many minutes to fill as the job takes, and only overtime costs, so that a plan
// costs its makespan in dollars less [Parallel.Free]. Filling an empty connection
// takes the time of a changeover here, while publications give each machine its
// first tools for nothing. So a plan's makespan is never below the published
// one, and at most Slots × Switch above it for the same assignment and order.
type Parallel struct {
	Switching
	Machines int
	Switch   int   // time to put one tool on
	Work     []int // time of each job
}

// ReadParallel reads the format of Beezão, Cordeau, Laporte and Yanasse (2017):
// the numbers of machines, jobs, tools and slots, the time of a switch, the time
// of each job, and a row for each tool with 1 for each job that needs it.
func ReadParallel(r io.Reader) (*Parallel, error) {
	w := newWords(r)
	p := &Parallel{Machines: w.number("the number of machines", 1, mostTools)}
	jobs := w.number("the number of jobs", 1, mostJobs)
	p.Tools, p.Slots = w.number("the number of tools", 1, mostTools), w.number("the number of slots", 1, mostSlots)
	p.Switch = w.number("the time of a switch", 0, mostMinutes)
	p.Work = w.numbers(jobs, "the time of a job", 1, mostTank)
	p.Jobs = w.needs(p.Tools, jobs)
	if err := w.end(); err != nil {
		return nil, err
	}
	return p, p.check()
}

// Day says the instance as a day.
func (p *Parallel) Day() model.Input {
	in := bareDay()
	payMakespan(&in)
	in.Settings.Pad.CarrierGpm = model.One // a gallon is a minute
	in.Settings.Pad.ChangeoverMin = model.WholeDecimal(int64(p.Switch))
	addBays(&in, p.Machines, p.Slots)
	p.addTools(&in)
	for j, work := range p.Work {
		p.addJob(&in, j, model.WholeDecimal(int64(work)))
	}
	return in
}

// Free is how much of a makespan a plan does not pay.
func (p *Parallel) Free() int { return makespanFree }

// Value works out the makespan of a plan's assignment and order, the first
// filling of the machines counted in.
func (p *Parallel) Value(plan *model.Plan) int {
	longest := 0
	for machine := range p.Machines {
		longest = max(longest, p.Length(order(plan, machine)))
	}
	return longest
}

// Length is how long one machine takes for jobs in an order, its first filling
// counted in.
func (p *Parallel) Length(order []int) int {
	sum := p.Switch * p.Insertions(order)
	for _, job := range order {
		sum += p.Work[job]
	}
	return sum
}

// LowerBound returns a makespan that no plan goes below: that of the longest
// job with its tools, and all work shared out evenly with every tool put on once.
func (p *Parallel) LowerBound() int {
	longest, used := 0, make([]bool, p.Tools)
	for j, work := range p.Work {
		longest = max(longest, work+p.Switch*len(p.Jobs[j]))
		for _, t := range p.Jobs[j] {
			used[t] = true
		}
	}
	tools := len(slices.DeleteFunc(used, func(u bool) bool { return !u }))
	even := total(p.Work) + p.Switch*tools
	return max(longest, (even+p.Machines-1)/p.Machines)
}
