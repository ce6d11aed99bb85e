package planner

import (
	"math"
	"slices"

	"padturn/model"
)

// dispatcher says in which order and where the loads of given jobs are filled, by a
// simple rule and in the time of an evaluation: the load that can start first comes
// next, at the bay where it can; that a bay must be set up for it counts once more than
// the time it takes. It knows cleanouts and set-ups roughly, of stock, water
// and shut bays nothing.
type dispatcher struct {
	in       *instance
	shop     *workshop
	sprayers []comer
	bays     []roughBay
}

// comer is a sprayer that comes for its next load.
type comer struct {
	next  int
	ready model.Clock
}

// roughBay is a bay between two loads, as a dispatcher knows it.
type roughBay struct {
	free   model.Clock
	mix    int
	rinsed int16
	on     mask
}

// dispatch gives a candidate a new sequence.
func (d *dispatcher) dispatch(c *candidate) {
	d.open()
	loads := 0
	for _, chain := range c.chains {
		loads += len(chain)
	}
	c.sequence = slices.Grow(c.sequence[:0], loads)
	d.serveFrozen(c)
	for len(c.sequence) < loads {
		x, start := d.next(c)
		d.serve(c, x, start)
	}
}

// open makes all ready for the first load.
func (d *dispatcher) open() {
	d.bays, d.sprayers = d.bays[:0], d.sprayers[:0]
	for i := range d.in.bays {
		b := &d.in.bays[i]
		d.bays = append(d.bays, roughBay{max(b.freeFrom, d.in.now), b.lastMix, b.rinsed, b.onAtOpening})
	}
	for i := range d.in.sprayers {
		d.sprayers = append(d.sprayers, comer{0, d.in.sprayers[i].base})
	}
}

// serveFrozen serves the loads that must stay as they were told.
func (d *dispatcher) serveFrozen(c *candidate) {
	if d.in.told == nil {
		return
	}
	for i := range d.in.told.loads {
		t := &d.in.told.loads[i]
		chain, k := c.chains[t.sprayer], d.sprayers[t.sprayer].next
		if !t.frozen || k == len(chain) || chain[k].parts[0].job != d.in.p.Underway.Told[i].Jobs[0] {
			continue
		}
		x := slot{sprayer: int16(t.sprayer), bay: int16(t.bay)}
		d.serve(c, x, d.startAt(&d.bays[t.bay], chain[k], d.bays[t.bay].setUp(d.in, chain[k])))
	}
}

// next returns whose load comes next, at which bay, and when it starts.
func (d *dispatcher) next(c *candidate) (slot, model.Clock) {
	least, x, at := model.Clock(math.MaxInt64), slot{}, model.Never
	for s := range d.sprayers {
		who := &d.sprayers[s]
		if who.next == len(c.chains[s]) || who.ready >= least {
			continue
		}
		l := c.chains[s][who.next]
		for b := range d.bays {
			bay := &d.bays[b]
			if bay.free >= least || d.in.picky && !d.mayFill(b, l) {
				continue
			}
			setUp := bay.setUp(d.in, l)
			start := d.startAt(bay, l, setUp)
			if start+setUp < least {
				least, x, at = start+setUp, slot{sprayer: int16(s), bay: int16(b)}, start
			}
		}
	}
	return x, at
}

// mayFill says whether a bay may be given a load: it can fill it, or none can.
func (d *dispatcher) mayFill(b int, l *load) bool {
	return d.in.bays[b].fills[l.mix] || b == d.in.anyBay(l)
}

// startAt returns when a bay starts a load, after a set-up of a length.
func (d *dispatcher) startAt(bay *roughBay, l *load, setUp model.Clock) model.Clock {
	return max(d.sprayers[l.sprayer].ready, bay.free+setUp)
}

// serve has a sprayer's next load filled, and brings the sprayer back.
func (d *dispatcher) serve(c *candidate, x slot, start model.Clock) {
	c.sequence = append(c.sequence, x)
	who, bay, chain := &d.sprayers[x.sprayer], &d.bays[x.bay], c.chains[x.sprayer]
	l := chain[who.next]
	bay.take(l, &d.in.bays[x.bay])
	bay.free = start + model.Clock(l.Fill[0])
	who.ready = l.sprayedOut(bay.free) + l.driveBack
	if who.next++; who.next < len(chain) {
		if level := d.shop.cleanout[l.contents][chain[who.next].contents]; level != model.None {
			who.ready += model.Clock(d.in.cleanouts[level].time)
		}
	}
}

// setUp is about how long a bay takes to be set up for a load.
func (b *roughBay) setUp(in *instance, l *load) model.Clock {
	missing := l.wants.without(&b.on)
	t := model.Seconds(missing.count()) * in.change
	if b.mix != model.None {
		if level := in.rinse[b.mix][l.mix]; level > b.rinsed {
			t += in.rinses[level].time
		}
	}
	return model.Clock(t)
}

// take notes what a load leaves on a bay: what was there stays where there is room
// for all of it.
func (b *roughBay) take(l *load, data *bayData) {
	b.mix, b.rinsed = l.mix, model.None
	all := mask{b.on[0] | l.wants[0], b.on[1] | l.wants[1]}
	loose := all.without(&data.plumbed)
	if b.on = all; loose.count() > data.free {
		b.on = mask{l.wants[0] | data.plumbed[0], l.wants[1] | data.plumbed[1]}
	}
}
