package scenario_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner/scenario"
)

// TestDayIsAsBigAndCrowdedAsItSays counts sprayers, bays and loads of each day
// of the family, and measures how busy its bays would be without waiting.
func TestDayIsAsBigAndCrowdedAsItSays(t *testing.T) {
	sprayers := map[scenario.Size]int{scenario.Small: 3, scenario.Middle: 7, scenario.Large: 15, scenario.Largest: 40}
	loads := map[scenario.Size]int{scenario.Small: 20, scenario.Middle: 60, scenario.Large: 150, scenario.Largest: 400}
	for _, size := range scenario.Sizes() {
		for _, crowding := range scenario.Crowdings() {
			t.Run(fmt.Sprint(size, " ", crowding), func(t *testing.T) {
				for seed := range uint64(2) {
					p, report := model.NewProblem(scenario.Day(size, crowding, seed))
					require.Empty(t, report.Errors)
					assert.Empty(t, report.Warnings)
					assert.Len(t, p.Sprayers, sprayers[size])
					count, utilisation := crowd(p)
					assert.Equal(t, loads[size], count)
					assert.InDelta(t, crowding.Utilisation(), utilisation, 0.07)
				}
			})
		}
	}
}

// crowd returns the loads of a day, each job alone, and sprayers × filling ÷
// (bays × turn) on average.
func crowd(p *model.Problem) (loads int, utilisation float64) {
	var fill, away model.Seconds
	for i, j := range p.Jobs {
		for _, l := range p.RunLoads(max(j.Sprayer, 0), []int{i}) {
			loads++
			fill += l.Fill[0]
			away += l.DriveOut + l.DriveBack
			for _, part := range l.Parts {
				away += part.Spray
			}
		}
	}
	return loads, float64(len(p.Sprayers)) * float64(fill) / float64(fill+away) / float64(len(p.Bays))
}

func TestHugeDayIsSound(t *testing.T) {
	p, report := model.NewProblem(scenario.Day(scenario.Huge, scenario.Busy, 1))
	require.Empty(t, report.Errors)
	loads, _ := crowd(p)
	assert.Len(t, p.Sprayers, 100)
	assert.Len(t, p.Bays, 10)
	assert.Equal(t, 1000, loads)
}

func TestSameSeedSameDay(t *testing.T) {
	for _, seed := range []uint64{1, 2} {
		assert.Equal(t, scenario.Day(scenario.Middle, scenario.Busy, seed), scenario.Day(scenario.Middle, scenario.Busy, seed))
	}
	assert.NotEqual(t, scenario.Day(scenario.Middle, scenario.Busy, 1), scenario.Day(scenario.Middle, scenario.Busy, 2))
}
