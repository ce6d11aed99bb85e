package planner

import "padturn/model"

// stay is how a filling gets longer by changes inside that are not in its least: totes
// that run dry, and products that another bay has no connection for. Nobody pays for that
// time, so that a bound which leaves it out has the sprayer back sooner and waiting, for
// pay. So a sprayer may choose to stay on for as many changes as it likes, and pays for
// each, and as a kind of filling that is longer by the first of them: no plan has it cheaper.
//
// What follows a filling that stays on is what follows one without changes that starts in a
// later slot, and waits no longer. As changes do not take whole slots, that may be the slot in
// which they end or the one behind it, and what the difference is worth is made up for.
type stay struct {
	longer model.Seconds // by how much the first changes that make the filling longer do so; 0: there are none
	first  model.Money   // what those cost
	more   model.Money   // what each further one costs, in.change long
	count  model.Money   // how many the first are
}

// layOutStays finds how many changes there can be that are not in leastFill, at the most.
func (p *pricing) layOutStays() {
	p.dry = p.in.runDry()
	count := 0
	for _, n := range p.dry {
		count += n
	}
	for i := range p.in.p.Jobs {
		least, most := p.in.excessOf(p.in.p.Jobs[i].Mix)
		count += (most - least) * p.in.mostLoads(i)
	}
	p.mostStays = model.Money(count)
}

// stayOf returns how a load's filling gets longer.
func (p *pricing) stayOf(l *load) stay {
	least, most := p.in.excessOf(l.mix)
	if p.in.change == 0 || most == least && p.runDryIn(l) == 0 {
		return stay{}
	}
	money := p.in.changeMoney
	if most > least {
		money = 0 // some of it may be paid with the bay's set-ups
	}
	n := 1
	for l.FillSeconds(least+n) == l.FillSeconds(least) {
		n++ // the carrier takes longer than products and changes
	}
	return stay{l.FillSeconds(least+n) - l.FillSeconds(least), model.Money(n) * money, money, model.Money(n)}
}

// runDryIn returns how many totes may run dry inside a load at the most.
func (p *pricing) runDryIn(l *load) int {
	n := 0
	for _, d := range l.totes {
		n += p.dry[p.in.toteOf[d.n]]
	}
	return n
}

// longestFill returns the longest that a load can take to be filled.
func (p *pricing) longestFill(l *load) model.Clock {
	_, most := p.in.excessOf(l.mix)
	return model.Clock(l.FillSeconds(max(most+p.runDryIn(l), len(l.Fill)-1)))
}

// stayWork is a workspace for what it costs to stay on in a turn, its price aside: by slot,
// if the filling counts from there on, and the least if it stays on for further changes,
// after which it counts from another.
type stayWork struct {
	plain, on []model.Money
	ends      []int32
	first     []stayStep // its first changes
	more      []stayStep // each further one
}

// stayStep is so many slots that changes may take, and what that costs.
type stayStep struct {
	slots int32
	money model.Money
}

// open makes room for so many slots.
func (w *stayWork) open(slots int32) {
	w.plain, w.on, w.ends = make([]model.Money, slots), make([]model.Money, slots), make([]int32, slots)
}

// beginStays makes ready for the slots of a turn, of a sprayer that waits at a price.
func (p *pricing) beginStays(w *stayWork, t *pricedTurn, wait model.Money) {
	if t.stay.longer == 0 {
		return
	}
	c := p.in.change
	w.first = p.staySteps(w.first[:0], t.stay.longer, t.stay.longer, t.stay.first+t.stay.count*p.stayPrice, wait)
	w.more = p.staySteps(w.more[:0], c-1, c, t.stay.more+p.stayPrice, wait)
}

// staySteps lists the slots that a change between two lengths may take.
func (p *pricing) staySteps(list []stayStep, least, most model.Seconds, money, wait model.Money) []stayStep {
	for slots := p.slotsOf(least); slots <= p.slotsOf(most)+1; slots++ {
		list = append(list, stayStep{slots, money + wait*(model.Money(slots)<<p.shift-model.Money(most))})
	}
	return list
}

// from returns the least that it costs to be filled from a slot on and to stay on, and the
// slot from which that filling counts. Later slots, and this one's plain, are known.
func (w *stayWork) from(slot int32) (model.Money, int32) {
	w.on[slot], w.ends[slot] = w.by(w.more, slot)
	return w.by(w.first, slot)
}

// by is the least by one of some steps.
func (w *stayWork) by(steps []stayStep, slot int32) (model.Money, int32) {
	best, end := noWay, slot
	for _, x := range steps {
		at := slot + x.slots
		if int(at) >= len(w.plain) {
			break
		}
		if sum := w.plain[at] + x.money; sum < best {
			best, end = sum, at
		}
		if sum := w.on[at] + x.money; sum < best {
			best, end = sum, w.ends[at]
		}
	}
	return best, end
}

// staysIn returns about how many changes a filling stays on for.
func (p *pricing) staysIn(t *pricedTurn, how fillChoice) float64 {
	if !how.stays {
		return 0
	}
	longer := float64(how.at-how.start)*float64(int64(1)<<p.shift) - float64(t.stay.longer)
	return float64(t.stay.count) + max(longer/float64(p.in.change), 0)
}
