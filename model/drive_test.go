package model_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/model"
)

func TestDriveFromPad(t *testing.T) {
	for _, row := range []struct {
		name               string
		driveMin           string
		padLat, lat        float64
		padLon, lon, speed string
		want               model.Seconds
	}{
		{"given", "12.5", 0, 0, "", "", "", 750},
		{"rounded up once", "0.001", 0, 0, "", "", "", 1},
		{"no way at all", "0", 0, 0, "", "", "", 0},
		// One degree of a great circle of 3958.7613 mi is 69.09342 mi; × 1.3 at
		// 60 mph is 89.82144 min, or 5389.29 s.
		{"a degree north", "", 40, 41, "-93", "-93", "60", 5390},
		{"a degree along the equator", "", 0, 0, "-93", "-94", "60", 5390},
		{"across the date line", "", 0, 0, "179.5", "-179.5", "60", 5390},
		{"default speed of 25 mph", "", 40, 41, "-93", "-93", "", 12_935}, // × 60 / 25
		{"at the pad", "", 40, 40, "-93", "-93", "60", 0},
		{"given wins over places", "10", 40, 41, "-93", "-93", "60", 600},
	} {
		t.Run(row.name, func(t *testing.T) {
			in := smallDay()
			j, pad := &in.Jobs[0], &in.Settings.Pad
			j.DriveMin = nil
			if row.driveMin != "" {
				j.DriveMin = some(row.driveMin)
			}
			if row.lon != "" {
				pad.Lat, pad.Lon = &row.padLat, model.Some(dec(row.padLon).Float())
				j.Lat, j.Lon = &row.lat, model.Some(dec(row.lon).Float())
			}
			if row.speed != "" {
				in.Sprayers[0].RoadMph = some(row.speed)
			}
			assert.Equal(t, row.want, sound(t, in).DriveFromPad(0, 0))
		})
	}
}

// neighbours is the small day with a second job of the same kind.
func neighbours() model.Input {
	in := smallDay()
	second := in.Jobs[0]
	second.Job, second.Field, second.DriveMin = "J2", "south", some("9")
	in.Jobs = append(in.Jobs, second)
	in.Settings.Pad.BetweenMin = some("4")
	return in
}

func TestMayShare(t *testing.T) {
	soybean := []model.RuleRow{{Where: "sprayer", After: "atrazine", Before: "crop:soybean", Level: "agent cleanout"}}
	for _, row := range []struct {
		name string
		edit func(*model.Input)
		want bool
	}{
		{"neighbours", func(*model.Input) {}, true},
		{"another mix", func(in *model.Input) {
			in.Mixes = append(in.Mixes, model.MixRow{Mix: "other", GPA: dec("15")})
			in.Jobs[1].Mix = "other"
		}, false},
		{"another volume rate", func(in *model.Input) { in.Jobs[1].GPA = some("14.999999999") }, false},
		{"the same volume rate, given", func(in *model.Input) { in.Jobs[1].GPA = some("15") }, true},
		{"just near enough", func(in *model.Input) { in.Settings.Pad.BetweenMin = some("15") }, true},
		{"just too far", func(in *model.Input) { in.Settings.Pad.BetweenMin = some("15.000000001") }, false},
		{"through the pad is too far", func(in *model.Input) { in.Settings.Pad.BetweenMin = nil }, false},
		{"through the pad is near", func(in *model.Input) {
			in.Settings.Pad.BetweenMin = some("60")
			in.Jobs[0].DriveMin, in.Jobs[1].DriveMin = some("7"), some("8")
		}, true},
		{"places beat between_min", func(in *model.Input) {
			in.Jobs[0].Lat, in.Jobs[0].Lon = model.Some(40.0), model.Some(-93.0)
			in.Jobs[1].Lat, in.Jobs[1].Lon = model.Some(41.0), model.Some(-93.0)
		}, false},
		{"another crop, no rule", func(in *model.Input) { in.Jobs[1].Crop = "soybean" }, true},
		{"another crop that a rule is about", func(in *model.Input) { in.Jobs[1].Crop, in.Rules = "soybean", soybean }, false},
		{"another crop, the first is the rule's", func(in *model.Input) { in.Jobs[0].Crop, in.Rules = "soybean", soybean }, false},
		{"blank is a crop of its own", func(in *model.Input) { in.Jobs[0].Crop, in.Jobs[1].Crop, in.Rules = "soybean", "", soybean }, false},
		{"rule about a third crop", func(in *model.Input) { in.Jobs[1].Crop, in.Rules = "wheat", soybean }, true},
		{"both of the rule's crop", func(in *model.Input) {
			in.Jobs[0].Crop, in.Jobs[1].Crop, in.Rules = "soybean", "soybean", soybean
		}, true},
	} {
		t.Run(row.name, func(t *testing.T) {
			in := neighbours()
			row.edit(&in)
			p := sound(t, in)
			assert.Equal(t, row.want, p.MayShare(0, 0, 1))
			assert.Equal(t, row.want, p.MayShare(0, 1, 0), "the other way round")
		})
	}
}
