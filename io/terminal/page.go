package terminal

import (
	"io"
	"strings"
	"unicode"

	"github.com/jedib0t/go-pretty/v6/text"

	"padturn/io/planfile"
)

// page gathers the lines to print.
type page struct {
	doc   *planfile.Document
	units units
	width int
	out   strings.Builder
}

func newPage(d *planfile.Document, width int) *page {
	if width == 0 {
		width = DefaultWidth
	}
	return &page{doc: d, units: units{metric: d.Day.Units == "metric"}, width: max(width, MinWidth)}
}

func (p *page) writeTo(w io.Writer) error {
	_, err := io.WriteString(w, p.out.String())
	return err
}

// heading starts a section: a blank line, but for the first, and a title.
func (p *page) heading(title string) {
	if p.out.Len() > 0 {
		p.out.WriteByte('\n')
	}
	p.paragraph(title)
}

// paragraph breaks text into lines at blanks.
func (p *page) paragraph(words string) { p.item("", words) }

// item is a paragraph whose further lines are set in as far as its mark is
// wide.
func (p *page) item(mark, words string) {
	indent := text.StringWidth(mark)
	for i, line := range wrap(clean(words), p.width-indent) {
		lead := mark
		if i > 0 {
			lead = strings.Repeat(" ", indent)
		}
		p.line(lead + strings.TrimSpace(line))
	}
}

// wrap breaks text into lines of at most that width. The library lets a letter
// of two cells stick out by one where it has to break a word; one cell less
// keeps it in.
func wrap(words string, width int) []string {
	lines := strings.Split(text.WrapSoft(words, width), "\n")
	for _, line := range lines {
		if text.StringWidth(strings.TrimSpace(line)) > width {
			return strings.Split(text.WrapSoft(words, width-1), "\n")
		}
	}
	return lines
}

func (p *page) line(s string) {
	p.out.WriteString(strings.TrimRight(s, " "))
	p.out.WriteByte('\n')
}

// clean takes out what would move the cursor or change colours: a plan file
// may come from anywhere.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case !unicode.IsPrint(r):
			return '?'
		}
		return r
	}, s)
}
