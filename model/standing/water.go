package standing

import (
	"math/big"

	"padturn/model"
)

// waterTank is the pad's water and rinsate.
type waterTank struct {
	limited  bool
	level    *big.Rat // gal at the moment since
	since    model.Clock
	capacity *big.Rat
	perSec   *big.Rat
	rinsate  model.Decimal
}

// waterAtOpening is the water that day.yaml gives: what is there at the opening,
// or when the first sprayer is available if that is earlier.
func (s *Standing) waterAtOpening() waterTank {
	w := s.Problem.Settings.Pad.Water
	if w == nil {
		return waterTank{}
	}
	from := s.Problem.Settings.Pad.Opens
	for i := range s.Problem.Sprayers {
		from = min(from, s.Problem.Sprayers[i].AvailableFrom)
	}
	return waterTank{
		limited: true, level: w.OnHandGal.Rat(), since: from, capacity: w.CapacityGal.Rat(),
		perSec: new(big.Rat).Quo(w.RefillGpm.Rat(), big.NewRat(60, 1)),
	}
}

// at returns the level at t, refilled since the last draw.
func (w *waterTank) at(t model.Clock) *big.Rat {
	elapsed := big.NewRat(int64(max(t-w.since, 0)), 1)
	level := elapsed.Add(elapsed.Mul(elapsed, w.perSec), w.level)
	if level.Cmp(w.capacity) > 0 {
		level.Set(w.capacity)
	}
	return level
}

// draw takes water at t; there is never less than none.
func (w *waterTank) draw(t model.Clock, gal model.Decimal) {
	if !w.limited {
		return
	}
	level := w.at(t)
	level.Sub(level, gal.Rat())
	if level.Sign() < 0 {
		level.SetInt64(0)
	}
	w.level, w.since = level, max(t, w.since)
}

// draw takes the water of a rinse or cleanout, which becomes rinsate.
func (p *pad) draw(at model.Clock, level string, levels []model.LevelSettings) {
	for _, l := range levels {
		if l.Name == level {
			p.water.draw(at, l.Gal)
			p.water.rinsate += l.Gal
		}
	}
}

// cleanouts lists the cleanouts that were begun.
func (p *pad) cleanouts(list []action) []action {
	for i := range p.s.Loads {
		l := &p.s.Loads[i]
		if l.Told.Cleanout != "" && p.s.cleaned(l) {
			at := l.CleanoutFrom
			list = append(list, action{at: at, rank: 2, do: func() { p.draw(at, l.Told.Cleanout, p.s.Problem.Settings.CleanoutLevels) }})
		}
	}
	return list
}

// cleaned says whether the cleanout before a load was begun: of one that has
// begun, and of the sprayer's next one where its time has come.
func (s *Standing) cleaned(l *Load) bool {
	if l.Begun {
		return true
	}
	next := s.nextOf(l.Told.Sprayer)
	return next == l && l.CleanoutFrom < s.At
}

// nextOf is the first load of a sprayer that has not begun, or nil.
func (s *Standing) nextOf(sprayer string) *Load {
	for i := range s.Loads {
		if l := &s.Loads[i]; l.Told.Sprayer == sprayer && !l.Begun && l.State != Dropped {
			return l
		}
	}
	return nil
}
