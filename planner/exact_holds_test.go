package planner

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/model"
	"padturn/planner/scenario"
)

// TestBoundsInShowersAreBelowAllSequences bounds small days with holds on which loads
// start later than the model has them, for water that is short and totes on two bays:
// no order of the loads on the bays costs less.
func TestBoundsInShowersAreBelowAllSequences(t *testing.T) {
	compared, days := 0, uint64(400)
	if testing.Short() {
		days = 12
	}
	for seed := range days {
		rng := rand.New(rand.NewPCG(seed, 7))
		bays := 1 + int(seed%2)
		in := modelledDay(t, scenario.Shape{Sprayers: 3, Loads: 7 - bays, Bays: bays}, scenario.Crowded, seed, func(in *model.Input) {
			in.Holds = showers(rng, in)
			in.Settings.Pad.Water = &model.WaterSettings{OnHandGal: model.WholeDecimal(1500), CapacityGal: model.WholeDecimal(3000),
				RefillGpm: model.WholeDecimal(15 + rng.Int64N(30))}
			in.Jobs = slices.DeleteFunc(in.Jobs, func(j model.JobRow) bool { return j.Sprayer == "" })
		})
		p := newProver(newWorkshop(in), forBounds, scope{inOrder: true}, noWay/8, 2)
		if p == nil {
			continue
		}
		e := newEvaluator(in)
		for !p.done {
			if steps := p.pass(t.Context(), 1<<40); steps != nil {
				d := p.decisions(steps)
				if s := e.evaluate(e.candidateOf(&d)); s.left == 0 {
					p.lower(s.cost)
				}
			}
		}
		least := leastOfSequences(e, bays)
		if least == noWay {
			continue
		}
		compared++
		assert.LessOrEqual(t, p.bound, least, "seed %d", seed)
	}
	assert.Greater(t, compared, int(days)/2)
}

// leastOfSequences evaluates all orders of loads on the bays, with each job in file
// order and by itself, and returns the least cost of those that spray everything.
func leastOfSequences(e *evaluator, bays int) model.Money {
	d := Decisions{Routes: make([][]Run, len(e.in.p.Sprayers))}
	left := make([]int, len(e.in.p.Sprayers))
	for i, j := range e.in.p.Jobs {
		d.Routes[j.Sprayer] = append(d.Routes[j.Sprayer], Run{i})
		left[j.Sprayer] += len(e.shop.loads(j.Sprayer, Run{i}))
	}
	least := noWay
	var visit func()
	visit = func() {
		isDone := true
		for s := range left {
			if left[s] == 0 {
				continue
			}
			isDone = false
			left[s]--
			for b := range bays {
				d.Sequence = append(d.Sequence, Slot{s, b})
				visit()
				d.Sequence = d.Sequence[:len(d.Sequence)-1]
			}
			left[s]++
		}
		if isDone {
			if s := e.score(e.candidateOf(&d)); s.left == 0 {
				least = min(least, s.cost)
			}
		}
	}
	visit()
	return least
}
