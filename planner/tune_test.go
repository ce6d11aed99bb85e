package planner

import (
	"fmt"
	"testing"
)

func TestTune(t *testing.T) {
	for _, name := range []string{"short-stock", "spring-rush", "small"} {
		p := example(t, name)
		in := newInstance(p)
		_ = in
		for _, cfg := range tuneConfigs {
			cfg.set()
			sum, left := 0.0, 0.0
			fmt.Print(name, " ", cfg.name)
			for seed := uint64(1); seed <= 8; seed++ {
				r, _ := Plan(t.Context(), p, Settings{Steps: 200000, Seed: seed})
				sum += r.Plan.Cost.Total().Dollars()
				left += r.Plan.Left.Float()
				fmt.Printf(" %.1f/%.0f", r.Plan.Left.Float(), r.Plan.Cost.Total().Dollars())
			}
			fmt.Printf("  mean %.1f %.1f\n", left/5, sum/5)
		}
	}
}

var tuneConfigs = []struct {
	name string
	set  func()
}{
	{"leave", func() {}},
}
