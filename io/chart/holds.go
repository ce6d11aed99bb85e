package chart

import (
	"fmt"
	"strings"

	"padturn/io/planfile"
)

const (
	holdLaneHeight = 16.0
	bayScope       = "bay:"
	sprayerScope   = "sprayer:"
)

// holdLane draws the holds that stop spraying, each with its words, over as
// many lines as those that overlap need.
func (s *sheet) holdLane() {
	var holds []planfile.Hold
	for _, h := range s.d.Holds {
		if _, _, ok := s.clock.within(h.From, h.To); ok && !strings.HasPrefix(h.Scope, bayScope) {
			holds = append(holds, h)
		}
	}
	if len(holds) == 0 {
		return
	}
	lanes := pack(holds)
	top := s.y
	bottom := top + holdLaneHeight*float64(len(lanes)) + 4
	s.grid(top, bottom)
	s.c.begin(group{kind: kindRow, label: "Holds"})
	s.name("holds", (top+bottom)/2)
	for i, lane := range lanes {
		for _, h := range lane {
			s.hold(h, top+2+holdLaneHeight*float64(i))
		}
	}
	s.c.end()
	s.rowLine(bottom)
	s.y = bottom
}

// pack puts holds into the first line in which they meet no other.
func pack(holds []planfile.Hold) [][]planfile.Hold {
	var lanes [][]planfile.Hold
	for _, h := range holds {
		at := 0
		for at < len(lanes) && lanes[at][len(lanes[at])-1].To > h.From {
			at++
		}
		if at == len(lanes) {
			lanes = append(lanes, nil)
		}
		lanes[at] = append(lanes[at], h)
	}
	return lanes
}

func (s *sheet) hold(h planfile.Hold, top float64) {
	from, to, _ := s.clock.within(h.From, h.To)
	x := s.clock.x(from)
	b := box{x, top, s.clock.x(to) - x, holdLaneHeight - 2}
	l := lookHold
	l.edge = faint
	s.c.begin(group{kind: kindHold, label: holdWords(h)})
	s.c.rect(b, l)
	full := holdName(h)
	if h.Reason != "" {
		full += ": " + h.Reason
	}
	s.onPaper(b, full, holdName(h), h.Kind)
	s.c.end()
}

// onPaper writes the first text that fits into a hatched box, on a strip of
// paper.
func (s *sheet) onPaper(b box, choices ...string) {
	for _, text := range choices {
		width := s.faces.width(text, sizeSmall, false)
		if text == "" || width+8 > b.w {
			continue
		}
		s.c.rect(box{b.x + b.w/2 - width/2 - 2, b.y + b.h/2 - sizeSmall*0.55, width + 4, sizeSmall * 1.15}, look{fill: paper})
		s.inside(b, ink, false, text)
		return
	}
}

// holdName is such as rain, or wind: @drifts.
func holdName(h planfile.Hold) string {
	kind := h.Kind
	if kind == "" {
		kind = "hold"
	}
	if h.Scope == "" {
		return kind
	}
	return kind + ": " + strings.TrimPrefix(strings.TrimPrefix(h.Scope, "product:"), "field:")
}

func holdWords(h planfile.Hold) string {
	words := fmt.Sprintf("Hold, %s, %s to %s", holdName(h), hhmm(h.From), hhmm(h.To))
	if h.Reason != "" {
		words += ": " + h.Reason
	}
	return words
}

// sprayerHolds shades the holds that stop whatever a sprayer sprays.
func (s *sheet) sprayerHolds(sprayer string, top, bottom float64) {
	for _, h := range s.d.Holds {
		if h.Scope == "" || h.Scope == sprayerScope+sprayer {
			s.shadeHold(h, top, bottom)
		}
	}
}

// bayHolds shades the time that a bay is shut.
func (s *sheet) bayHolds(bay string, top, bottom float64) {
	for _, h := range s.d.Holds {
		if h.Scope == bayScope+bay {
			s.shadeHold(h, top, bottom)
		}
	}
}

func (s *sheet) shadeHold(h planfile.Hold, top, bottom float64) {
	from, to, ok := s.clock.within(h.From, h.To)
	if !ok {
		return
	}
	x := s.clock.x(from)
	b := box{x, top, s.clock.x(to) - x, bottom - top}
	s.c.begin(group{kind: kindHold, label: holdWords(h)})
	s.c.rect(b, lookHold)
	if strings.HasPrefix(h.Scope, bayScope) {
		s.onPaper(b, "shut")
	}
	s.c.end()
}
