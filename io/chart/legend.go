package chart

// sample is an entry of the legend.
type sample struct {
	text string
	draw func(s *sheet, b box)
}

func boxed(l look, share float64) func(*sheet, box) {
	return func(s *sheet, b box) {
		s.c.rect(box{b.x, b.y + b.h*(1-share)/2, b.w, b.h * share}, l)
	}
}

// samples are what the page can hold, in the order of a turn.
var samples = []sample{
	{"fill", boxed(lookFill, 1)},
	{"drive", func(s *sheet, b box) { s.c.line([]point{{b.x, b.y + b.h/2}, {b.right(), b.y + b.h/2}}, strokeDrive) }},
	{"spray", boxed(lookSpray, 1)},
	{"pause in the field", boxed(lookPause, sharePause)},
	{"wait at the pad (paid)", boxed(lookWait, shareWait)},
	{"held at the pad (not paid)", boxed(lookHeld, shareHeld)},
	{"cleanout of the sprayer", boxed(lookCleanout, shareCleanout)},
	{"manifold rinse", boxed(lookRinse, shareSetup)},
	{"changeover of a connection", boxed(lookChangeover, shareSetup)},
	{"changeover inside a fill", func(s *sheet, b box) {
		s.c.rect(b, lookFill)
		s.c.line([]point{{b.x + b.w/2, b.y + 1}, {b.x + b.w/2, b.bottom() - 1}}, strokeInside)
	}},
	{"hold: no spraying, or bay shut", boxed(lookHold, 1)},
	{"outside the hours", boxed(lookClosed, 1)},
	{"job sprayed late", func(s *sheet, b box) { s.lateMark(b.x+b.w/2+4, b.y+2) }},
	{"stock", func(s *sheet, b box) {
		s.c.line([]point{{b.x, b.y + 2}, {b.x + b.w/2, b.y + 2}, {b.x + b.w/2, b.bottom() - 2}, {b.right(), b.bottom() - 2}}, strokeStock)
	}},
	{"reorder level", func(s *sheet, b box) {
		s.c.line([]point{{b.x, b.y + b.h/2}, {b.right(), b.y + b.h/2}}, strokeReorder)
	}},
	{"stock below it", boxed(lookLow, 1)},
	{"delivery", func(s *sheet, b box) { s.deliveryMark(b.x+b.w/2, b.y+2) }},
}

// legend explains every look, in as many lines as it takes.
func (s *sheet) legend() {
	const width, height, gap, lineHeight = 24.0, 11.0, 16.0, 17.0
	s.c.begin(group{kind: kindSection, label: "Legend"})
	x := float64(margin)
	s.y += 2
	for _, e := range samples {
		length := width + 5 + s.faces.width(e.text, sizeSmall, false)
		if x+length > s.clock.page-margin {
			x = margin
			s.y += lineHeight
		}
		e.draw(s, box{x, s.y, width, height})
		s.c.text(label{point: point{x + width + 5, s.y + height - 2}, text: e.text, size: sizeSmall})
		x += length + gap
	}
	s.y += lineHeight - 4
	s.c.end()
}
