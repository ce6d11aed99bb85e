package audit

import (
	"math/big"
	"slices"

	"padturn/model"
)

// level returns the place of a level in a list, lightest first, or -1.
func level(list []model.LevelSettings, name string) int {
	return slices.IndexFunc(list, func(l model.LevelSettings) bool { return l.Name == name })
}

// levelName is the inverse of level; no level is blank.
func levelName(list []model.LevelSettings, i int) string {
	if i < 0 {
		return ""
	}
	return list[i].Name
}

func (d *day) cleanoutTime(i int) model.Clock { return levelTime(d.set.CleanoutLevels, i) }

func (d *day) rinseTime(i int) model.Clock { return levelTime(d.set.RinseLevels, i) }

func levelTime(list []model.LevelSettings, i int) model.Clock {
	if i < 0 {
		return 0
	}
	return minutes(list[i].Min.Rat())
}

func levelGallons(list []model.LevelSettings, i int) *big.Rat {
	if i < 0 {
		return new(big.Rat)
	}
	return list[i].Gal.Rat()
}
