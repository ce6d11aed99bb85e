package chart

import "padturn/io/planfile"

// section writes a heading with the clock beside it; its rows begin below it.
func (s *sheet) section(title string) {
	s.y += 24
	s.c.text(label{point: point{margin, s.y}, text: title, size: sizeHead, bold: true})
	for t := s.clock.from; t <= s.clock.to; t += s.clock.step() {
		s.c.text(label{point: point{s.clock.x(t), s.y}, text: hhmm(t), size: sizeSmall, anchor: middle, color: faint})
	}
	s.y += 5
}

// grid draws the lines of the clock behind rows from one height to another.
func (s *sheet) grid(top, bottom float64) {
	for t := s.clock.from; t <= s.clock.to; t += s.clock.step() {
		line := strokeGrid
		if t%hour == 0 {
			line = strokeHour
		}
		s.c.line([]point{{s.clock.x(t), top}, {s.clock.x(t), bottom}}, line)
	}
}

// outside shades the time of a row that lies outside of its hours.
func (s *sheet) outside(from, to planfile.Time, top, bottom float64) {
	for _, span := range [][2]planfile.Time{{s.clock.from, from}, {to, s.clock.to}} {
		if a, b, ok := s.clock.within(span[0], span[1]); ok {
			x := s.clock.x(a)
			s.c.rect(box{x, top, s.clock.x(b) - x, bottom - top}, lookClosed)
		}
	}
}

// rowLine closes a row at its foot.
func (s *sheet) rowLine(y float64) {
	s.c.line([]point{{margin, y}, {s.clock.page - margin, y}}, strokeGrid)
}
