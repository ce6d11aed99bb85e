package standing

import (
	"cmp"
	"slices"

	"padturn/model"
)

// container is one tote or drum of a product that is kept in them.
type container struct {
	kind     string
	size     model.Decimal
	left     model.Decimal
	opened   int // its place among those opened; 0: full
	hanging  bool
	freeFrom model.Clock // off every bay from then on
}

// lot is what a row of stock says of a product whose containers are not told
// apart: full ones and one opened.
type lot struct {
	kind       string
	size       model.Decimal
	full, open model.Decimal // full is a count
}

// store is all of one product at the pad.
type store struct {
	apart      bool // containers are told apart
	containers []*container
	lots       []lot
	opened     int // containers opened so far
	kind       string
	size       model.Decimal // of the first row of it
}

func (t *store) sum() model.Decimal {
	var sum model.Decimal
	for _, c := range t.containers {
		sum += c.left
	}
	for _, l := range t.lots {
		sum += l.size*(l.full/model.One) + l.open
	}
	return sum
}

// receive adds full containers.
func (t *store) receive(kind string, size, count model.Decimal) {
	if !t.apart {
		t.lots = append(t.lots, lot{kind: kind, size: size, full: count})
		return
	}
	for range int(count / model.One) {
		t.containers = append(t.containers, &container{kind: kind, size: size, left: size})
	}
}

// receiveOpened adds an opened container.
func (t *store) receiveOpened(kind string, size, left model.Decimal) *container {
	if !t.apart {
		t.lots = append(t.lots, lot{kind: kind, size: max(size, left), open: left})
		return nil
	}
	t.opened++
	c := &container{kind: kind, size: max(size, left), left: left, opened: t.opened}
	t.containers = append(t.containers, c)
	return c
}

// next returns the container that goes on a connection next at t, or nil: the
// one opened earliest, else the first full one.
func (t *store) next(at model.Clock) *container {
	var best *container
	for _, c := range t.containers {
		if c.hanging || c.left <= slack || c.freeFrom > at {
			continue
		}
		if best == nil || c.opened > 0 && (best.opened == 0 || c.opened < best.opened) {
			best = c
		}
	}
	return best
}

// take draws an amount out of a container and counts it opened.
func (t *store) take(c *container, amount model.Decimal) {
	if c.opened == 0 {
		t.opened++
		c.opened = t.opened
	}
	c.left -= amount
}

// takeLots draws an amount out of lots, opened ones first. It returns what was
// not there.
func (t *store) takeLots(amount model.Decimal) model.Decimal {
	for i := range t.lots {
		n := min(t.lots[i].open, amount)
		t.lots[i].open -= n
		amount -= n
	}
	for i := range t.lots {
		l := &t.lots[i]
		n := min(l.full, (amount+l.size-1)/l.size*model.One)
		l.full -= n
		l.open += l.size * (n / model.One)
		taken := min(l.open, amount)
		l.open -= taken
		amount -= taken
	}
	return amount
}

// rows lists what is there as stock.csv has it: opened ones in the order they
// were opened, then full ones.
func (t *store) rows(product string) []model.StockRow {
	var rows []model.StockRow
	add := func(kind string, size, full, open model.Decimal) {
		if n := len(rows) - 1; full == model.One && open == 0 && n >= 0 && rows[n].Open == nil &&
			rows[n].Container == kind && rows[n].Size == size {
			rows[n].Full += full
			return
		}
		r := model.StockRow{Product: product, Container: kind, Size: size, Full: full}
		if open > 0 {
			r.Open = &open
		}
		rows = append(rows, r)
	}
	for _, c := range sortedByOpening(t.containers) {
		switch {
		case c.left <= slack:
		case c.opened > 0:
			add(c.kind, c.size, 0, c.left)
		default:
			add(c.kind, c.size, model.One, 0)
		}
	}
	for _, l := range pouredTogether(t.lots) {
		if l.full > 0 || l.open > slack {
			add(l.kind, max(l.size, l.open), l.full, l.open)
		}
	}
	if len(rows) == 0 && t.kind != "" {
		add(t.kind, t.size, 0, 0) // none, but known, and what it is kept in
	}
	return rows
}

// pouredTogether makes one lot of bulk that is first in its tank: what is
// delivered goes into the same.
func pouredTogether(lots []lot) []lot {
	if len(lots) == 0 || lots[0].kind != "bulk" {
		return lots
	}
	tank := lot{kind: "bulk", size: lots[0].size}
	var rest []lot
	for _, l := range lots {
		if l.kind != "bulk" {
			rest = append(rest, l)
			continue
		}
		tank.open += l.size*(l.full/model.One) + l.open
	}
	return append([]lot{tank}, rest...)
}

// sortedByOpening puts opened containers first, in the order they were opened.
func sortedByOpening(list []*container) []*container {
	return slices.SortedStableFunc(slices.Values(list), func(a, b *container) int {
		switch {
		case a.opened > 0 && b.opened > 0:
			return cmp.Compare(a.opened, b.opened)
		case a.opened > 0:
			return -1
		case b.opened > 0:
			return 1
		}
		return 0
	})
}
