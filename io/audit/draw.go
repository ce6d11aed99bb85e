package audit

import (
	"math/big"
	"slices"
)

// start checks what is on the bay's connections when a load starts, and draws
// its products: what the containers hold, and so which have to be changed
// inside, is settled then.
func (m *manifolds) start(l *load) {
	if !slices.Contains(l.bay.Carriers, l.mix.carrier) {
		m.a.breach("R6", l.where(), "needs %s as carrier, which %s does not have", l.mix.carrier, l.bay.Name)
	}
	room, wanted := l.room()
	there := 0
	for _, c := range m.on[l.bay] {
		if l.needs(c.product) && !c.plumbed {
			there++
		}
	}
	if want := min(wanted, room); there != want {
		m.a.breach("R6", l.where(), "%d of its %d metered products are on connections when it starts, expected %d", there, wanted, want)
	}
	for _, r := range l.amounts {
		if g := l.mix.find(r.product); g != nil && r.step > 0 && g.metered {
			m.draw(l, g)
		}
	}
	m.checkInside(l)
}

// draw takes a product out of its containers and notes the changeovers that
// needs.
func (m *manifolds) draw(l *load, g *ingredient) {
	place := m.where(l.bay, g.Product)
	if place == nil {
		l.inside = append(l.inside, insideChange{product: g.Product})
	}
	if g.bulk {
		return
	}
	need := l.dose(g)
	if place != nil {
		if place.container == nil || place.container.empty() {
			m.a.breach("R6", l.where(), "the container of %s on %s is empty when it starts, expected a fresh one", g.Product, l.bay.Name)
		}
		need = m.pour(place.container, need)
	}
	swap := place == nil
	for swap || enough.Cmp(need) < 0 {
		c := g.next(l.start)
		if c == nil {
			m.a.breach("R6", l.where(), "at %s no further container of %s is at the pad and off every other bay", l.start, g.Product)
			return
		}
		c.hookUp(l.bay)
		l.freeAt = max(l.freeAt, c.freeAt)
		need = m.pour(c, need)
		if swap {
			l.inside[len(l.inside)-1].container = c
		} else {
			l.inside = append(l.inside, insideChange{g.Product, true, c})
		}
		swap = false
	}
}

// pour takes what it can out of a container and returns what is still needed.
// What was full is opened by that.
func (m *manifolds) pour(c *container, need *big.Rat) *big.Rat {
	if c == nil {
		return need
	}
	if c.opened == 0 {
		m.opened++
		c.opened = m.opened
	}
	taken := smaller(need, c.left)
	c.left = sub(c.left, taken)
	return sub(need, taken)
}

// checkInside compares the changeovers inside a load with those it needs.
func (m *manifolds) checkInside(l *load) {
	type key struct {
		product string
		fresh   bool
	}
	seen, want := map[key]int{}, map[key]int{}
	for _, c := range l.changes {
		if c.isInside() {
			seen[key{c.on, c.off == c.on}]++
		}
	}
	for _, c := range l.inside {
		want[key{c.product, c.fresh}]++
	}
	for _, c := range slices.Concat(l.inside, l.foreign()) {
		k := key{c.product, c.fresh}
		if seen[k] != want[k] {
			what := "changeovers to " + k.product
			if k.fresh {
				what = "fresh containers of " + k.product
			}
			m.a.breach("R6", l.where(), "%d %s inside, expected %d", seen[k], what, want[k])
			want[k] = seen[k] // said once
		}
	}
}

// foreign lists the changeovers that the file has inside a load, in the form
// of those that it needs.
func (l *load) foreign() []insideChange {
	var list []insideChange
	for _, c := range l.changes {
		if c.isInside() {
			list = append(list, insideChange{product: c.on, fresh: c.off == c.on})
		}
	}
	return list
}

// changeInside does a changeover inside a load.
func (m *manifolds) changeInside(c *change) {
	place := m.at(c)
	m.checkOff(c, place)
	if c.at > c.load.end {
		m.a.breach("R6", c.where(), "is at %s, expected by the end of load %s (%s)", c.at, c.load.id, c.load.end)
	}
	if c.off != c.on {
		m.checkMakesRoom(c)
	}
	place.clear(c.load.end)
	place.product = c.on
	place.container = c.load.takeInside(c.on)
}

// checkMakesRoom checks that what comes off inside a load is a product of it
// that was drawn already.
func (m *manifolds) checkMakesRoom(c *change) {
	l := c.load
	if m.where(c.bay, c.on) != nil {
		m.a.breach("R6", c.where(), "%s is on %s already", c.on, c.bay.Name)
	}
	if !l.needs(c.off) || l.stepOf(c.off) >= l.stepOf(c.on) {
		m.a.breach("R6", c.where(), "%q makes room for %s inside load %s, expected a product that is drawn before it", c.off, c.on, l.id)
	}
}

// takeInside hands out the containers that were set aside when the load
// started, in their order.
func (l *load) takeInside(product string) *container {
	for i := range l.inside {
		if s := &l.inside[i]; s.product == product && s.container != nil {
			c := s.container
			s.container = nil
			return c
		}
	}
	return nil
}

// setUp lists the changeovers before a load, by time.
func (l *load) setUp() []*change {
	var list []*change
	for _, c := range l.changes {
		if !c.isInside() {
			list = append(list, c)
		}
	}
	slices.SortStableFunc(list, func(x, y *change) int { return int(x.at - y.at) })
	return list
}
