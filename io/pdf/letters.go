package pdf

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"golang.org/x/image/font/sfnt"
)

// letters knows which characters the fonts have. A character that they do not
// have would be printed as a box or, beyond the basic plane, end the program.
type letters struct {
	fonts  []*sfnt.Font
	known  map[rune]bool
	buffer sfnt.Buffer
}

func newLetters(fonts ...[]byte) (*letters, error) {
	l := &letters{known: map[rune]bool{}}
	for _, data := range fonts {
		f, err := sfnt.Parse(data)
		if err != nil {
			return nil, fmt.Errorf("the PDF's font cannot be read: %w", err)
		}
		l.fonts = append(l.fonts, f)
	}
	return l, nil
}

// has says whether all fonts have a character.
func (l *letters) has(r rune) bool {
	known, asked := l.known[r]
	if asked {
		return known
	}
	known = r <= 0xFFFF
	for _, f := range l.fonts {
		glyph, err := f.GlyphIndex(&l.buffer, r)
		known = known && err == nil && glyph != 0
	}
	l.known[r] = known
	return known
}

// printable puts a question mark in place of what cannot be printed.
func (l *letters) printable(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t' || r == '\u00a0':
			return ' '
		case l.has(r):
			return r
		}
		return '?'
	}, text)
}

// missing lists what was asked for in vain, by code.
func (l *letters) missing() []rune {
	var out []rune
	for _, r := range slices.Sorted(maps.Keys(l.known)) {
		if !l.known[r] {
			out = append(out, r)
		}
	}
	return out
}
