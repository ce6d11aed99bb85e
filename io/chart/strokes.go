package chart

import "math"

// hatch draws a box's hatching with the strokes that an SVG pattern has in the
// same place.
func (c *pixelCanvas) hatch(b box, l look) {
	step, pen := hatchStep[l.hatch], hatchPen[l.hatch]
	var outlines [][]point
	switch l.hatch {
	case hatchSlash, hatchWide:
		outlines = diagonals(b, step, pen, false)
	case hatchBack:
		outlines = diagonals(b, step, pen, true)
	case hatchCross:
		outlines = append(diagonals(b, step, pen, false), diagonals(b, step, pen, true)...)
	case hatchBars:
		for x := firstMiddle(b.x, step); x < b.right()+pen; x += step {
			outlines = append(outlines, clipped(b, box{x - pen/2, b.y, pen, b.h}))
		}
	case hatchLines:
		for y := firstMiddle(b.y, step); y < b.bottom()+pen; y += step {
			outlines = append(outlines, clipped(b, box{b.x, y - pen/2, b.w, pen}))
		}
	case hatchDots:
		for y := firstMiddle(b.y, step); y < b.bottom()+pen; y += step {
			for x := firstMiddle(b.x, step); x < b.right()+pen; x += step {
				outlines = append(outlines, clipped(b, box{x - pen/2, y - pen/2, pen, pen}))
			}
		}
	}
	if len(outlines) > 0 {
		c.fill(outlines, l.ink)
	}
}

// firstMiddle returns the middle of the tile that v lies in, or of the one
// before.
func firstMiddle(v, step float64) float64 { return (math.Floor(v/step) - 0.5) * step }

// clipped is what of a box lies in another, as an outline; nothing is an
// outline of no area.
func clipped(within, b box) []point {
	x0, x1 := max(within.x, b.x), max(max(within.x, b.x), min(within.right(), b.right()))
	y0, y1 := max(within.y, b.y), max(max(within.y, b.y), min(within.bottom(), b.bottom()))
	return []point{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
}

// diagonals are the slanted strokes of a hatching inside a box: x + y (or, back,
// x - y) is a multiple of step on them. A stroke keeps clear of the box's edge by
// being cut where its middle line meets it.
func diagonals(b box, step, pen float64, back bool) [][]point {
	var outlines [][]point
	low, high := b.x+b.y, b.right()+b.bottom()
	if back {
		low, high = b.x-b.bottom(), b.right()-b.y
	}
	for k := math.Ceil(low / step); k*step <= high; k++ {
		sum := k * step
		// On the stroke y runs from the box's top to its bottom, cut where x
		// leaves the box.
		y0, y1 := max(b.y, sum-b.right()), min(b.bottom(), sum-b.x)
		x := func(y float64) float64 { return sum - y }
		if back {
			y0, y1 = max(b.y, b.x-sum), min(b.bottom(), b.right()-sum)
			x = func(y float64) float64 { return sum + y }
		}
		if y1 > y0 {
			outlines = append(outlines, thick(point{x(y0), y0}, point{x(y1), y1}, pen, 0))
		}
	}
	return outlines
}

// line draws a line through points, with square ends so that corners are whole.
func (c *pixelCanvas) line(points []point, s stroke) {
	var outlines [][]point
	for i := 1; i < len(points); i++ {
		if s.dash > 0 {
			outlines = append(outlines, dashes(points[i-1], points[i], s)...)
			continue
		}
		outlines = append(outlines, thick(points[i-1], points[i], s.width, reachOf(s, len(points))))
	}
	c.fill(outlines, s.color)
}

// reachOf is how far the pieces of a line reach beyond their ends: a single piece
// ends where it ends.
func reachOf(s stroke, points int) float64 {
	if points == 2 {
		return 0
	}
	return s.width / 2
}

func dashes(a, b point, s stroke) [][]point {
	length := math.Hypot(b.x-a.x, b.y-a.y)
	var outlines [][]point
	for from := 0.0; from < length; from += 2 * s.dash {
		to := min(from+s.dash, length)
		outlines = append(outlines, thick(between(a, b, from/length), between(a, b, to/length), s.width, 0))
	}
	return outlines
}

func between(a, b point, share float64) point {
	return point{a.x + (b.x-a.x)*share, a.y + (b.y-a.y)*share}
}

// thick is the outline of a piece of line, reach longer at both ends. All of
// them run the same way round, so those that overlap do not cancel out.
func thick(a, b point, width, reach float64) []point {
	length := math.Hypot(b.x-a.x, b.y-a.y)
	if length == 0 {
		return []point{a, a, a}
	}
	ux, uy := (b.x-a.x)/length, (b.y-a.y)/length
	nx, ny := -uy*width/2, ux*width/2
	a = point{a.x - ux*reach, a.y - uy*reach}
	b = point{b.x + ux*reach, b.y + uy*reach}
	return []point{{a.x + nx, a.y + ny}, {b.x + nx, b.y + ny}, {b.x - nx, b.y - ny}, {a.x - nx, a.y - ny}}
}
