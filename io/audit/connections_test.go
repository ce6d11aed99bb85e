package audit

import (
	"math/big"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/model"
)

// twoBays is a pad with two bays of one connection each. Mix ab takes 10 gal
// of a and of b a load, mix b 10 gal of b. Each bay has its own containers of
// a; of b there is one, of 100 gal.
func twoBays() (*audit, *bay, *bay) {
	set := model.DefaultSettings()
	set.Pad.ChangeoverMin = *n(8)
	tote := func(product string, count int64) model.StockRow {
		return model.StockRow{Product: product, Container: "tote", Size: *n(100), Full: *n(count)}
	}
	set.Pad.Bays = []model.BaySettings{
		{Name: "north", Connections: 1, Hooked: []string{"a"}}, {Name: "south", Connections: 1},
	}
	in := &model.Input{
		Settings: set,
		Products: []model.ProductRow{
			{Product: "a", Form: "SC", Unit: "gal", Handling: "metered"}, {Product: "b", Form: "SL", Unit: "gal", Handling: "metered"},
		},
		Stock: []model.StockRow{tote("a", 2), tote("b", 1)},
		Mixes: []model.MixRow{{Mix: "ab", GPA: *n(10)}, {Mix: "b", GPA: *n(10)}},
		Recipes: []model.RecipeRow{
			{Mix: "ab", Product: "a", Rate: *n(1), Unit: "gal/ac"}, {Mix: "ab", Product: "b", Rate: *n(1), Unit: "gal/ac"},
			{Mix: "b", Product: "b", Rate: *n(1), Unit: "gal/ac"},
		},
	}
	a := &audit{d: newDay(in), byID: map[string]*load{}}
	return a, a.d.bays["north"], a.d.bays["south"]
}

// fill adds a load of ten acres that is filled from start to end.
func (a *audit) fill(id, mixName string, b *bay, start, end model.Clock, changes ...*change) *load {
	m := a.d.mixes[mixName]
	l := &load{
		id: id, bay: b, mix: m, start: start, end: end, spray: whole(100), changeovers: len(changes),
		parts: []*part{{job: &job{name: "J"}, acres: whole(10)}},
	}
	for i, g := range m.recipe {
		l.amounts = append(l.amounts, &amountRow{step: i + 1, product: g.Product, unit: "gal", amount: whole(10)})
	}
	for _, c := range changes {
		c.bay, c.load = b, l
		l.changes = append(l.changes, c)
		a.changes = append(a.changes, c)
	}
	a.loads = append(a.loads, l)
	return l
}

// Mix ab does not fit on one connection: b has to go on inside the load, in
// place of a, which is drawn first. The tote of b is off north when the load
// there is filled (08:00), not before, and then goes on south.
func TestSwapInsideALoad(t *testing.T) {
	cases := []struct {
		name   string
		inside change      // on north, 07:00 to 08:00
		north  model.Clock // the changeover back to a
		south  model.Clock // the changeover to b
		says   string      // nothing: clean
	}{
		{"as it should be", change{at: clock(7, 30), off: "a", on: "b"}, clock(8, 0), clock(8, 8), ""},
		{"b goes on before the load", change{at: clock(6, 30), off: "a", on: "b"}, clock(8, 0), clock(8, 8), "changeovers to a inside, expected 1"},
		{"b takes nothing's place", change{at: clock(7, 30), off: "", on: "b"}, clock(8, 0), clock(8, 8), "off is , expected a"},
		{"the tote of b is still on north", change{at: clock(7, 30), off: "a", on: "b"}, clock(8, 0), clock(8, 7), "no container of b is at the pad and off every other bay"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			a, north, south := twoBays()
			a.fill("N-1", "ab", north, clock(7, 0), clock(8, 0), &c.inside)
			a.fill("N-2", "ab", north, clock(8, 8), clock(9, 0),
				&change{at: c.north, off: "b", on: "a"}, &change{at: clock(8, 50), off: "a", on: "b"})
			s := a.fill("S-1", "b", south, clock(8, 16), clock(8, 30), &change{at: c.south, on: "b"})
			// N-2 wants b while its tote is on south, so a further one comes.
			b := a.d.products["b"]
			b.containers = append(b.containers, &container{left: whole(100), freeAt: clock(8, 8) + 1})
			a.loads[1].start = clock(8, 9)
			a.checkConnections()
			if c.says == "" {
				assert.Empty(t, a.found)
				assert.Equal(t, clock(8, 8), s.changes[0].freeAt, "off north when the changeover there is done")
				assert.Equal(t, big.NewRat(80, 1), b.containers[0].left)
				return
			}
			assertCaught(t, a.found, "R6", c.says)
		})
	}
}

// Any order among products of one class is taken, and its changeovers are held
// against it; an order against the classes is not.
func TestOrderAmongTies(t *testing.T) {
	cases := []struct {
		name       string
		tied       bool   // b is of a's class
		first      string // drawn first; a hangs there
		changes    []change
		rule, says string // nothing: clean
	}{
		{"as in the recipe", true, "a", []change{{at: clock(7, 30), off: "a", on: "b"}}, "", ""},
		{"the other way round", true, "b", []change{{at: clock(6, 50), off: "a", on: "b"}, {at: clock(7, 30), off: "b", on: "a"}}, "", ""},
		{"the other way round, changed as in the recipe", true, "b", []change{{at: clock(7, 30), off: "a", on: "b"}},
			"R6", `"a" makes room for b inside load N-1, expected a product that is drawn before it`},
		{"against the classes", false, "b", []change{{at: clock(6, 50), off: "a", on: "b"}, {at: clock(7, 30), off: "b", on: "a"}},
			"R3", "a (place 5) goes in after b (place 6), expected before it"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			a, north, _ := twoBays()
			mix := a.d.mixes["ab"]
			if c.tied {
				mix.find("b").place = mix.find("a").place
			}
			l := a.fill("N-1", "ab", north, clock(7, 0), clock(8, 0))
			for i := range c.changes {
				change := &c.changes[i]
				change.bay, change.load = north, l
				l.changes, a.changes = append(l.changes, change), append(a.changes, change)
			}
			l.changeovers = len(l.changes)
			if c.first == "b" {
				slices.Reverse(l.amounts)
				l.amounts[0].step, l.amounts[1].step = 1, 2
			}
			a.checkPlaces(l)
			a.checkConnections()
			if c.says == "" {
				assert.Empty(t, a.found)
				return
			}
			assertCaught(t, a.found, c.rule, c.says)
		})
	}
}
