package planner

import (
	"math/bits"

	"padturn/model"
)

// roughBay is a bay between two loads, as a dispatcher knows it. What comes off is
// what was drawn from longest ago: what is wanted next it cannot know.
type roughBay struct {
	data   *bayData
	free   model.Clock
	mix    int
	rinsed int16
	on     mask
	drawn  []int           // by metered number: when it was drawn from last, as a count of loads
	left   []model.Decimal // by metered number: what is in the tote that hangs there
	loads  int
}

// open makes a bay ready for its first load.
func (b *roughBay) open(in *instance, i int) {
	b.data, b.loads = &in.bays[i], 0
	b.free, b.mix, b.rinsed, b.on = max(b.data.freeFrom, in.now), b.data.lastMix, b.data.rinsed, b.data.onAtOpening
	b.drawn, b.left = zeros(b.drawn, len(in.products)), zeros(b.left, len(in.products))
	for i := range b.data.conns {
		c := &b.data.conns[i]
		if c.metered != model.None && c.tote != model.None {
			b.left[c.metered] = in.tracked[in.toteOf[c.metered]].containers[c.tote].left
		}
	}
}

// setUp is about what it takes to set a bay up for a load, and costs.
func (b *roughBay) setUp(in *instance, l *load) (model.Clock, model.Money) {
	n := b.toHook(l)
	time, money := model.Seconds(n)*in.change, model.Money(n)*in.changeMoney
	if b.mix != model.None {
		if level := in.rinse[b.mix][l.mix]; level > b.rinsed {
			time, money = time+in.rinses[level].time, money+in.rinses[level].money
		}
	}
	return model.Clock(time), money
}

// toHook is how many products must be put on for a load before it starts, or hang there
// in an empty tote.
func (b *roughBay) toHook(l *load) int {
	missing := l.wants.without(&b.on)
	count := max(missing.count()-b.inside(l), 0)
	for i := range l.totes {
		if n := l.totes[i].n; b.left[n] == 0 && b.on.has(n) {
			count++
		}
	}
	return count
}

// inside is how many products of a load only go on inside it.
func (b *roughBay) inside(l *load) int {
	if !b.data.crowded[l.mix] {
		return 0
	}
	loose := l.wants.without(&b.data.plumbed)
	return loose.count() - b.data.free
}

// take notes what a load leaves on a bay, and returns how many changeovers there are
// inside it.
func (b *roughBay) take(d *dispatcher, l *load) int {
	b.mix, b.rinsed = l.mix, model.None
	b.loads++
	count := b.inside(l)
	for i := range l.metered {
		n := l.metered[i].n
		if !b.on.has(n) {
			b.hook(d, n)
		}
		b.drawn[n] = b.loads
	}
	for i := range l.totes {
		count += b.drain(d, &l.totes[i])
	}
	return count
}

// hook puts a product on, in place of another where there is no room. A bay on which no
// connection is loose was only given the load because no bay can fill it.
func (b *roughBay) hook(d *dispatcher, n int) {
	if b.data.free == 0 {
		return
	}
	loose := b.on.without(&b.data.plumbed)
	if loose.count() >= b.data.free {
		b.unhook(d, b.longestUnused(loose))
	}
	b.on.add(n)
	if k := d.e.in.toteOf[n]; k != model.None {
		b.left[n] = d.tote(k)
	}
}

// unhook takes a product off.
func (b *roughBay) unhook(d *dispatcher, n int) {
	b.on.drop(n)
	if k := d.e.in.toteOf[n]; k != model.None {
		d.opened[k] += b.left[n]
	}
}

// longestUnused returns the product of a set that was drawn from longest ago.
func (b *roughBay) longestUnused(set mask) int {
	best := model.None
	for word, rest := range set {
		for ; rest != 0; rest &= rest - 1 {
			if n := word*64 + bits.TrailingZeros64(rest); best == model.None || b.drawn[n] < b.drawn[best] {
				best = n
			}
		}
	}
	return best
}

// drain draws from totes, and returns how many are put on in place of those that run
// dry meanwhile.
func (b *roughBay) drain(d *dispatcher, x *draw) int {
	count, rest := 0, x.amount
	if b.left[x.n] == 0 { // put on before the load
		b.left[x.n] = d.tote(d.e.in.toteOf[x.n])
	}
	for rest > b.left[x.n]+stockSlack {
		rest -= b.left[x.n]
		if b.left[x.n] = d.tote(d.e.in.toteOf[x.n]); b.left[x.n] == 0 {
			return count
		}
		count++
	}
	if b.left[x.n] -= rest; b.left[x.n] <= stockSlack {
		b.left[x.n] = 0
	}
	return count
}

// tote returns what is in the tote of a product that is put on next; 0 where none is
// left.
func (d *dispatcher) tote(k int) model.Decimal {
	if left := d.opened[k]; left > 0 {
		d.opened[k] = 0
		return left
	}
	list := d.e.in.tracked[k].containers
	for d.fresh[k] < len(list) && list[d.fresh[k]].onBay {
		d.fresh[k]++
	}
	if d.fresh[k] == len(list) {
		return 0
	}
	d.fresh[k]++
	return list[d.fresh[k]-1].left
}
