package outside

import (
	"fmt"

	"padturn/model"
)

// FlowShop is an instance of the two-machine flow shop F2||Cmax: each job goes
// through the first machine, then through the second, one job at a time on each;
// all should be done as early as possible. Johnson's rule (1954) solves it.
//
// As a day: the first machine is the pad's well, which gives a gallon a minute
// into a tank that is empty at the opening; a job's load needs as many gallons
// as the first machine takes minutes. So a load starts no sooner than the well
// has given for all loads until it. The second machine is the bay: the load's dry
// product takes as many bags as the second machine takes minutes. Only overtime
// costs, so that a plan costs its makespan in dollars less [FlowShop.Free].
type FlowShop struct {
	First, Second []int // minutes of each job
}

// Day says the instance as a day.
func (f *FlowShop) Day() model.Input {
	in := bareDay()
	payMakespan(&in)
	in.Settings.Pad.BagSec = model.WholeDecimal(60)
	in.Settings.Pad.Water = &model.WaterSettings{CapacityGal: model.WholeDecimal(int64(total(f.First))), RefillGpm: model.One}
	addBays(&in, 1, 0)
	addBags(&in, "powder", 1)
	for j := range f.First {
		name := jobName(j)
		in.Mixes = append(in.Mixes, model.MixRow{Mix: name, GPA: model.WholeDecimal(int64(f.First[j]))})
		in.Recipes = append(in.Recipes, model.RecipeRow{
			Mix: name, Product: "powder", Rate: model.WholeDecimal(int64(f.Second[j])), Unit: "lb/ac",
		})
		addSprayer(&in, "sprayer "+name, mostTank, fastAcPerH)
		addJob(&in, name, "sprayer "+name, name, model.One)
	}
	return in
}

// Free is how much of a makespan a plan does not pay.
func (f *FlowShop) Free() int { return makespanFree }

// Value works out the makespan of a plan's order.
func (f *FlowShop) Value(plan *model.Plan) int { return f.Makespan(order(plan, 0)) }

// Makespan works out when the second machine is done with jobs in an order.
func (f *FlowShop) Makespan(order []int) int {
	first, second := 0, 0
	for _, j := range order {
		first += f.First[j]
		second = max(second, first) + f.Second[j]
	}
	return second
}

// NewFlowShop checks the times of an instance.
func NewFlowShop(first, second []int) (*FlowShop, error) {
	if len(first) != len(second) || len(first) == 0 {
		return nil, fmt.Errorf("%d times on the first machine and %d on the second; expected as many of each", len(first), len(second))
	}
	for j := range first {
		if min(first[j], second[j]) < 1 || max(first[j], second[j]) > mostGPA {
			return nil, fmt.Errorf("job %d takes %d and %d; expected 1 to %d", j+1, first[j], second[j], mostGPA)
		}
	}
	return &FlowShop{First: first, Second: second}, nil
}
