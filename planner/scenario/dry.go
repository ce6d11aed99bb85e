package scenario

import "padturn/model"

// DryPad makes water short on a day, and has sprayers cleaned out for every other
// mix, so that cleanouts wait for their water.
func DryPad(in *model.Input) {
	full := len(in.Settings.CleanoutLevels) - 1
	in.Settings.CleanoutLevels = append([]model.LevelSettings(nil), in.Settings.CleanoutLevels...)
	level := &in.Settings.CleanoutLevels[full]
	level.Gal = max(level.Gal, model.WholeDecimal(100))
	in.Rules = append([]model.RuleRow{{Where: "sprayer", After: "*", Before: "*", Level: level.Name}}, in.Rules...)
	in.Settings.Pad.Water = &model.WaterSettings{
		OnHandGal: model.WholeDecimal(50), CapacityGal: model.WholeDecimal(2000), RefillGpm: model.WholeDecimal(40),
	}
}
