package pdf

import (
	"fmt"
	"strings"

	"codeberg.org/go-pdf/fpdf"

	"padturn/io/handout"
)

// Measures in mm.
const (
	family   = "d"
	margin   = 12.0
	footRoom = 9.0 // for the line at the foot of a page
	point    = 25.4 / 72
	leading  = 1.22 // height of a line, in letters
)

// book is a PDF being laid out from top to bottom. y is where the page goes on.
type book struct {
	pdf           *fpdf.Fpdf
	day           *handout.Handout
	letters       *letters
	total         int
	width, height float64
	y             float64
	title         string // of the pages at hand
	// scale is what letters and rows are shrunk by, so that a sheet gets onto
	// one page. On a dry run nothing is drawn: only y moves.
	scale float64
	dry   bool
}

func (b *book) bottom() float64 { return b.height - margin - footRoom }

// inner is the width between the margins.
func (b *book) inner() float64 { return b.width - 2*margin }

// page begins a page; the title stands at its top and its foot.
func (b *book) page(title string) {
	b.title = title
	b.pdf.AddPage()
	b.y = margin
	b.foot()
}

// more begins another page under the same title.
func (b *book) more() {
	b.page(b.title)
	b.line(margin, b.y, b.inner(), 11, "B", left, b.title+" (continued)")
	b.y += 7
}

// need makes sure that there is room for so much, on another page if not here.
// It says whether it took another.
func (b *book) need(height float64) bool {
	if b.dry || b.y+height <= b.bottom() {
		return false
	}
	b.more()
	return true
}

// foot says what page this is, of which plan.
func (b *book) foot() {
	scale := b.scale
	b.scale = 1
	defer func() { b.scale = scale }()
	y := b.height - margin - 4
	b.stroke(margin, y-1, b.width-margin, y-1, 0.2)
	plan := "Plan"
	if b.day.Date != "" {
		plan += " of " + b.day.Date
	}
	if b.day.Replan != "" {
		plan += ", " + b.day.Replan
	}
	plan += ", revision " + b.day.Revision
	b.line(margin, y, b.inner()*0.5, 8, "B", left, plan)
	b.line(margin+b.inner()*0.52, y, b.inner()*0.3, 8, "", left, b.title)
	b.line(margin+b.inner()*0.82, y, b.inner()*0.18, 8, "B", right, fmt.Sprintf("page %d of %d", b.pdf.PageNo(), b.total))
}

// How a line stands in its width.
const (
	left  = "L"
	right = "R"
)

func (b *book) font(size float64, style string) { b.pdf.SetFont(family, style, size) }

// line writes one line with its top at y. A text too long for its width gets
// smaller, down to smallest, and then loses its middle: names that look alike
// differ at their ends.
func (b *book) line(x, y, w, size float64, style, align, text string) {
	if b.dry {
		return
	}
	size *= b.scale
	text = b.letters.printable(text)
	text, size = b.fit(text, w, size, style)
	b.font(size, style)
	if align == right {
		x += w - b.pdf.GetStringWidth(text)
	}
	b.pdf.Text(x, y+size*point*0.95, text)
}

// smallest is what a text may shrink to, as a share of its size.
const smallest = 0.75

func (b *book) fit(text string, w, size float64, style string) (string, float64) {
	b.font(size, style)
	wide := b.pdf.GetStringWidth(text)
	if wide <= w {
		return text, size
	}
	size *= max(smallest, w/wide)
	b.font(size, style)
	for keep := len([]rune(text)); keep > 2 && b.pdf.GetStringWidth(text) > w; keep-- {
		text = withoutMiddle(text, keep-1)
	}
	return text, size
}

// withoutMiddle shortens a text to so many characters.
func withoutMiddle(text string, keep int) string {
	runes := []rune(strings.ReplaceAll(text, "…", ""))
	keep = min(keep, len(runes)) - 1
	head := (keep*3 + 4) / 5
	return string(runes[:head]) + "…" + string(runes[len(runes)-(keep-head):])
}

// wrap divides a text into lines of at most a width, at blanks where it can.
func (b *book) wrap(text string, w, size float64, style string) []string {
	b.font(size*b.scale, style)
	lines := b.pdf.SplitText(b.letters.printable(text), w)
	for i := range lines {
		lines[i] = strings.TrimSpace(lines[i])
	}
	return lines
}

// paragraph writes a text over as many lines, and pages, as it needs; lead
// stands before its first line.
func (b *book) paragraph(lead, text string, size float64, style string) {
	indent := 0.0
	if lead != "" {
		b.font(size*b.scale, style)
		indent = b.pdf.GetStringWidth(lead) + 1
	}
	high := b.high(size)
	for i, text := range b.wrap(text, b.inner()-indent, size, style) {
		b.need(high)
		if i == 0 && lead != "" {
			b.line(margin, b.y, indent+1, size, style, left, lead)
		}
		b.line(margin+indent, b.y, b.inner()-indent+1, size, style, left, text)
		b.y += high
	}
}

// heading writes a section's title, and keeps it with what follows.
func (b *book) heading(text string, follows float64) {
	b.need(8 + follows)
	b.y += 2.5 * b.scale
	b.line(margin, b.y, b.inner(), 11, "B", left, text)
	b.y += 5.5 * b.scale
}

// high is the height of a line of a text.
func (b *book) high(size float64) float64 { return size * b.scale * point * leading }

// stroke draws a line that is so many mm thick.
func (b *book) stroke(x1, y1, x2, y2, thick float64) {
	if b.dry {
		return
	}
	b.pdf.SetLineWidth(thick)
	b.pdf.Line(x1, y1, x2, y2)
}

// frame draws a rectangle.
func (b *book) frame(x, y, w, h, thick float64) {
	if b.dry {
		return
	}
	b.pdf.SetLineWidth(thick)
	b.pdf.Rect(x, y, w, h, "D")
}

// scales are what a sheet may be shrunk by; the boxes stay large enough for a
// hand in a glove, and the letters for arm's length.
var scales = []float64{1, 0.94, 0.88, 0.82, 0.77}

// fitted draws a part at the largest scale at which it ends on this page. One
// that would not fit at any is drawn at full size over several.
func (b *book) fitted(part func()) {
	top := b.y
	b.dry = true
	full := scales[0]
	for _, b.scale = range scales {
		b.y = top
		part()
		if b.y <= b.bottom() {
			full = b.scale
			break
		}
	}
	b.dry, b.scale, b.y = false, full, top
	part()
	b.scale = 1
}
