package planner

import (
	"context"
	"fmt"
	"testing"
	"time"

	"padturn/io/dayfiles"
)

func TestSmoke(t *testing.T) {
	for _, name := range []string{"small", "spring-rush", "short-stock"} {
		day, err := dayfiles.Read("../examples/" + name)
		if err != nil {
			t.Fatal(err)
		}
		p := day.Problem
		for _, steps := range []int64{QuickSteps, NormalSteps} {
			for seed := uint64(1); seed < 5; seed++ {
				t0 := time.Now()
				r, err := Plan(context.Background(), p, Settings{Steps: steps, Seed: seed})
				if err != nil {
					t.Fatal(err)
				}
				fmt.Println(name, steps, time.Since(t0), len(r.Plan.Loads), r.Baseline.Left, r.Baseline.Cost.Total().Dollars(), "->", r.Plan.Left, r.Plan.Cost.Total().Dollars())
			}
		}
	}
}

func BenchmarkEvaluate(b *testing.B) {
	for _, name := range []string{"small", "spring-rush"} {
		day, _ := dayfiles.Read("../examples/" + name)
		e := newEvaluator(newInstance(day.Problem))
		c := e.firstCome()
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				e.evaluate(c)
			}
		})
	}
}
