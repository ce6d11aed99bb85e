package handout

import (
	"fmt"

	"rsc.io/qr"
)

// Code is a QR code: a square of so many modules, and the dark ones of it.
type Code struct {
	Size int
	Dark []Run
}

// Run is dark modules beside each other: those from From to before To.
type Run struct{ Row, From, To int }

// Quiet is how many modules of white a code needs around it (ISO/IEC 18004).
const Quiet = 4

// Encode makes the code of a text, with enough redundancy for a wet sheet. Its
// error is a text that no code can hold.
func Encode(text string) (Code, error) {
	c, err := qr.Encode(text, qr.M)
	if err != nil {
		return Code{}, fmt.Errorf("%.40q is too long for a QR code: %w", text, err)
	}
	out := Code{Size: c.Size}
	for y := range c.Size {
		for x := 0; x < c.Size; x++ {
			from := x
			for x < c.Size && c.Black(x, y) {
				x++
			}
			if x > from {
				out.Dark = append(out.Dark, Run{y, from, x})
			}
		}
	}
	return out, nil
}
