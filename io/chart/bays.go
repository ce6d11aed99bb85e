package chart

import (
	"fmt"

	"padturn/io/planfile"
	"padturn/model"
)

// Shares of a row's height that bars take: what a bar is shows in grey too.
const (
	shareSetup    = 0.62
	shareWait     = 0.62
	shareHeld     = 0.45
	sharePause    = 0.62
	shareCleanout = 0.8
)

// The height of a bay's bars where every load's name fits into its bar, and the
// most that names which are turned may ask for.
const (
	flatBay    = 22.0
	highBay    = 96.0
	barPad     = 4.0
	insideTick = 4.0 // a changeover inside a filling, at its foot
)

func (s *sheet) bays() {
	s.section("Bays")
	height := s.bayHeight()
	for _, b := range s.d.Bays {
		s.bay(b.Bay, height)
	}
}

// bayHeight is what the names of the loads need: they are turned where some
// filling is too short for its own.
func (s *sheet) bayHeight() float64 {
	height := flatBay
	for i := range s.d.Loads {
		l := &s.d.Loads[i]
		name := s.faces.width(l.Load, sizeSmall, true)
		if name > s.clock.x(l.End)-s.clock.x(l.Start)-2*barPad {
			height = max(height, min(highBay, max(name, s.faces.width(l.Mix, sizeSmall, false))+2*barPad+insideTick))
		}
	}
	return height
}

func (s *sheet) bay(name string, height float64) {
	top, bottom := s.y, s.y+height+8
	mid := (top + bottom) / 2
	s.outside(s.d.Day.Opens, s.bayUntil(), top, bottom)
	s.bayHolds(name, top, bottom)
	s.grid(top, bottom)
	loads := 0
	for i := range s.d.Loads {
		if s.d.Loads[i].Bay == name {
			loads++
		}
	}
	s.c.begin(group{kind: kindRow, label: fmt.Sprintf("Bay %s, %s", name, model.Count(loads, "load"))})
	s.name(name, mid)
	for i := range s.d.Loads {
		if l := &s.d.Loads[i]; l.Bay == name {
			s.setup(l, mid, height)
			s.filling(l, s.clock.bar(l.Start, l.End, mid, height))
		}
	}
	s.note(mid, model.Count(loads, "load"))
	s.c.end()
	s.rowLine(bottom)
	s.y = bottom
}

// bayUntil is when the last load may end.
func (s *sheet) bayUntil() planfile.Time {
	if s.d.Day.OvertimeUntil != nil {
		return *s.d.Day.OvertimeUntil
	}
	return s.d.Day.Closes
}

// setup draws the rinse and the changeovers before a load.
func (s *sheet) setup(l *planfile.Load, mid, height float64) {
	if l.Rinse != "" {
		from, known := s.index.rinses[l.Load]
		if !known {
			from = l.SetupStart
		}
		to := min(from+s.index.rinseS[l.Rinse], l.Start)
		s.bar(kindRinse, fmt.Sprintf("Rinse (%s) before %s, %s to %s", l.Rinse, l.Load, hhmm(from), hhmm(to)), l.Load,
			s.clock.bar(from, to, mid, height*shareSetup), lookRinse)
	}
	for _, c := range s.d.Changeovers {
		if c.Load != l.Load || c.Inside {
			continue
		}
		to := min(c.At+s.index.changeoverS(), l.Start)
		s.bar(kindChange, fmt.Sprintf("%s, before %s, %s to %s", changeWords(c), l.Load, hhmm(c.At), hhmm(to)), l.Load,
			s.clock.bar(c.At, to, mid, height*shareSetup), lookChangeover)
	}
}

func changeWords(c planfile.Changeover) string {
	switch c.Off {
	case "":
		return fmt.Sprintf("Connection %d: %s on", c.Connection, c.On)
	case c.On:
		return fmt.Sprintf("Connection %d: fresh %s", c.Connection, c.On)
	}
	return fmt.Sprintf("Connection %d: %s off, %s on", c.Connection, c.Off, c.On)
}

// filling draws a load's filling with its name, and ticks for the changeovers
// inside it at its foot, clear of the name.
func (s *sheet) filling(l *planfile.Load, b box) {
	words := fmt.Sprintf("Fill %s, %s gal of %s, on %s, %s to %s",
		l.Load, l.Gal.Fixed(0), l.Mix, l.Bay, hhmm(l.Start), hhmm(l.End))
	s.c.begin(group{kind: "fill", label: words, load: l.Load})
	s.c.rect(b, lookFill)
	for _, c := range s.d.Changeovers {
		if c.Load == l.Load && c.Inside {
			x := s.clock.x(c.At)
			s.c.line([]point{{x, b.bottom() - insideTick}, {x, b.bottom()}}, strokeInside)
		}
	}
	b.h -= insideTick
	s.fillName(l, b)
	s.c.end()
}

// fillName writes the load's name along the bar or up it, and the mix's below
// or beside it where there is room for two lines.
func (s *sheet) fillName(l *planfile.Load, b box) {
	const line = sizeSmall * 1.2
	if s.faces.width(l.Load, sizeSmall, true) <= b.w-2*barPad {
		mix := s.faces.fit(l.Mix, sizeSmall, false, b.w-2*barPad)
		if mix == "" || b.h < 2*line+4 {
			s.inside(b, paper, true, l.Load)
			return
		}
		half := b.h / 2
		s.inside(box{b.x, b.y + half - line, b.w, line}, paper, true, l.Load)
		s.inside(box{b.x, b.y + half, b.w, line}, paper, false, mix)
		return
	}
	s.turnedName(l, b)
}

// leastTurned is the shortest filling that a turned name has room in.
const leastTurned = 8.0

func (s *sheet) turnedName(l *planfile.Load, b box) {
	if b.w < leastTurned {
		return
	}
	const line = sizeSmall * 1.2
	size, room := min(sizeSmall, b.w/1.15), b.h-2*barPad
	texts := []label{{text: s.faces.fit(l.Load, size, true, room), bold: true}}
	if b.w >= 2*line {
		texts = append(texts, label{text: s.faces.fit(l.Mix, size, false, room)})
	}
	x := b.x + b.w/2 - line*float64(len(texts)-1)/2
	for i, t := range texts {
		if t.text == "" {
			continue
		}
		t.point = point{x + float64(i)*line + size*0.36, b.y + b.h/2}
		t.size, t.color, t.anchor, t.turned = size, paper, middle, true
		s.c.text(t)
	}
}

// bar draws a bar without a text of its own.
func (s *sheet) bar(kind, words, load string, b box, l look) {
	if b.w <= 0 {
		return
	}
	s.c.begin(group{kind: kind, label: words, load: load})
	s.c.rect(b, l)
	s.c.end()
}
