package audit

import (
	"cmp"
	"slices"

	"padturn/model"
)

// connection is a place on a bay's manifold.
type connection struct {
	product   string // blank: empty
	plumbed   bool
	container *container // nil for bulk products, and where none was there
}

// insideChange is a changeover that a load has to have inside: of a product
// that did not fit, or of a tote that runs dry.
type insideChange struct {
	product   string
	fresh     bool
	container *container
}

// manifolds replays the connections of all bays.
type manifolds struct {
	a      *audit
	on     map[*bay][]connection
	opened int // containers opened so far
}

// checkConnections replays connections.csv and the loads in time order from
// the opening: what is where, in which container, and how much is left in it.
func (a *audit) checkConnections() {
	m := &manifolds{a: a, on: map[*bay][]connection{}}
	for _, p := range a.d.productOrder {
		m.opened = max(m.opened, p.openContainers())
	}
	for _, b := range a.d.bayOrder {
		m.hookUp(b)
	}
	for _, e := range a.manifoldEvents() {
		e.do(m)
	}
	for _, l := range a.loads {
		a.differs("R6", l.where(), "changeovers", l.changeovers, len(l.changes))
	}
}

// hookUp fills a bay's connections as day.yaml has them at the opening.
func (m *manifolds) hookUp(b *bay) {
	for _, name := range slices.Concat(b.Plumbed, b.Hooked) {
		c := connection{product: name, plumbed: len(m.on[b]) < len(b.Plumbed)}
		if p := m.a.d.products[name]; p != nil && m.a.d.begun == nil {
			c.container = p.next(0)
		} else if p != nil {
			c.container = m.a.d.hang(b, len(m.on[b]))
		}
		c.container.hookUp(b)
		m.on[b] = append(m.on[b], c)
	}
	for len(m.on[b]) < b.Connections {
		m.on[b] = append(m.on[b], connection{})
	}
}

// hookUp puts a container on a bay.
func (c *container) hookUp(b *bay) {
	if c != nil {
		c.on = b
	}
}

// manifoldEvent is something that happens to the connections.
type manifoldEvent struct {
	at    model.Clock
	phase int
	do    func(*manifolds)
}

// manifoldEvents lists all changeovers and load starts in time order. At one
// moment what happens inside loads comes first, then set-ups, then loads start.
func (a *audit) manifoldEvents() []manifoldEvent {
	var list []manifoldEvent
	for _, c := range a.changes {
		if c.bay != c.load.bay {
			a.breach("R6", c.where(), "is on %s, but load %s is filled on %s", c.bay.Name, c.load.id, c.load.bay.Name)
			continue
		}
		if c.connection >= c.bay.Connections {
			a.breach("R6", c.where(), "connection is %d, expected at most %d", c.connection+1, c.bay.Connections)
			continue
		}
		if c.isInside() {
			list = append(list, manifoldEvent{c.at, 0, func(m *manifolds) { m.changeInside(c) }})
			continue
		}
		list = append(list, manifoldEvent{c.at, 1, func(m *manifolds) {
			m.takeOff(c)
			m.putOn(c)
		}})
	}
	for _, l := range a.loads {
		list = append(list, manifoldEvent{l.start, 2, func(m *manifolds) { m.start(l) }})
	}
	slices.SortStableFunc(list, func(x, y manifoldEvent) int {
		return cmp.Or(cmp.Compare(x.at, y.at), cmp.Compare(x.phase, y.phase))
	})
	return list
}

// at returns the connection that a changeover is about.
func (m *manifolds) at(c *change) *connection { return &m.on[c.bay][c.connection] }

// takeOff does the first half of a changeover in a set-up.
func (m *manifolds) takeOff(c *change) {
	place := m.at(c)
	m.checkOff(c, place)
	if c.off == c.on && place.container != nil && !place.container.empty() {
		m.a.breach("R6", c.where(), "a fresh container of %s goes on, but %s is left in the one there",
			c.on, fixed(place.container.left))
	}
	if c.off != c.on && c.load.needs(c.off) && !c.load.drawsLater(c.off, c.on) {
		m.a.breach("R6", c.where(), "takes %s off, which load %s needs", c.off, c.load.id)
	}
	place.clear(c.at + m.a.d.changeover())
}

// checkOff checks that the file knows what is on the connection and leaves
// what is plumbed.
func (m *manifolds) checkOff(c *change, place *connection) {
	m.a.differs("R6", c.where(), "off", c.off, place.product)
	if place.plumbed && c.on != place.product {
		m.a.breach("R6", c.where(), "%s is plumbed and never comes off", place.product)
	}
}

// clear takes a container off; it can go on elsewhere when the changeover that
// took it off is done, or, inside a load, when the load is filled.
func (place *connection) clear(done model.Clock) {
	if c := place.container; c != nil {
		c.on, c.freeAt = nil, done
	}
	place.product, place.container = "", nil
}

// putOn does the second half of a changeover in a set-up.
func (m *manifolds) putOn(c *change) {
	place := m.at(c)
	if !c.load.needs(c.on) {
		m.a.breach("R6", c.where(), "puts %s on, which load %s does not draw", c.on, c.load.id)
	}
	if m.where(c.bay, c.on) != nil {
		m.a.breach("R6", c.where(), "%s is on %s already", c.on, c.bay.Name)
	}
	place.product = c.on
	p := m.a.d.products[c.on]
	if p == nil || p.bulk || !p.metered {
		return
	}
	place.container = p.next(c.at)
	if place.container == nil {
		m.a.breach("R6", c.where(), "at %s no container of %s is at the pad and off every other bay", c.at, c.on)
		return
	}
	c.freeAt = p.firstFree(c.at)
	place.container.hookUp(c.bay)
}

// firstFree says when the first of the containers that are free at a moment
// became so.
func (p *product) firstFree(at model.Clock) model.Clock {
	first := model.Never
	for _, c := range p.containers {
		if c.free(at) {
			first = min(first, c.freeAt)
		}
	}
	return first
}

// where returns the connection that a product is on.
func (m *manifolds) where(b *bay, product string) *connection {
	for i := range m.on[b] {
		if m.on[b][i].product == product && product != "" {
			return &m.on[b][i]
		}
	}
	return nil
}

// needs says whether a load draws a product through a connection.
func (l *load) needs(product string) bool {
	g := l.mix.find(product)
	return g != nil && g.metered
}

// room says how many connections there are beside the plumbed ones, and how many
// products of the load want one of them.
func (l *load) room() (there, wanted int) {
	for _, g := range l.mix.recipe {
		if g.metered && !slices.Contains(l.bay.Plumbed, g.Product) {
			wanted++
		}
	}
	return l.bay.Connections - len(l.bay.Plumbed), wanted
}

// drawsLater says whether a product of the load has to make room for another
// one in the set-up, because not all fit and the other one is drawn first.
func (l *load) drawsLater(off, on string) bool {
	there, wanted := l.room()
	return wanted > there && l.stepOf(on) < l.stepOf(off)
}

// changeover is how long one takes in a set-up.
func (d *day) changeover() model.Clock { return minutes(d.set.Pad.ChangeoverMin.Rat()) }
