package chart

import (
	"strings"

	"codeberg.org/go-fonts/dejavu/dejavusans"
	"codeberg.org/go-fonts/dejavu/dejavusansbold"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// fontFamily is what an SVG asks for. DejaVu Sans is among the widest of the
// common faces, so a text that fits in it fits in what stands in for it.
const fontFamily = "'DejaVu Sans', Verdana, Geneva, 'Noto Sans', Arial, sans-serif"

// faces measures text. It is not for more than one goroutine.
type faces struct{ plain, bold *face }

func newFaces() *faces {
	return &faces{newFace(dejavusans.TTF), newFace(dejavusansbold.TTF)}
}

func (f *faces) of(bold bool) *face {
	if bold {
		return f.bold
	}
	return f.plain
}

// width returns how long a text is.
func (f *faces) width(text string, size float64, bold bool) float64 {
	return f.of(bold).width(text) * size
}

// fit returns the text, or as much of it as there is room for: an ellipsis
// stands for its middle, since what tells names apart is often at their end.
// It is blank where fewer than four characters would be left.
func (f *faces) fit(text string, size float64, bold bool, room float64) string {
	if f.width(text, size, bold) <= room {
		return text
	}
	const least = 4
	runes := []rune(text)
	for n := len(runes) - 1; n >= least; n-- {
		tail := n / 3
		head := strings.TrimRight(string(runes[:n-tail]), " ,-")
		short := head + "…" + strings.TrimLeft(string(runes[len(runes)-tail:]), " ")
		if f.width(short, size, bold) <= room {
			return short
		}
	}
	return ""
}

// wrap breaks a text into lines at its blanks; a word that is longer than a
// line is cut with an ellipsis.
func (f *faces) wrap(text string, size, room float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		word = f.fit(word, size, false, room)
		if longer := line + " " + word; line != "" && f.width(longer, size, false) <= room {
			line = longer
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		line = word
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// face is a typeface at one unit of size.
type face struct {
	font     *sfnt.Font
	buf      sfnt.Buffer
	advances map[rune]float64
}

func newFace(ttf []byte) *face {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		panic("chart: the typeface that is part of the program cannot be read: " + err.Error())
	}
	return &face{font: f, advances: map[rune]float64{}}
}

// metricPpem is the size that advances are read at.
const metricPpem = 2048

func (f *face) width(text string) float64 {
	var sum float64
	for _, r := range text {
		sum += f.advance(r)
	}
	return sum
}

// advance returns how wide a character is. One that the face lacks comes from
// another face, where it may be as wide as it is high.
func (f *face) advance(r rune) float64 {
	if w, ok := f.advances[r]; ok {
		return w
	}
	w := 1.0
	if i, err := f.font.GlyphIndex(&f.buf, r); err == nil && i != 0 {
		if a, err := f.font.GlyphAdvance(&f.buf, i, fixed.I(metricPpem), font.HintingNone); err == nil {
			w = float64(a) / 64 / metricPpem
		}
	}
	f.advances[r] = w
	return w
}
