package model_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/model"
)

// TestDefaultsAreCommonPractice holds the defaults against what is common
// practice on pads; no source is printed for any of these bounds.
func TestDefaultsAreCommonPractice(t *testing.T) {
	s := model.DefaultSettings()
	pad := s.Pad
	between := func(what string, value model.Decimal, least, most string) {
		t.Helper()
		assert.GreaterOrEqual(t, value, dec(least), what)
		assert.LessOrEqual(t, value, dec(most), what)
	}
	between("a jug with air help drains in about 2 s, and must be opened and rinsed too", pad.JugSec, "2", "120")
	between("a bag takes no less than a jug drains", pad.BagSec, "2", "180")
	between("three tote connections and one for water", model.WholeDecimal(int64(pad.Bays[0].Connections)), "3", "3")
	between("carrier through a 3-inch meter, overall", pad.CarrierGpm, "100", "350")
	between("totes are pumped more slowly than carrier runs", pad.MeterGpm, "6", "40")
	// Water runs through a hopper in continuous use at about 25 gal/min and
	// carries dry product along: more than 25 gal of water is 209 lb, and no
	// hopper takes its water's weight.
	between("a hopper in continuous use", pad.HopperLbPerMin, "10", "209")
	between("hook up and unhook", pad.HookupMin+pad.UnhookMin, "3", "8")
	between("changeover", pad.ChangeoverMin, "4", "15")
	between("carrier to start with, a third to three quarters", pad.CarrierFirst, "0.333333333", "0.75")
	assert.Equal(t, []string{model.Water}, pad.Bays[0].Carriers)

	// A pressurised rinse supply gives about 25 gal/min: no rinse can use more
	// than that in its time, and so for pushing through what was metered.
	for _, l := range s.RinseLevels {
		between("rinse "+l.Name, l.Gal, "1", (l.Min * 25).String())
	}
	between("push", pad.PushGal, "1", (pad.PushMin * 25).String())
}

func TestDefaultsGetHeavier(t *testing.T) {
	s := model.DefaultSettings()
	for _, levels := range [][]model.LevelSettings{s.RinseLevels, s.CleanoutLevels} {
		for i := 1; i < len(levels); i++ {
			assert.Greater(t, levels[i].Min, levels[i-1].Min)
			assert.Greater(t, levels[i].Gal, levels[i-1].Gal)
		}
	}
	assert.Less(t, s.SprayFrom, s.SprayUntil)
	assert.Less(t, s.Pad.Opens, s.Pad.Closes)
	assert.Equal(t, s.Costs.CrewPerH*3/2, s.Costs.OvertimePerH, "time and a half")
}

func TestDefaultsAreSound(t *testing.T) {
	_, report := model.NewProblem(smallDay())
	assert.True(t, report.OK())
	assert.Empty(t, report.Warnings)
}

func TestDefaultsAreNotShared(t *testing.T) {
	model.DefaultSettings().Pad.Bays[0].Carriers[0] = "uan"
	model.DefaultSettings().RinseLevels[0].Name = "x"
	assert.Equal(t, model.Water, model.DefaultSettings().Pad.Bays[0].Carriers[0])
	assert.Equal(t, "flush", model.DefaultSettings().RinseLevels[0].Name)
}
