package pdf

import "padturn/io/handout"

// code draws a QR code as black bars, sharp at any size. A text too long for
// one is not drawn: the sheet says all of it in words.
func (b *book) code(text string, x, y, side float64) {
	c, err := handout.Encode(text)
	if err != nil || b.dry {
		return
	}
	module := side / float64(c.Size+2*handout.Quiet)
	for _, run := range c.Dark {
		b.pdf.Rect(x+float64(run.From+handout.Quiet)*module, y+float64(run.Row+handout.Quiet)*module,
			float64(run.To-run.From)*module, module, "F")
	}
}
