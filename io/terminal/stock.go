package terminal

import (
	"fmt"

	"padturn/io/planfile"
)

// level is how a product's stock goes through the day, in its stock unit.
type level struct {
	product, unit                        string
	opening, delivered, used, end, least planfile.Number
	low                                  bool
	lowFrom                              planfile.Time
	lowAtOpening                         bool
}

// levels adds up the stock events of each product, in their order.
func (p *page) levels() []*level {
	var out []*level
	byName := map[string]*level{}
	for _, e := range p.doc.Stock {
		l := byName[e.Product]
		if l == nil {
			l = &level{product: e.Product, unit: e.Unit, least: e.Level}
			byName[e.Product], out = l, append(out, l)
		}
		l.add(e)
	}
	return out
}

func (l *level) add(e planfile.StockEvent) {
	switch {
	case e.Event == "opening":
		l.opening += e.Change
	case e.Change > 0:
		l.delivered += e.Change
	default:
		l.used -= e.Change
	}
	l.end, l.least = e.Level, min(l.least, e.Level)
	if e.Low && !l.low {
		l.low, l.lowFrom, l.lowAtOpening = true, e.At, e.Event == "opening"
	}
}

// since says from when on it is low.
func (l *level) since() string {
	if l.lowAtOpening {
		return "from the opening"
	}
	return "from " + hhmm(l.lowFrom)
}

// stock prints the stock at the end of the day, with what ran low and when,
// and the pad's water.
func (p *page) stock() {
	p.heading("Stock")
	columns := []column{
		{title: "product", clip: true},
		{title: "unit"},
		{title: "opening", right: true, spare: 1},
		{title: "delivered", right: true, spare: 2},
		{title: "used", right: true},
		{title: "end", right: true},
		{title: "low"},
	}
	var rows [][]string
	for _, l := range p.levels() {
		low := "-"
		if l.low {
			low = l.since()
		}
		rows = append(rows, []string{
			l.product, l.unit, stockAmount(l.opening), stockAmount(l.delivered), stockAmount(l.used), stockAmount(l.end), low,
		})
	}
	if len(rows) == 0 {
		p.paragraph("No product was used.")
	} else {
		p.table(columns, rows, nil)
	}
	p.water()
}

func (p *page) water() {
	events := p.doc.Water
	if len(events) == 0 {
		return
	}
	last := events[len(events)-1]
	words := ""
	if last.WaterGal != nil {
		least := last
		for _, e := range events {
			if e.WaterGal != nil && *e.WaterGal < *least.WaterGal {
				least = e
			}
		}
		words = fmt.Sprintf("Water: %s %s after the last use, lowest %s at %s. ",
			p.units.volume(*last.WaterGal), p.units.volumeUnit(), p.units.volume(*least.WaterGal), hhmm(least.At))
	}
	p.paragraph(words + fmt.Sprintf("Rinsate: %s %s.", p.units.volume(last.RinsateGal), p.units.volumeUnit()))
}
