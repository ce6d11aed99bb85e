package planner

import (
	"fmt"
	"strconv"
)

// Settings say how hard and how to search. The same problem and settings give
// the same plan on any number of cores, unless the search is interrupted.
type Settings struct {
	// Steps is how many candidates the search evaluates in all; 0 gives first
	// come, first served.
	Steps int64
	// Seed starts the random choices of the search.
	Seed uint64
	// KeepOrder keeps the jobs of each sprayer in file order.
	KeepOrder bool
	// Prove goes on after the steps until the best plan is proved, the search is
	// interrupted or memory ends.
	Prove bool
	// KeepTold keeps all that the crew was told of a day under way in its order:
	// only times follow what has happened.
	KeepTold bool
	// FromScratch plans the rest of a day under way as if nobody had been told
	// anything.
	FromScratch bool
	// Progress is told now and then where the search stands, by one goroutine at
	// a time; nil: nobody.
	Progress func(Progress)
}

// Progress is where a search stands.
type Progress struct {
	Steps, Of int64
	Left      float64 // Σ priority × acres left undone
	Dollars   float64 // cost of the best plan so far
	Proving   bool    // all steps are taken
	Bound     float64 // what no plan can cost less than, as far as is known yet; else 0
}

// Effort names for Steps.
const (
	QuickSteps  = 20_000
	NormalSteps = 300_000
	DeepSteps   = 2_000_000
)

// DefaultSettings returns normal effort and seed 1.
func DefaultSettings() Settings { return Settings{Steps: NormalSteps, Seed: 1} }

// ParseEffort reads an effort: quick, normal, deep or a number of steps.
func ParseEffort(s string) (int64, error) {
	switch s {
	case "quick":
		return QuickSteps, nil
	case "normal":
		return NormalSteps, nil
	case "deep":
		return DeepSteps, nil
	}
	n, err := strconv.ParseInt(s, 10, 64)
	if err != nil || n < 0 || n > 1_000_000_000_000 {
		return 0, fmt.Errorf("effort %q: expected quick, normal, deep or a number of search steps", s)
	}
	return n, nil
}
