package chart

import (
	"math"
	"slices"

	"padturn/io/planfile"
)

// scale turns moments into places of a plot on a page.
type scale struct {
	from, to planfile.Time
	right    float64 // end of the plot
	page     float64 // width of the page
}

const hour planfile.Time = 3600

// newScale covers the opening and all that is done, in whole hours; the closing
// and deliveries too where they are not far from it, so that a short day is not
// drawn small.
func newScale(d *planfile.Document) scale {
	s := scale{from: d.Day.Opens, to: d.Day.Opens}
	take := func(from, to planfile.Time) { s.from, s.to = min(s.from, from), max(s.to, to) }
	for _, t := range d.Turns {
		take(t.From, t.To)
	}
	for _, l := range d.Loads {
		take(l.SetupStart, max(l.End, l.BackAt))
	}
	for _, c := range d.Changeovers {
		take(c.At, c.At)
	}
	near := s.to + 2*hour
	if d.Day.Closes <= near || len(d.Loads) == 0 {
		take(d.Day.Closes, d.Day.Closes)
	}
	for _, e := range d.Stock {
		if e.Event == planfile.EventDelivery && e.At <= near {
			take(e.At, e.At)
		}
	}
	s.from = s.from / hour * hour
	s.to = (s.to + hour - 1) / hour * hour
	if s.to <= s.from {
		s.to = s.from + hour
	}
	s.page = pageFor(d, s.to-s.from)
	s.right = s.page - rightNotes
	return s
}

// pageFor makes the page as wide as it takes to write a name up half of the
// fillings, within what can be printed.
func pageFor(d *planfile.Document, day planfile.Time) float64 {
	if len(d.Loads) == 0 {
		return leastWidth
	}
	var lengths []planfile.Time
	for _, l := range d.Loads {
		lengths = append(lengths, l.End-l.Start)
	}
	slices.Sort(lengths)
	median := max(lengths[len(lengths)/2], 1)
	plot := sizeSmall * float64(day) / float64(median)
	return math.Ceil(min(mostWidth, max(leastWidth, plot+plotLeft+rightNotes)))
}

func (s scale) x(t planfile.Time) float64 {
	share := float64(t-s.from) / float64(s.to-s.from)
	return plotLeft + share*(s.right-plotLeft)
}

// within cuts a span to what the scale covers; ok is false where that is
// nothing.
func (s scale) within(from, to planfile.Time) (a, b planfile.Time, ok bool) {
	a, b = max(from, s.from), min(to, s.to)
	return a, b, a < b
}

// bar is the box of a span, of a height around the middle of a row.
func (s scale) bar(from, to planfile.Time, middleY, height float64) box {
	x := s.x(from)
	return box{x, middleY - height/2, s.x(to) - x, height}
}

// step is how far apart the lines of the grid are: half an hour where there is
// room for its label.
func (s scale) step() planfile.Time {
	room := 36.0
	if s.to >= 24*hour {
		room = 52 // 00:30+1
	}
	for _, step := range []planfile.Time{hour / 2, hour, 2 * hour, 4 * hour} {
		if s.x(s.from+step)-s.x(s.from) >= room {
			return step
		}
	}
	return 6 * hour
}
