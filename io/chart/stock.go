package chart

import (
	"fmt"
	"slices"
	"strings"

	"padturn/io/planfile"
)

const (
	stockRow  = 58.0
	stockPlot = 40.0
)

// stocks draws the stock of every product that changes or is low; the others
// are named in one line.
func (s *sheet) stocks() {
	events := map[string][]planfile.StockEvent{}
	for _, e := range s.d.Stock {
		events[e.Product] = append(events[e.Product], e)
	}
	var still []string
	drawn := false
	for _, p := range s.d.Products {
		list := events[p.Product]
		if !moves(list) {
			still = append(still, p.Product)
			continue
		}
		if !drawn {
			s.section("Stock")
			drawn = true
		}
		s.stock(p, list)
	}
	if len(still) > 0 {
		s.y += 6
		s.paragraph("Stock unchanged over the day: "+strings.Join(still, ", ")+".", false)
	}
}

func moves(list []planfile.StockEvent) bool {
	return slices.ContainsFunc(list, func(e planfile.StockEvent) bool { return e.Low || e.Event != planfile.EventOpening })
}

// curve is the stock of one product over a plot.
type curve struct {
	s      *sheet
	p      planfile.Product
	events []planfile.StockEvent
	top    float64
	most   planfile.Number
	taken  float64 // how far right marks and labels above the plot reach
}

func (s *sheet) stock(p planfile.Product, events []planfile.StockEvent) {
	top, bottom := s.y, s.y+stockRow
	events, later := splitAt(events, s.clock.to)
	c := curve{s: s, p: p, events: events, top: top + 14, most: 1}
	for _, e := range events {
		c.most = max(c.most, e.Level)
	}
	if p.ReorderAt != nil {
		c.most = max(c.most, *p.ReorderAt)
	}
	last := events[len(events)-1]
	s.grid(top, bottom)
	s.c.begin(group{kind: kindStock, label: fmt.Sprintf("Stock of %s: %s %s at the opening, %s %s at the end",
		p.Product, rounded(events[0].Level), p.Unit, rounded(last.Level), p.Unit)})
	c.names()
	c.area()
	c.reorder()
	c.steps()
	c.deliveries()
	c.later(later)
	s.note(c.noteY(last.Level), rounded(last.Level)+" "+p.Unit, rounded(last.Level))
	s.c.end()
	s.rowLine(bottom)
	s.y = bottom
}

// names writes the product's name, in two lines where it is long, and the
// plot's ends.
func (c *curve) names() {
	s := c.s
	room := plotLeft - margin - 12 - s.faces.width(rounded(c.most), sizeSmall, false)
	lines := s.faces.wrap(c.p.Product, sizeSmall, room)
	if len(lines) > 3 {
		lines = append(lines[:2], s.faces.fit(strings.Join(lines[2:], " "), sizeSmall, false, room))
	}
	for i, line := range lines {
		s.c.text(label{point: point{margin, c.top + float64(i)*sizeSmall*1.25 + 4}, text: line, size: sizeSmall})
	}
	for _, v := range []planfile.Number{0, c.most} {
		y := c.y(v)
		s.c.line([]point{{plotLeft - 4, y}, {plotLeft, y}}, strokeFrame)
		s.c.text(label{point: point{plotLeft - 6, y + sizeSmall*0.36}, text: rounded(v), size: sizeSmall, anchor: end, color: faint})
	}
	s.c.line([]point{{plotLeft, c.y(0)}, {s.clock.right, c.y(0)}}, strokeFrame)
}

func (c *curve) y(v planfile.Number) float64 {
	return c.top + stockPlot*(1-float64(max(v, 0))/float64(c.most))
}

// noteY keeps the last level's note within the row.
func (c *curve) noteY(v planfile.Number) float64 { return min(c.y(v), c.y(0)-3) }

// spans calls f for every stretch of one level: the opening's is from the page's
// left, the last to its right.
func (c *curve) spans(f func(e planfile.StockEvent, from, to float64)) {
	for i, e := range c.events {
		from, to := c.x(e.At), c.s.clock.right
		if i == 0 {
			from = plotLeft
		}
		if i+1 < len(c.events) {
			to = c.x(c.events[i+1].At)
		}
		f(e, from, to)
	}
}

// x keeps what lies beyond the day's ends at them.
func (c *curve) x(t planfile.Time) float64 {
	return c.s.clock.x(min(max(t, c.s.clock.from), c.s.clock.to))
}

