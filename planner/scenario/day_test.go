package scenario

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/model"
)

func TestDaysAreAsLargeAndCrowdedAsAsked(t *testing.T) {
	shapes := append(Sizes(), Huge, Shape{4, 60, 1}, Shape{6, 60, 1}, Shape{6, 48, 2}, Shape{8, 80, 2})
	for _, shape := range shapes {
		for _, crowding := range Crowdings() {
			t.Run(shape.String()+" "+crowding.String(), func(t *testing.T) {
				in := shape.Day(crowding, 1)
				p, _ := model.NewProblem(in)
				assert.Len(t, p.Sprayers, shape.Sprayers)
				assert.Len(t, p.Bays, shape.Bays)
				loads, busy, turn := 0.0, 0.0, 0.0
				for i, j := range p.Jobs {
					for _, l := range p.RunLoads(max(j.Sprayer, 0), []int{i}) {
						loads++
						busy += l.Fill[0].Hours()
						turn += (l.Fill[0] + l.DriveOut + l.Parts[0].Spray + l.DriveBack).Hours()
					}
				}
				assert.InDelta(t, shape.Loads, loads, 0)
				offered := busy * float64(shape.Sprayers) / float64(shape.Bays) / turn
				assert.InEpsilon(t, float64(crowding), offered, 0.1, "share of the bays' time")
				assert.Less(t, turn/float64(shape.Sprayers), 10.5, "hours of work of a sprayer")
			})
		}
	}
}

func TestSameSeedGivesTheSameDay(t *testing.T) {
	assert.Equal(t, Middle.Day(Busy, 7), Middle.Day(Busy, 7))
	assert.NotEqual(t, Middle.Day(Busy, 7).Jobs, Middle.Day(Busy, 8).Jobs)
}

// The days of a shape differ only in their paces from one crowding to another.
func TestCrowdingChangesOnlyThePace(t *testing.T) {
	quiet, crowded := Small.Day(Quiet, 3), Small.Day(Crowded, 3)
	assert.Equal(t, quiet.Jobs, crowded.Jobs)
	assert.Equal(t, quiet.Stock, crowded.Stock)
	assert.Less(t, quiet.Settings.Pad.HookupMin, crowded.Settings.Pad.HookupMin)
}
