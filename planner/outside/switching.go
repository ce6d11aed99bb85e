package outside

import (
	"fmt"
	"io"
	"slices"

	"padturn/model"
)

// Switching is an instance of the tool switching problem: a machine does jobs
// in an order to be chosen; each needs tools, and only so many are on the
// machine at a time; how few times must a tool be put on?
//
// As a day: tools are metered products, the machine is a bay with a connection
// for each slot, a job is a sprayer that wants one load, and only changeovers
// cost, a dollar each. Published values count the tools put on after a first
// filling that is free, so the cost of a plan is its value + [Switching.FirstFilling].
type Switching struct {
	Jobs  [][]int // the tools that each job needs
	Tools int
	Slots int
}

// ReadSwitching reads the format of Catanzaro, Gouveia and Labbé (2015): the
// numbers of jobs, tools and slots, then a row for each tool with 1 for each
// job that needs it.
func ReadSwitching(r io.Reader) (*Switching, error) {
	w := newWords(r)
	jobs := w.number("the number of jobs", 1, mostJobs)
	s := &Switching{Tools: w.number("the number of tools", 1, mostTools), Slots: w.number("the number of slots", 1, mostSlots)}
	s.Jobs = w.needs(s.Tools, jobs)
	if err := w.end(); err != nil {
		return nil, err
	}
	return s, s.check()
}

// check reports a job that has more tools than there are slots, or names one twice.
func (s *Switching) check() error {
	for j, tools := range s.Jobs {
		if len(tools) > s.Slots {
			return fmt.Errorf("job %d needs %d tools; the machine has %d slots", j+1, len(tools), s.Slots)
		}
		for i, tool := range tools {
			if slices.Contains(tools[:i], tool) {
				return fmt.Errorf("job %d names tool %d twice", j+1, tool)
			}
		}
	}
	return nil
}

// Day says the instance as a day.
func (s *Switching) Day() model.Input {
	in := bareDay()
	in.Settings.Costs.Changeover = model.One
	addBays(&in, 1, s.Slots)
	s.addTools(&in)
	for j := range s.Jobs {
		s.addJob(&in, j, model.One)
	}
	return in
}

func (s *Switching) addTools(in *model.Input) {
	for t := range s.Tools {
		addMetered(in, toolName(t))
	}
}

// toolTrace is how much of a tool's product goes in, in gal/ac: as good as
// nothing, so that filling takes no time for it.
const toolTrace = model.One / 1_000_000

// addJob adds a job as a sprayer with one load of acres at 1 gal/ac.
func (s *Switching) addJob(in *model.Input, j int, acres model.Decimal) {
	name := jobName(j)
	in.Mixes = append(in.Mixes, model.MixRow{Mix: name, GPA: model.One})
	for _, t := range s.Jobs[j] {
		in.Recipes = append(in.Recipes, model.RecipeRow{Mix: name, Product: toolName(t), Rate: toolTrace, Unit: "gal/ac"})
	}
	addSprayer(in, "sprayer "+name, mostTank, fastAcPerH)
	addJob(in, name, "sprayer "+name, name, acres)
}

// mostTank and fastAcPerH are the largest and the fastest sprayer of a day, so
// that neither ever matters.
const (
	mostTank   = 20_000
	fastAcPerH = 2000
)

func jobName(j int) string  { return fmt.Sprintf("j%d", j+1) }
func toolName(t int) string { return fmt.Sprintf("tool %d", t+1) }

// FirstFilling returns how many tools the free first filling puts on: as many
// as there are slots, or all that any job needs.
func (s *Switching) FirstFilling() int {
	needed := make([]bool, s.Tools)
	count := 0
	for _, tools := range s.Jobs {
		for _, t := range tools {
			if !needed[t] {
				needed[t] = true
				count++
			}
		}
	}
	return min(s.Slots, count)
}

// Value counts the tools put on after the first filling when the machine does
// its jobs in a plan's order and keeps the tools wanted soonest.
func (s *Switching) Value(plan *model.Plan) int {
	return s.Insertions(order(plan, 0)) - s.FirstFilling()
}

// Insertions counts how many times a tool is put on, the first filling counted
// in, when jobs are done in an order and the tool wanted furthest ahead comes
// off: the fewest possible for that order (Tang and Denardo 1988).
func (s *Switching) Insertions(order []int) int {
	next := s.nextUses(order)
	on := make([]int, 0, s.Slots) // tools on the machine
	nextUse := make([]int, s.Tools)
	count := 0
	for i, job := range order {
		for k, t := range s.Jobs[job] {
			nextUse[t] = next[i][k]
		}
		for _, t := range s.Jobs[job] {
			if slices.Contains(on, t) {
				continue
			}
			count++
			if len(on) < s.Slots {
				on = append(on, t)
				continue
			}
			on[furthest(on, nextUse, s.Jobs[job])] = t
		}
	}
	return count
}

// nextUses returns, for each job of an order and each of its tools, the place
// in the order where the tool is wanted next.
func (s *Switching) nextUses(order []int) [][]int {
	seen := make([]int, s.Tools)
	for t := range seen {
		seen[t] = len(order)
	}
	next := make([][]int, len(order))
	for i := len(order) - 1; i >= 0; i-- {
		for _, t := range s.Jobs[order[i]] {
			next[i] = append(next[i], seen[t])
			seen[t] = i
		}
	}
	return next
}

// furthest returns the place of the tool that is wanted furthest ahead, of
// those on the machine that are not to stay.
func furthest(on, nextUse, stay []int) int {
	best := -1
	for i, t := range on {
		if !slices.Contains(stay, t) && (best < 0 || nextUse[t] > nextUse[on[best]]) {
			best = i
		}
	}
	return best
}
