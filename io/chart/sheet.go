package chart

import (
	"fmt"
	"strings"

	"padturn/io/planfile"
	"padturn/model"
)

// The page, in units. The least width is some 10 inches on a landscape sheet of
// Letter or A4, where a text of size 10 is 6.4 points high; a crowded day takes up
// to the most, for Tabloid or A3.
const (
	leastWidth = 1120.0
	mostWidth  = 1680.0
	margin     = 16.0
	plotLeft   = margin + 128 // names stand left of it
	rightNotes = 66 + margin  // room for notes right of the plot
)

// Sizes of text.
const (
	sizeTitle = 17.0
	sizeHead  = 12.0
	sizeText  = 10.5
	sizeSmall = 9.5
)

// Kinds of groups.
const (
	kindSection = "section"
	kindRow     = "row"
	kindHold    = "hold"
	kindRinse   = "rinse"
	kindChange  = "changeover"
	kindStock   = "stock"
)

// sheet is a page being drawn from top to bottom.
type sheet struct {
	c     canvas
	d     *planfile.Document
	faces *faces
	clock scale
	y     float64 // how far down the page is drawn
	index index
}

func newSheet(c canvas, d *planfile.Document) *sheet {
	return &sheet{c: c, d: d, faces: newFaces(), clock: newScale(d), index: newIndex(d)}
}

func (s *sheet) draw() {
	s.head()
	s.legend()
	if len(s.d.Loads) > 0 {
		s.bays()
		s.sprayers()
	}
	s.stocks()
	s.foot()
	s.y += margin
}

func (s *sheet) title() string { return "Pad plan" + strings.TrimPrefix(s.d.Title(), "Plan") }

// description is what the picture shows, for who cannot see it.
func (s *sheet) description() string {
	return s.subtitle() + ". A timeline of every bay and every sprayer with its fillings, drives, spraying and waiting, and below it the stock of each product over the day. Times are local."
}

func (s *sheet) subtitle() string {
	t := s.d.Totals
	parts := []string{model.Count(t.Loads, "load"), s.index.area(t.Acres),
		model.Count(len(s.d.Sprayers), "sprayer") + ", " + model.Count(len(s.d.Bays), "bay")}
	var last planfile.Time
	for _, f := range t.Finish {
		last = max(last, f.BackAt)
	}
	if last > 0 {
		parts = append(parts, "last back at "+hhmm(last))
	}
	if t.LeftAcres > 0 {
		parts = append(parts, s.index.area(t.LeftAcres)+" not sprayed")
	}
	return strings.Join(parts, " · ")
}

func (s *sheet) head() {
	s.y = margin + sizeTitle
	s.c.text(label{point: point{margin, s.y}, text: s.title(), size: sizeTitle, bold: true})
	x := margin + s.faces.width(s.title(), sizeTitle, true) + 14
	s.c.text(label{point: point{x, s.y}, text: s.faces.fit(s.subtitle(), sizeHead, false, s.clock.page-margin-x), size: sizeHead})
	s.y += 10
}

// foot says what is not in the picture, and what whoever fills from it keeps in
// mind.
func (s *sheet) foot() {
	const most = 12
	for i, u := range s.d.Unsprayed {
		if i == most {
			s.paragraph(fmt.Sprintf("... and %d more jobs that are not sprayed, or not wholly.", len(s.d.Unsprayed)-most), false)
			break
		}
		s.paragraph(fmt.Sprintf("Not sprayed: job %s, %s: %s", u.Job, s.index.area(u.Acres), u.Reason), true)
	}
	for _, w := range s.d.Warnings {
		s.paragraph("Warning: "+w, false)
	}
	s.y += 4
	for _, caution := range s.d.Cautions {
		s.paragraph(caution, false)
	}
}

func (s *sheet) paragraph(text string, strong bool) {
	for _, line := range s.faces.wrap(text, sizeSmall, s.clock.page-2*margin) {
		s.y += sizeSmall * 1.35
		l := label{point: point{margin, s.y}, text: line, size: sizeSmall, color: faint}
		if strong {
			l.color = ink
		}
		s.c.text(l)
	}
}

// name writes a row's name left of the plot, its last line at most.
func (s *sheet) name(text string, middleY float64) {
	room := plotLeft - margin - 8.0
	s.c.text(label{point: point{margin, middleY + sizeText*0.36},
		text: s.faces.fit(text, sizeText, true, room), size: sizeText, bold: true})
}

// note writes the first of the choices that fits right of the plot.
func (s *sheet) note(y float64, choices ...string) {
	const room = rightNotes - margin - 6
	for _, text := range choices {
		if s.faces.width(text, sizeSmall, false) <= room {
			s.c.text(label{point: point{s.clock.right + 6, y + sizeSmall*0.36}, text: text, size: sizeSmall})
			return
		}
	}
}

// inside writes a text in the middle of a bar where it fits whole, the first of
// the choices that does, and says whether one did.
func (s *sheet) inside(b box, color string, bold bool, choices ...string) bool {
	const pad = 2.5
	for _, text := range choices {
		if text == "" || b.h < sizeSmall || s.faces.width(text, sizeSmall, bold) > b.w-2*pad {
			continue
		}
		s.c.text(label{point: point{b.x + b.w/2, b.y + b.h/2 + sizeSmall*0.36}, text: text, size: sizeSmall,
			anchor: middle, color: color, bold: bold})
		return true
	}
	return false
}

// hhmm is a moment for people, the seconds left off.
func hhmm(t planfile.Time) string { return model.Clock(t).HHMM() }
