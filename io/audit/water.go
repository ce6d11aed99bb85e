package audit

import (
	"cmp"
	"math/big"
	"slices"

	"padturn/model"
)

// waterEvent is water that is used: by a load, a rinse or a cleanout.
type waterEvent struct {
	at      model.Clock
	name    string // as water.csv has it
	use     *big.Rat
	rinsate bool
	after   tank // where the day sets water
	seen    bool // a row of water.csv has it
}

// listWater lists all water used, by time, and what it leaves.
func (a *audit) listWater() {
	for _, l := range a.loads {
		if l.cleanout >= 0 {
			gallons := levelGallons(a.d.set.CleanoutLevels, l.cleanout)
			a.water = append(a.water, &waterEvent{at: l.cleanFrom, name: "cleanout " + l.id, use: gallons, rinsate: true})
		}
		if l.rinse >= 0 {
			gallons := levelGallons(a.d.set.RinseLevels, l.rinse)
			a.water = append(a.water, &waterEvent{at: l.setupStart, name: "rinse " + l.id, use: gallons, rinsate: true})
		}
		if l.mix.carrier == model.Water {
			a.water = append(a.water, &waterEvent{at: l.start, name: "load " + l.id, use: l.carrier})
		}
	}
	slices.SortStableFunc(a.water, func(x, y *waterEvent) int { return cmp.Compare(x.at, y.at) })
	if a.d.set.Pad.Water == nil {
		return
	}
	now := a.openTank()
	for _, e := range a.water {
		now.take(e)
		e.after = now
	}
}

// tank is the pad's water at a moment.
type tank struct {
	set   *model.WaterSettings
	at    model.Clock
	level *big.Rat
}

// openTank returns the water as the day opens. The refill counts from the
// moment that water.csv gives the opening.
func (a *audit) openTank() tank {
	set := a.d.set.Pad.Water
	t := tank{set, a.d.set.Pad.Opens, set.OnHandGal.Rat()}
	if u := a.d.begun; u != nil {
		t.at = u.At
		if u.Water != nil {
			t.level = u.Water
		}
		return t
	}
	for _, r := range a.waterRows {
		if r.event == "opening" {
			t.at = r.at
			break
		}
	}
	return t
}

// take lets the refill run until something is used, and takes it out.
func (t *tank) take(e *waterEvent) {
	if e.at > t.at {
		come := quo(mul(t.set.RefillGpm.Rat(), whole(int64(e.at-t.at))), whole(60))
		t.level = smaller(add(t.level, come), larger(t.level, t.set.CapacityGal.Rat()))
		t.at = e.at
	}
	t.level = sub(t.level, e.use)
}

// reaches returns when so much is there if nothing more is used.
func (t tank) reaches(need *big.Rat) model.Clock {
	lack := sub(sub(need, enough), t.level)
	gpm := t.set.RefillGpm.Rat()
	switch {
	case lack.Sign() <= 0:
		return t.at
	case gpm.Sign() <= 0 || less(add(t.set.CapacityGal.Rat(), enough), need):
		return model.Never
	}
	return t.at + minutes(quo(lack, gpm))
}

// waterFrom returns the earliest moment from t on from which, until the water
// was really used, there was always so much.
func (a *audit) waterFrom(t, used model.Clock, need *big.Rat) model.Clock {
	if a.d.set.Pad.Water == nil {
		return t
	}
	now := a.openTank()
	for _, e := range a.water {
		if e.at >= used {
			break
		}
		t = max(t, min(now.reaches(need), max(e.at, now.at)))
		now = e.after
	}
	return max(t, now.reaches(need))
}

// checkWater works out the water and the rinsate again and compares water.csv
// with it, in the order of its rows.
func (a *audit) checkWater() {
	rinsate := new(big.Rat)
	if a.d.begun != nil {
		rinsate = a.d.begun.Rinsate.Rat()
	}
	var now *tank
	if a.d.set.Pad.Water != nil {
		opening := a.openTank()
		now = &opening
	}
	for i, r := range a.waterRows {
		if r.event == "opening" {
			a.checkWaterOpening(i, r)
		} else if e := a.takeWater(r); e != nil {
			if e.rinsate {
				rinsate = add(rinsate, e.use)
			}
			a.useWater(now, e)
		} else {
			continue
		}
		a.checkWaterRow(r, now, rinsate)
	}
	for _, e := range a.water {
		if !e.seen && (now != nil || e.rinsate) {
			a.breach("R10", "water.csv", "has no row for %s at %s", e.name, e.at)
		}
	}
}

func (a *audit) checkWaterOpening(i int, r *waterRow) {
	if i > 0 {
		a.breach("R10", r.where(), "the opening is not the first row")
	}
	first := a.d.set.Pad.Opens
	if a.d.begun != nil {
		first = a.d.begun.At
	}
	if len(a.water) > 0 {
		first = min(first, a.water[0].at)
	}
	if r.at > first {
		a.breach("R10", r.where(), "the opening is at %s, expected not after %s", r.at, first)
	}
}

// takeWater finds what a row speaks of. A load that takes no water may have a
// row; it changes nothing.
func (a *audit) takeWater(r *waterRow) *waterEvent {
	for _, e := range a.water {
		if !e.seen && e.name == r.event {
			e.seen = true
			if e.at != r.at {
				a.breach("R10", r.where(), "%s is at %s, expected %s", r.event, r.at, e.at)
			}
			return e
		}
	}
	for _, l := range a.loads {
		if r.event == "load "+l.id && r.at == l.start && l.mix.carrier != model.Water {
			return &waterEvent{at: r.at, name: r.event, use: new(big.Rat)}
		}
	}
	a.breach("R10", r.where(), "%s at %s, expected no such event", r.event, r.at)
	return nil
}

// useWater takes water out; it must be there.
func (a *audit) useWater(now *tank, e *waterEvent) {
	if now == nil {
		return
	}
	now.take(e)
	if less(add(now.level, enough), new(big.Rat)) {
		a.breach("R10", e.name, "at %s there are %s gal of water too little", e.at, fixed(sub(new(big.Rat), now.level)))
	}
}

func (a *audit) checkWaterRow(r *waterRow, now *tank, rinsate *big.Rat) {
	switch {
	case now == nil && r.water != nil:
		a.breach("R10", r.where(), "water_gal is %s, expected blank: the day sets no water", fixed(r.water))
	case now != nil && (r.water == nil || !near(r.water, now.level, halfPlace)):
		a.breach("R10", r.where(), "water_gal is %s, expected %s", orBlank(r.water), fixed(now.level))
	}
	if !near(r.rinsate, rinsate, halfPlace) {
		a.breach("R10", r.where(), "rinsate_gal is %s, expected %s", fixed(r.rinsate), fixed(rinsate))
	}
}
