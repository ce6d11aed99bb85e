package planner_test

import (
	"flag"
	"testing"

	"github.com/stretchr/testify/require"

	"padturn/planner"
)

var familyEffort = flag.String("family.effort", "quick", "effort that BenchmarkSeeds plans with")

// BenchmarkSeeds plans days of the benchmark family, each with several seeds, and
// reports how far their plans are above the best known on average: what a change
// of the search must be judged by. The flags -family.days, -family.seeds and
// -family.effort say which, how often and how hard.
func BenchmarkSeeds(b *testing.B) {
	steps, err := planner.ParseEffort(*familyEffort)
	require.NoError(b, err)
	best := readBest(b)
	for _, d := range byName(familyDays(), isAskedFor) {
		b.Run(d.String(), func(b *testing.B) {
			p, seeds := d.problem(b, nil), seedsOf(b, *familySearch)
			for b.Loop() {
				above, left := 0.0, 0.0
				for _, seed := range seeds {
					r, err := planner.Plan(b.Context(), p, planner.Settings{Steps: steps, Seed: seed})
					require.NoError(b, err)
					left += r.Plan.Left.Float()
					above += 100 * (r.Plan.Cost.Total().Dollars()/best[d.String()].cost - 1)
				}
				n := float64(len(seeds))
				b.ReportMetric(above/n, "%above")
				b.ReportMetric(left/n, "undone")
			}
		})
	}
}
