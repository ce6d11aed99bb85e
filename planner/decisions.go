package planner

import (
	"fmt"
	"slices"

	"padturn/model"
)

// Run is jobs next to each other on a sprayer that are filled as one.
type Run []int

// Slot gives the next load of a sprayer to a bay.
type Slot struct{ Sprayer, Bay int }

// TakeOff says which product comes off a bay when a connection is wanted.
type TakeOff int

// What comes off.
const (
	// TakeOffFurthest takes off the product that the bay's later loads want
	// last or never, which needs the fewest changeovers for an order of loads
	// (Tang and Denardo 1988, "keep tool needed soonest").
	TakeOffFurthest TakeOff = iota
	// TakeOffLongestUnused takes off the product unused longest, as first
	// come, first served does.
	TakeOffLongestUnused
)

// Decisions is all that is chosen about a day; everything else follows from
// it and is worked out by the evaluator.
type Decisions struct {
	// Routes gives each sprayer its runs in order.
	Routes [][]Run
	// Sequence gives the loads to the bays: the k-th slot that names a sprayer
	// is its k-th load. A bay fills its loads in the order of the sequence.
	Sequence []Slot
	TakeOff  TakeOff
	// Off lists, by slot of the sequence, products that TakeOffFurthest takes off
	// for its load before others that are wanted later; nil: nowhere any. Fewest
	// changeovers are not always the cheapest: one that is done while the bay
	// waits for a sprayer holds up nobody. Of a load's own products, where not all
	// are on before it starts, those listed are drawn before others at the same
	// place of the adding order, and make room first.
	Off [][]int
	// Omitted loads are left out of the plan. The evaluator also drops, by
	// itself, loads that do not fit.
	Omitted []LoadRef
}

// LoadRef names a load: a sprayer's Load-th, from 0, of its route.
type LoadRef struct{ Sprayer, Load int }

// check says what makes decisions unfit for a problem, or nil. It is for
// callers from outside; the search makes only fit ones.
func (d *Decisions) check(p *model.Problem) error {
	if len(d.Routes) != len(p.Sprayers) {
		return fmt.Errorf("decisions have %d routes for %d sprayers", len(d.Routes), len(p.Sprayers))
	}
	if d.Off != nil && len(d.Off) != len(d.Sequence) {
		return fmt.Errorf("decisions list what comes off for %d of %d slots", len(d.Off), len(d.Sequence))
	}
	seen := make([]bool, len(p.Jobs))
	loads := make([]int, len(p.Sprayers))
	for s, route := range d.Routes {
		if len(route) > 0 && slices.ContainsFunc(route[0][min(1, len(route[0])):], func(j int) bool { return j >= 0 && j < len(p.Jobs) && p.Jobs[j].Begun }) {
			return fmt.Errorf("sprayer %s has begun a job that does not stand first on its route", p.Sprayers[s].Name)
		}
		for _, run := range route {
			if err := checkRun(p, s, run, seen); err != nil {
				return err
			}
			loads[s] += len(p.RunLoads(s, run))
		}
	}
	if job := slices.Index(seen, false); job >= 0 {
		return fmt.Errorf("job %s is on no route", p.Jobs[job].Name)
	}
	for _, slot := range d.Sequence {
		if slot.Bay < 0 || slot.Bay >= len(p.Bays) || slot.Sprayer < 0 || slot.Sprayer >= len(p.Sprayers) {
			return fmt.Errorf("slot %v names no bay or no sprayer", slot)
		}
		loads[slot.Sprayer]--
	}
	for s, n := range loads {
		if n != 0 {
			return fmt.Errorf("the sequence is %d loads off what the route of sprayer %s needs", n, p.Sprayers[s].Name)
		}
	}
	return nil
}

func checkRun(p *model.Problem, sprayer int, run Run, seen []bool) error {
	if len(run) == 0 {
		return fmt.Errorf("a run of sprayer %s has no job", p.Sprayers[sprayer].Name)
	}
	for i, job := range run {
		switch {
		case job < 0 || job >= len(p.Jobs) || seen[job]:
			return fmt.Errorf("job %d does not exist or is planned twice", job)
		case p.Jobs[job].Sprayer != model.None && p.Jobs[job].Sprayer != sprayer:
			return fmt.Errorf("job %s belongs to another sprayer", p.Jobs[job].Name)
		case i > 0 && !p.MayShare(sprayer, run[i-1], job):
			return fmt.Errorf("jobs %s and %s may not share a run", p.Jobs[run[i-1]].Name, p.Jobs[job].Name)
		}
		seen[job] = true
	}
	return nil
}
