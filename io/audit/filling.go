package audit

import (
	"math/big"

	"padturn/model"
)

// checkFilling compares the length of every filling with what its carrier, its
// products and the changeovers inside it take.
func (a *audit) checkFilling() {
	for _, l := range a.loads {
		inside := 0
		for _, c := range l.changes {
			if c.isInside() {
				inside++
			}
		}
		if want := a.d.filling(l, inside); l.end-l.start != want {
			a.breach("R4", l.where(), "is filled in %d s with %d changeovers inside, expected %d s", l.end-l.start, inside, want)
		}
	}
}

// isInside says whether the changeover happens while its load is filled.
func (c *change) isInside() bool { return c.at > c.load.start }

// filling returns how long a load is filled: the products and the changeovers
// go on beside the carrier, once its first part is in.
func (d *day) filling(l *load, inside int) model.Clock {
	pad := &d.set.Pad
	gpm := pad.CarrierGpm.Rat()
	beside := add(quo(l.first, gpm), mul(whole(int64(inside)), pad.ChangeoverMin.Rat()))
	for _, g := range l.mix.recipe {
		beside = add(beside, d.addingTime(g, l.dose(g)))
	}
	longest := larger(quo(l.carrier, gpm), beside)
	return minutes(add(add(pad.HookupMin.Rat(), longest), pad.UnhookMin.Rat()))
}

// addingTime returns the minutes that a product takes to go in and settle.
func (d *day) addingTime(g *ingredient, amount *big.Rat) *big.Rat {
	pad := &d.set.Pad
	settle := pad.SettleLiquidMin.Rat()
	if g.form.Dry {
		settle = pad.SettleDryMin.Rat()
	}
	if g.metered {
		draw := quo(g.gallons(amount), pad.MeterGpm.Rat())
		return add(add(draw, pad.PushMin.Rat()), settle)
	}
	return add(d.hopperTime(g, amount), settle)
}

// hopperTime counts jugs and bags where their size is known, else pounds.
func (d *day) hopperTime(g *ingredient, amount *big.Rat) *big.Rat {
	pad := &d.set.Pad
	if g.Pack == nil {
		if g.lb == nil {
			return new(big.Rat)
		}
		return quo(mul(amount, g.lb), pad.HopperLbPerMin.Rat())
	}
	seconds := pad.JugSec.Rat()
	if g.form.Dry {
		seconds = pad.BagSec.Rat()
	}
	packs := whole(roundUp(quo(amount, g.Pack.Rat())))
	return quo(mul(packs, seconds), whole(60))
}
