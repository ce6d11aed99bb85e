package planner

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
)

// dryDay is plainDay with no water at hand and 10 gal a minute coming in. What a
// sprayer had before its first load of mix A asks for a cleanout of 30 min and
// 100 gal, for which the water is there 10 min after the first sprayer.
func dryDay() model.Input {
	in := plainDay()
	in.Settings.Pad.Water = &model.WaterSettings{CapacityGal: dec(1000), RefillGpm: dec(10)}
	in.Rules = []model.RuleRow{{Where: "sprayer", After: "B", Before: "A", Level: "full"}}
	in.Settings.Pad.Bays[0].Hooked = []string{"A"}
	for i := range in.Sprayers {
		in.Sprayers[i].LastMix = "mix B"
	}
	return in
}

// A dollar a minute: the cleanout costs 30, and what the sprayer waits for water
// before or after it is paid as well.
func TestWaitingForTheWaterOfACleanoutIsPaid(t *testing.T) {
	tests := []struct {
		name       string
		change     func(in *model.Input)
		wait, held model.Clock // minutes
		spans      []model.Span
	}{
		{"it waits before the cleanout", func(*model.Input) {}, 10, 0, []model.Span{
			{What: model.SpanWait, From: at(0), To: at(10)}, {What: model.SpanCleanout, From: at(10), To: at(40)},
		}},
		// 450 gal of carrier are there 45 min after the cleanout took the first 100.
		{"it waits before and after it", func(in *model.Input) { in.Jobs[0].Acres = dec(50) }, 25, 0, []model.Span{
			{What: model.SpanWait, From: at(0), To: at(10)}, {What: model.SpanCleanout, From: at(10), To: at(40)},
			{What: model.SpanWait, From: at(40), To: at(55)},
		}},
		{"it could have been clean at the opening", availableAt(-30), 10, 0, []model.Span{
			{What: model.SpanWait, From: at(-30), To: at(-20)}, {What: model.SpanCleanout, From: at(-20), To: at(10)},
		}},
		{"the opening costs half of the wait anyway", availableAt(-35), 5, 5, []model.Span{
			{What: model.SpanHeld, From: at(-35), To: at(-30)}, {What: model.SpanWait, From: at(-30), To: at(-25)},
			{What: model.SpanCleanout, From: at(-25), To: at(5)},
		}},
		{"it is clean before the opening in spite of the wait", availableAt(-45), 0, 15, []model.Span{
			{What: model.SpanHeld, From: at(-45), To: at(-35)}, {What: model.SpanCleanout, From: at(-35), To: at(-5)},
			{What: model.SpanHeld, From: at(-5), To: at(0)},
		}},
		// It rains until 08:00. Sprayed out at 08:30, it may be filled from 07:30 on,
		// an hour after it could have been clean.
		{"its tank life costs more than the wait", func(in *model.Input) {
			in.Products[0].TankLifeH = model.Some(dec(1))
			in.Holds = []model.HoldRow{{From: at(30), To: at(120)}}
		}, 0, 60, []model.Span{
			{What: model.SpanHeld, From: at(0), To: at(10)}, {What: model.SpanCleanout, From: at(10), To: at(40)},
			{What: model.SpanHeld, From: at(40), To: at(90)},
		}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			in := dryDay()
			addJob(&in, "J1", "S1", "mix A", 30)
			tt.change(&in)
			plan := evaluateInFileOrder(t, problem(t, in), Slot{0, 0})
			require.Len(t, plan.Loads, 1)
			assert.Equal(t, model.Seconds(tt.wait*minute), plan.Loads[0].Wait)
			assert.Equal(t, model.Seconds(tt.held*minute), plan.Loads[0].Held)
			assert.InDelta(t, float64(tt.wait), plan.Cost.Money[model.CostWait].Dollars(), 1e-9)
			assert.InDelta(t, float64(tt.wait+30), plan.Cost.Total().Dollars(), 1e-9)
			assert.Equal(t, tt.spans, plan.Spans[:len(tt.spans)])
			assert.Equal(t, model.SpanFill, plan.Spans[len(tt.spans)].What)
		})
	}
}

// availableAt has S1 at the pad at a minute after the opening.
func availableAt(minutes model.Clock) func(in *model.Input) {
	return func(in *model.Input) { in.Sprayers[0].AvailableFrom = model.Some(at(minutes)) }
}

// TestCleanoutsAreInTheBoundOfFirstFills has two sprayers come at once, to be
// cleaned both. With water enough or without, one of them stands for the 3.7 min
// that the other's 270 gal of carrier take.
func TestCleanoutsAreInTheBoundOfFirstFills(t *testing.T) {
	in := dryDay()
	addJob(&in, "J1", "S1", "mix A", 30)
	addJob(&in, "J2", "S2", "mix A", 30)
	p := problem(t, in)
	assert.InDelta(t, 3.7, newInstance(p).lowerBound().Dollars(), 1e-9)
	// Two cleanouts and a load take 470 gal, the other load 270 more.
	plan := evaluateInFileOrder(t, p, Slot{0, 0}, Slot{1, 0})
	assert.Equal(t, []model.Clock{at(20 + 27), at(74)}, []model.Clock{plan.Loads[0].Start, plan.Loads[1].Start})
	assert.InDelta(t, 30+30+47-30+74-30, plan.Cost.Total().Dollars(), 1e-9)
}
