package chart

// canvas is what a picture is drawn on. Lengths are in units of the page; y
// grows downwards.
type canvas interface {
	// begin opens a group of things that belong together; end closes it.
	begin(g group)
	end()
	rect(b box, l look)
	line(points []point, s stroke)
	polygon(points []point, color string)
	text(t label)
}

// group is what a reader that cannot see is told of the things in it.
type group struct {
	kind  string // such as row, fill, hold; what it is in the drawing
	label string // in words
	load  string // of a load's bar
}

type point struct{ x, y float64 }

type box struct{ x, y, w, h float64 }

func (b box) right() float64  { return b.x + b.w }
func (b box) bottom() float64 { return b.y + b.h }

// look is how a box is filled: a colour, hatching over it, and an edge.
type look struct {
	fill  string // blank: none
	hatch hatch
	ink   string // of the hatching
	edge  string // blank: none
}

// hatch is a way of hatching.
type hatch string

// The ways of hatching. Each is told from the others without colour.
const (
	hatchNone  hatch = ""
	hatchSlash hatch = "slash" // ///
	hatchBack  hatch = "back"  // \\\
	hatchCross hatch = "cross" // both ways
	hatchDots  hatch = "dots"
	hatchBars  hatch = "bars"  // |||
	hatchLines hatch = "lines" // ===
	hatchWide  hatch = "wide"  // / / /, for what lies behind bars
)

// hatchStep is how far apart the strokes of a hatching are, and hatchPen how
// thick they are.
var (
	hatchStep = map[hatch]float64{
		hatchSlash: 5, hatchBack: 5, hatchCross: 6, hatchDots: 4, hatchBars: 4, hatchLines: 4, hatchWide: 9,
	}
	hatchPen = map[hatch]float64{
		hatchSlash: 1.4, hatchBack: 1.4, hatchCross: 1, hatchDots: 1.4, hatchBars: 1.2, hatchLines: 1.2, hatchWide: 1.2,
	}
)

// stroke is how a line is drawn.
type stroke struct {
	color string
	width float64
	dash  float64 // length of a dash and of the gap after it; 0: drawn through
}

// anchor says which end of a text stands at its place.
type anchor int

const (
	start anchor = iota
	middle
	end
)

// label is a line of text; its place is on the base line.
type label struct {
	point
	text   string
	size   float64
	bold   bool
	color  string // blank: ink
	anchor anchor
	turned bool // reads upwards
}

// noCanvas takes everything and keeps nothing: a page is measured on it.
type noCanvas struct{}

func (noCanvas) begin(group)             {}
func (noCanvas) end()                    {}
func (noCanvas) rect(box, look)          {}
func (noCanvas) line([]point, stroke)    {}
func (noCanvas) polygon([]point, string) {}
func (noCanvas) text(label)              {}
