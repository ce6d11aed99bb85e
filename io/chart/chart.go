// Package chart draws a plan as a picture: bays and sprayers over the day, and
// the stock of each product below them, as SVG or PNG.
//
// What a bar means is told by its shape, its hatching and its words; colour
// only helps, so that a grey print and a colour-blind reader lose nothing. The
// same plan gives the same bytes. Both forms come from one drawing: what draws
// speaks to a [canvas], and there is one of SVG and one of pixels.
//
// It shows what is in the plan's document and computes nothing of it anew. It
// has no printed sheets (they hold the amounts) and nothing that moves.
package chart

import (
	"bytes"
	"io"

	"padturn/io/planfile"
)

// SVG returns the plan's picture as SVG, 1120 units wide or, on a crowded day,
// more.
func SVG(d *planfile.Document) []byte {
	c := &svgCanvas{}
	s := newSheet(c, d)
	s.draw()
	var out bytes.Buffer
	c.writeTo(&out, s)
	return out.Bytes()
}

// PNG writes the plan's picture as PNG, two pixels for each unit of the
// SVG. Its error is the writer's.
func PNG(w io.Writer, d *planfile.Document) error {
	measured := newSheet(noCanvas{}, d)
	measured.draw()
	c := newPixelCanvas(measured.clock.page, measured.y, measured.faces)
	newSheet(c, d).draw()
	return c.writeTo(w)
}
