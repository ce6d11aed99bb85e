package model

import "math/big"

// filling is the filling time of a load (R4) before it is rounded: the carrier
// runs while the products go in, and the slower of the two decides.
type filling struct {
	hook     *big.Rat // hook up and unhook, minutes
	carrier  *big.Rat // all of the carrier
	products *big.Rat // first part of the carrier, then the products
	change   *big.Rat // each changeover inside
	// begins[i] is when the i-th dose begins to go in, from the start of the
	// filling, without changeovers inside; one more entry for the end of the last.
	begins []*big.Rat
}

// DoseBegins returns when the i-th dose of a load begins to go in, in seconds
// after the load's start, with k changeovers inside before it; i = len(Doses)
// is the end of the last. It is rounded down.
func (l *Load) DoseBegins(i, k int) Seconds {
	f := &l.filling
	minutes := new(big.Rat).Mul(f.change, big.NewRat(int64(k), 1))
	minutes.Add(minutes, f.begins[i])
	seconds, _ := minutes.Mul(minutes, big.NewRat(60, 1)).Float64()
	return Seconds(seconds)
}

// InOrder returns a load with its doses in another order: order[i] is the place of
// the i-th among those that it has now.
func (l *Load) InOrder(order []int) Load {
	other := *l
	other.Doses = make([]Dose, len(order))
	begins := l.filling.begins
	other.filling.begins = begins[:1:1]
	at := begins[0]
	for i, k := range order {
		other.Doses[i] = l.Doses[k]
		at = new(big.Rat).Add(at, new(big.Rat).Sub(begins[k+1], begins[k]))
		other.filling.begins = append(other.filling.begins, at)
	}
	return other
}

// seconds returns the filling time with k changeovers inside.
func (f *filling) seconds(k int) Seconds {
	products := new(big.Rat).Mul(f.change, big.NewRat(int64(k), 1))
	products.Add(products, f.products)
	minutes := new(big.Rat).Add(f.hook, ratMax(f.carrier, products))
	return CeilSeconds(minutes.Mul(minutes, big.NewRat(60, 1)))
}

// table returns the filling times with 0 to n changeovers inside.
func (f *filling) table(n int) []Seconds {
	times := make([]Seconds, n+1)
	for k := range times {
		times[k] = f.seconds(k)
	}
	return times
}

// FillSeconds returns the filling time with k changeovers inside.
func (l *Load) FillSeconds(k int) Seconds {
	if k < len(l.Fill) {
		return l.Fill[k]
	}
	return l.filling.seconds(k)
}

// fillTime works out the filling of acres of a blend.
func (p *Problem) fillTime(mix int, acres *big.Rat, gpa Decimal, b *blend) filling {
	pad := &p.Settings.Pad
	gal := new(big.Rat).Mul(acres, gpa.Rat())
	carrier := new(big.Rat).Mul(acres, b.carrier)
	first := ratMin(carrier, new(big.Rat).Mul(gal, pad.CarrierFirst.Rat()))
	f := filling{
		hook:    new(big.Rat).Add(pad.HookupMin.Rat(), pad.UnhookMin.Rat()),
		carrier: new(big.Rat).Quo(carrier, pad.CarrierGpm.Rat()),
		change:  pad.ChangeoverMin.Rat(),
	}
	f.products = new(big.Rat).Quo(first, pad.CarrierGpm.Rat())
	hookup := pad.HookupMin.Rat()
	f.begins = append(f.begins, new(big.Rat).Add(hookup, f.products))
	for i, g := range p.Mixes[mix].Recipe {
		f.products.Add(f.products, p.doseMinutes(&p.Products[g.Product], acres, b.doses[i]))
		f.begins = append(f.begins, new(big.Rat).Add(hookup, f.products))
	}
	return f
}

// doseMinutes is the time one product takes to go in and settle.
func (p *Problem) doseMinutes(product *Product, acres *big.Rat, d blendDose) *big.Rat {
	pad := &p.Settings.Pad
	minutes := pad.SettleLiquidMin.Rat()
	if product.Form.Dry {
		minutes = pad.SettleDryMin.Rat()
	}
	switch {
	case product.Metered:
		gal := new(big.Rat).Mul(acres, d.gal)
		minutes.Add(minutes, gal.Quo(gal, pad.MeterGpm.Rat()))
		minutes.Add(minutes, pad.PushMin.Rat())
	case product.Pack != nil:
		each := pad.JugSec
		if product.Form.Dry {
			each = pad.BagSec
		}
		packs := new(big.Rat).Mul(acres, d.amount)
		packs.Quo(packs, product.Pack.Rat())
		whole := big.NewRat(ceil(packs), 60)
		minutes.Add(minutes, whole.Mul(whole, each.Rat()))
	default:
		lb := new(big.Rat).Mul(acres, d.lb)
		minutes.Add(minutes, lb.Quo(lb, pad.HopperLbPerMin.Rat()))
	}
	return minutes
}

// CarrierMinutes is the time a job's carrier takes to run, in minutes.
func (p *Problem) CarrierMinutes(job int) *big.Rat {
	j := &p.Jobs[job]
	carrier := p.blend(j.Mix, j.GPA).carrier
	carrier.Mul(carrier, j.Acres.Rat())
	return carrier.Quo(carrier, p.Settings.Pad.CarrierGpm.Rat())
}

// LeastFill returns a time that filling any load with a part of a job takes at
// least, if it is the first load of its run: runs only grow by sharing, and the
// loads of a run are equal, so each holds the job whole or half a tank.
func (p *Problem) LeastFill(sprayer, job int) Seconds {
	j := &p.Jobs[job]
	half := new(big.Rat).Quo(p.Sprayers[sprayer].TankGal.Rat(), j.GPA.Rat())
	acres := ratMin(j.Acres.Rat(), half.Mul(half, big.NewRat(1, 2)))
	f := p.fillTime(j.Mix, acres, j.GPA, p.blend(j.Mix, j.GPA))
	return f.seconds(0)
}
