package chart

import (
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"
	"strconv"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// pixelScale is pixels a unit: 224 an inch where the page is printed 10 inches
// wide.
const pixelScale = 2

// edgePen is how thick the edge of a box is, in units.
const edgePen = 0.9

// pixelCanvas draws with the rasteriser and the font reader of the Go project.
type pixelCanvas struct {
	img   *image.RGBA
	faces *faces
	ras   vector.Rasterizer
	buf   sfnt.Buffer
}

func newPixelCanvas(width, height float64, f *faces) *pixelCanvas {
	size := image.Rect(0, 0, int(math.Ceil(width*pixelScale)), int(math.Ceil(height*pixelScale)))
	c := &pixelCanvas{img: image.NewRGBA(size), faces: f}
	draw.Draw(c.img, size, image.NewUniform(colorOf(paper)), image.Point{}, draw.Src)
	return c
}

func (c *pixelCanvas) writeTo(w io.Writer) error {
	return png.Encode(w, c.img)
}

func (c *pixelCanvas) begin(group) {}
func (c *pixelCanvas) end()        {}

func (c *pixelCanvas) rect(b box, l look) {
	if l.fill != "" {
		c.polygon([]point{{b.x, b.y}, {b.right(), b.y}, {b.right(), b.bottom()}, {b.x, b.bottom()}}, l.fill)
	}
	c.hatch(b, l)
	if l.edge != "" {
		corners := []point{{b.x, b.y}, {b.right(), b.y}, {b.right(), b.bottom()}, {b.x, b.bottom()}, {b.x, b.y}}
		c.line(corners, stroke{color: l.edge, width: edgePen})
	}
}

// polygon fills what its corners enclose.
func (c *pixelCanvas) polygon(points []point, color string) {
	c.fill([][]point{points}, color)
}

// fill fills outlines in one go, corners in units. Only the pixels around them
// are touched.
func (c *pixelCanvas) fill(outlines [][]point, color string) {
	c.paint(bounds(outlines), color, func(place func(point) (float32, float32)) {
		for _, outline := range outlines {
			for i, p := range outline {
				if x, y := place(p); i == 0 {
					c.ras.MoveTo(x, y)
				} else {
					c.ras.LineTo(x, y)
				}
			}
			c.ras.ClosePath()
		}
	})
}

// paint fills the paths that trace draws within b with a colour. Trace is given
// what turns a point of the page into one of the rasteriser.
func (c *pixelCanvas) paint(b box, color string, trace func(place func(point) (float32, float32))) {
	area := image.Rect(
		int(math.Floor(b.x*pixelScale))-1, int(math.Floor(b.y*pixelScale))-1,
		int(math.Ceil(b.right()*pixelScale))+1, int(math.Ceil(b.bottom()*pixelScale))+1)
	c.ras.Reset(area.Dx(), area.Dy())
	trace(func(p point) (float32, float32) {
		return float32(p.x*pixelScale - float64(area.Min.X)), float32(p.y*pixelScale - float64(area.Min.Y))
	})
	c.ras.Draw(c.img, area, image.NewUniform(colorOf(color)), image.Point{})
}

func bounds(outlines [][]point) box {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, outline := range outlines {
		for _, p := range outline {
			x0, y0, x1, y1 = min(x0, p.x), min(y0, p.y), max(x1, p.x), max(y1, p.y)
		}
	}
	return box{x0, y0, x1 - x0, y1 - y0}
}

// text draws the outlines of the glyphs, turned where the label is.
func (c *pixelCanvas) text(t label) {
	f := c.faces.of(t.bold)
	length := f.width(t.text) * t.size
	along := map[anchor]float64{start: 0, middle: -length / 2, end: -length}[t.anchor]
	at := func(x, y float64) point { return point{t.x + x, t.y + y} }
	area := box{t.x + along - t.size, t.y - 1.5*t.size, length + 2*t.size, 2.5 * t.size}
	if t.turned {
		at = func(x, y float64) point { return point{t.x + y, t.y - x} }
		area = box{t.x - 1.5*t.size, t.y - along - length - t.size, 2.5 * t.size, length + 2*t.size}
	}
	colour := t.color
	if colour == "" {
		colour = ink
	}
	c.paint(area, colour, func(place func(point) (float32, float32)) {
		for _, r := range t.text {
			c.glyph(f, r, func(x, y float64) (float32, float32) { return place(at(along+x*t.size, y*t.size)) })
			along += f.advance(r) * t.size
		}
	})
}

// glyph traces a character's outline; place takes points of a character of size
// 1. A character that the face lacks is traced as the face shows such ones.
func (c *pixelCanvas) glyph(f *face, r rune, place func(x, y float64) (float32, float32)) {
	i, err := f.font.GlyphIndex(&c.buf, r)
	if err != nil {
		return
	}
	segments, err := f.font.LoadGlyph(&c.buf, i, fixed.I(metricPpem), nil)
	if err != nil {
		return
	}
	at := func(p fixed.Point26_6) (float32, float32) {
		return place(float64(p.X)/64/metricPpem, float64(p.Y)/64/metricPpem)
	}
	for k, s := range segments {
		x, y := at(s.Args[0])
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			if k > 0 {
				c.ras.ClosePath()
			}
			c.ras.MoveTo(x, y)
		case sfnt.SegmentOpLineTo:
			c.ras.LineTo(x, y)
		case sfnt.SegmentOpQuadTo:
			x1, y1 := at(s.Args[1])
			c.ras.QuadTo(x, y, x1, y1)
		case sfnt.SegmentOpCubeTo:
			x1, y1 := at(s.Args[1])
			x2, y2 := at(s.Args[2])
			c.ras.CubeTo(x, y, x1, y1, x2, y2)
		}
	}
	c.ras.ClosePath()
}

// colorOf reads a colour of the palette.
func colorOf(hex string) color.RGBA {
	v, err := strconv.ParseUint(hex[1:], 16, 32)
	if err != nil {
		panic("chart: not a colour: " + hex)
	}
	return color.RGBA{uint8(v >> 16), uint8(v >> 8), uint8(v), 0xff}
}
