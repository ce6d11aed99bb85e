package model

// CostPart names a part of a plan's cost.
type CostPart int

// The parts of a plan's cost, in the order of the files.
const (
	CostWait       CostPart = iota // paid wait, hours
	CostCleanout                   // cleanouts, hours
	CostAnySprayer                 // driving and spraying of any-sprayer jobs, hours
	CostRinse                      // rinses, crew hours
	CostRinsate                    // rinse and cleanout water, gallons
	CostChangeover                 // changeovers, count
	CostLate                       // lateness × priority, hours
	CostOvertime                   // latest load end after closing, hours
	CostTimeliness                 // acres × priority × hours from the opening until sprayed
	NumCostParts
)

var costNames = [NumCostParts]string{
	"wait", "cleanout", "any_sprayer", "rinse", "rinsate", "changeover", "late", "overtime", "timeliness",
}

var costUnits = [NumCostParts]string{"h", "h", "h", "h", "gal", "count", "priority h", "h", "priority ac h"}

// String returns the part's name as cost.csv has it.
func (c CostPart) String() string { return costNames[c] }

// Unit returns what the part's amount counts.
func (c CostPart) Unit() string { return costUnits[c] }

// Cost is what a plan costs, part by part.
type Cost struct {
	Amount [NumCostParts]Decimal // in the part's unit
	Money  [NumCostParts]Money
}

// Total is the sum of the parts.
func (c *Cost) Total() Money {
	var sum Money
	for _, m := range c.Money {
		sum += m
	}
	return sum
}

// Status says how a search ended.
type Status string

// How a search ended.
const (
	StatusProved      Status = "proved"      // proved best possible under these inputs
	StatusBounded     Status = "bounded"     // best found; the bound says how far off it can be
	StatusInterrupted Status = "interrupted" // best found when the user stopped it
)

// Result is the answer of a search.
type Result struct {
	Plan     *Plan
	Baseline *Plan // first come, first served
	// Bound is a sum that no plan leaving as little undone as this one can go
	// below.
	Bound Money
	// Unavoidable is what every plan that sprays everything pays, whatever the
	// order; 0 where this plan does not. It is part of Bound.
	Unavoidable Money
	Status      Status
	// Steps is how many search steps were asked for; an interrupted search has
	// taken fewer.
	Steps int64
	Seed  uint64
	// KeepOrder says that only plans were looked at, and bounded, that keep each
	// sprayer's jobs in file order.
	KeepOrder bool
	// Effort as it was asked for: quick, normal, deep or a number of steps.
	Effort string
}

// Gap returns how far above the best possible the plan can be, in money and as
// a share of the plan's cost.
func (r *Result) Gap() (Money, float64) {
	total := r.Plan.Cost.Total()
	gap := max(total-r.Bound, 0)
	if total == 0 {
		return gap, 0
	}
	return gap, float64(gap) / float64(total)
}

// Violation is a breach of a rule found in a plan.
type Violation struct {
	Rule  string // R1 to R12, cost, or files
	Where string // load, bay, sprayer or file and line
	What  string
}