// area fills what is below the curve, and hatches it where the stock is low.
func (c *curve) area() {
	below := append(c.points(), point{c.s.clock.right, c.y(0)}, point{plotLeft, c.y(0)})
	c.s.c.polygon(below, stockShade)
	c.spans(func(e planfile.StockEvent, from, to float64) {
		if e.Low && from < to {
			c.s.c.rect(box{from, c.y(e.Level), to - from, c.y(0) - c.y(e.Level)}, lookLow)
		}
	})
}

func (c *curve) steps() { c.s.c.line(c.points(), strokeStock) }

// points are the corners of the curve.
func (c *curve) points() []point {
	var points []point
	c.spans(func(e planfile.StockEvent, from, to float64) {
		points = append(points, point{from, c.y(e.Level)}, point{to, c.y(e.Level)})
	})
	return slices.Compact(points)
}

func (c *curve) reorder() {
	if c.p.ReorderAt == nil {
		return
	}
	y := c.y(*c.p.ReorderAt)
	c.s.c.line([]point{{plotLeft, y}, {c.s.clock.right, y}}, strokeReorder)
}

// splitAt parts the events at the picture's end.
func splitAt(events []planfile.StockEvent, end planfile.Time) (shown, later []planfile.StockEvent) {
	i := slices.IndexFunc(events, func(e planfile.StockEvent) bool { return e.At > end })
	if i <= 0 {
		return events, nil
	}
	return events[:i], events[i:]
}

// deliveries marks each delivery at the plot's top, with what it brings to its
// right or else to its left, where that meets no other label or mark.
func (c *curve) deliveries() {
	var list []planfile.StockEvent
	for _, e := range c.events {
		if e.Event == planfile.EventDelivery {
			list = append(list, e)
		}
	}
	for i, e := range list {
		x, next := c.x(e.At), c.s.clock.right+8
		if i+1 < len(list) {
			next = c.x(list[i+1].At)
		}
		c.s.c.line([]point{{x, c.top - 4}, {x, c.y(0)}}, strokeMark)
		c.s.deliveryMark(x, c.top-12)
		text := c.deliveryWords(e)
		width := c.s.faces.width(text, sizeSmall, false)
		switch {
		case x+7 >= c.taken && x+7+width <= next-8:
			c.write(text, x+7, width)
		case x-7-width >= max(c.taken, plotLeft):
			c.write(text, x-7-width, width)
		}
		c.taken = max(c.taken, x+8)
	}
}

// later tells of deliveries after the picture's end, where there is room.
func (c *curve) later(events []planfile.StockEvent) {
	var parts []string
	for _, e := range events {
		if e.Event == planfile.EventDelivery {
			parts = append(parts, c.deliveryWords(e))
		}
	}
	text := "later: " + strings.Join(parts, ", ")
	width := c.s.faces.width(text, sizeSmall, false)
	if x := c.s.clock.right - 4 - width; len(parts) > 0 && x >= max(c.taken, plotLeft) {
		c.write(text, x, width)
	}
}

func (c *curve) deliveryWords(e planfile.StockEvent) string {
	return "+" + rounded(e.Change) + " " + c.p.Unit + " " + hhmm(e.At)
}

// write writes a label above the plot, on paper so that no grid runs through
// it.
func (c *curve) write(text string, x, width float64) {
	c.s.c.rect(box{x - 1, c.top - 13, width + 2, 11}, look{fill: paper})
	c.s.c.text(label{point: point{x, c.top - 4.5}, text: text, size: sizeSmall})
	c.taken = x + width + 8
}

// deliveryMark is an arrow head that points down to the moment of a delivery.
func (s *sheet) deliveryMark(x, y float64) {
	s.c.polygon([]point{{x - 4.5, y}, {x + 4.5, y}, {x, y + 8}}, ink)
}

// rounded is a quantity for a picture: three figures are enough to see.
func rounded(n planfile.Number) string {
	const one = 1_000_000_000
	size := max(n, -n)
	switch {
	case size >= 100*one:
		return n.Fixed(0)
	case size >= 10*one:
		return bare(n.Fixed(1))
	}
	return bare(n.Fixed(2))
}

// bare drops zeros behind the point.
func bare(s string) string { return strings.TrimSuffix(strings.TrimRight(s, "0"), ".") }
