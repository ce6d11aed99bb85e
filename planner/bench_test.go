package planner

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner/scenario"
)

// BenchmarkEvaluate times one candidate, as the search evaluates it: the first
// plan of generated days.
func BenchmarkEvaluate(b *testing.B) {
	for _, shape := range []scenario.Shape{scenario.Small, scenario.Middle, scenario.Vast} {
		b.Run(fmt.Sprintf("%d-loads", shape.Loads), func(b *testing.B) {
			e := newEvaluator(newInstance(generated(b, shape)))
			c := e.firstCome()
			b.ReportAllocs()
			for b.Loop() {
				e.evaluate(c)
			}
		})
	}
}

// BenchmarkDispatch times laying out the loads of given jobs anew, which is most of a
// step of the search for routes.
func BenchmarkDispatch(b *testing.B) {
	for _, shape := range []scenario.Shape{scenario.Small, scenario.Middle, scenario.Vast} {
		b.Run(fmt.Sprintf("%d-loads", shape.Loads), func(b *testing.B) {
			e := newEvaluator(newInstance(generated(b, shape)))
			c, d := e.firstCome(), dispatcher{e: e}
			b.ReportAllocs()
			for b.Loop() {
				d.dispatch(c)
			}
		})
	}
}

// BenchmarkRedispatch times laying out some of the loads of a plan anew.
func BenchmarkRedispatch(b *testing.B) {
	for _, shape := range []scenario.Shape{scenario.Middle, scenario.Vast} {
		b.Run(fmt.Sprintf("%d-loads", shape.Loads), func(b *testing.B) {
			in := newInstance(generated(b, shape))
			w := newWalker(in, rand.New(rand.NewPCG(1, 2)), moveSet{}, &tracker{})
			w.current.copyFrom(w.e.firstCome())
			b.ReportAllocs()
			for b.Loop() {
				w.trial.copyFrom(w.current)
				w.redispatch(w.trial)
			}
		})
	}
}

// BenchmarkPlan times whole searches and reports what they reach.
func BenchmarkPlan(b *testing.B) {
	for _, shape := range []scenario.Shape{scenario.Small, scenario.Middle} {
		p := generated(b, shape)
		b.Run(fmt.Sprintf("%d-loads", shape.Loads), func(b *testing.B) {
			for b.Loop() {
				r, err := Plan(b.Context(), p, Settings{Steps: QuickSteps, Seed: 1})
				require.NoError(b, err)
				require.Zero(b, r.Plan.Left)
				b.ReportMetric(r.Plan.Cost.Total().Dollars(), "dollars")
			}
		})
	}
}

// BenchmarkFirstPlan times the two plans that there are first: first come, first
// served, and a beam of one plan that serves who is back first.
func BenchmarkFirstPlan(b *testing.B) {
	for _, shape := range []scenario.Shape{scenario.Middle, scenario.Vast, scenario.Huge} {
		in := newInstance(generated(b, shape))
		b.Run(fmt.Sprintf("%d-loads/first-come", shape.Loads), func(b *testing.B) {
			for b.Loop() {
				newEvaluator(in).firstCome()
			}
		})
		b.Run(fmt.Sprintf("%d-loads/beam", shape.Loads), func(b *testing.B) {
			for b.Loop() {
				newBeam(newEvaluator(in), 1, beamPlans[0]).search(b.Context())
			}
		})
	}
}

// BenchmarkReplan plans the rest of a 70-load day from mid-morning, after news of
// a shower: in the told order, which is the first plan there is, and searched.
func BenchmarkReplan(b *testing.B) {
	shape := scenario.Shape{Sprayers: 8, Loads: 70, Bays: 2}
	in := shape.Day(scenario.Busy, 1)
	p := problem(b, in)
	whole, err := Plan(b.Context(), p, Settings{Steps: QuickSteps, Seed: 1})
	require.NoError(b, err)
	at := model.Clock(9 * 3600)
	rest := split(b, in, p, whole.Plan, at)
	tell(p, whole.Plan, at, &rest)
	rest.Holds = append(rest.Holds, model.HoldRow{From: at + 600, To: at + 2*3600, Kind: "rain"})
	q := problem(b, rest)
	for _, way := range []struct {
		name     string
		settings Settings
	}{{"first", Settings{KeepTold: true}}, {"quick", Settings{Steps: QuickSteps, Seed: 1}}} {
		b.Run(way.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := Plan(b.Context(), q, way.settings); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
