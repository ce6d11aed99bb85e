package chart

import (
	"fmt"

	"padturn/io/planfile"
	"padturn/model"
)

const (
	sprayerRow = 25.0
	sprayerBar = 17.0
)

func (s *sheet) sprayers() {
	s.section("Sprayers")
	s.holdLane()
	turns := map[string][]planfile.Turn{}
	for _, t := range s.d.Turns {
		turns[t.Sprayer] = append(turns[t.Sprayer], t)
	}
	parts := map[string][]planfile.Spraying{}
	for _, p := range s.d.Sprayings() {
		parts[p.Load.Load] = append(parts[p.Load.Load], p)
	}
	for _, sp := range s.d.Sprayers {
		s.sprayer(sp, turns[sp.Sprayer], parts)
	}
}

func (s *sheet) sprayer(sp planfile.Sprayer, turns []planfile.Turn, parts map[string][]planfile.Spraying) {
	top, bottom := s.y, s.y+sprayerRow
	mid := (top + bottom) / 2
	s.outside(s.d.Day.SprayFrom, s.d.Day.SprayUntil, top, bottom)
	s.sprayerHolds(sp.Sprayer, top, bottom)
	s.grid(top, bottom)
	loads, back := s.loadsOf(sp.Sprayer)
	s.c.begin(group{kind: kindRow, label: fmt.Sprintf("Sprayer %s, %s", sp.Sprayer, model.Count(loads, "load"))})
	s.name(sp.Sprayer, mid)
	for _, t := range turns {
		s.turn(t, mid, parts[t.Load])
	}
	if back > 0 {
		s.note(mid, "back "+hhmm(back), hhmm(back))
	} else {
		s.note(mid, "no load")
	}
	s.c.end()
	s.rowLine(bottom)
	s.y = bottom
}

func (s *sheet) loadsOf(sprayer string) (loads int, back planfile.Time) {
	for i := range s.d.Loads {
		if s.d.Loads[i].Sprayer == sprayer {
			loads++
			back = max(back, s.d.Loads[i].BackAt)
		}
	}
	return loads, back
}

// spanLooks is how each thing that a sprayer does is drawn, with the share of a
// row's bars that it takes.
var spanLooks = map[string]struct {
	look  look
	share float64
}{
	"fill":     {lookFill, 1},
	"spray":    {lookSpray, 1},
	"wait":     {lookWait, shareWait},
	"held":     {lookHeld, shareHeld},
	"pause":    {lookPause, sharePause},
	"cleanout": {lookCleanout, shareCleanout},
}

// turn draws one thing that a sprayer does.
func (s *sheet) turn(t planfile.Turn, mid float64, parts []planfile.Spraying) {
	if t.From >= t.To {
		return
	}
	part := partAt(t, parts)
	s.c.begin(group{kind: t.What, label: s.turnWords(t, part), load: t.Load})
	defer s.c.end()
	if t.What == "drive" {
		s.c.line([]point{{s.clock.x(t.From), mid}, {s.clock.x(t.To), mid}}, strokeDrive)
		return
	}
	l := spanLooks[t.What]
	b := s.clock.bar(t.From, t.To, mid, sprayerBar*l.share)
	s.c.rect(b, l.look)
	switch {
	case t.What == "fill":
		s.inside(b, paper, true, t.Load, number(t.Load, t.Sprayer))
	case part != nil:
		s.sprayName(b, t, part)
	}
}

// partAt is the part that a spraying belongs to.
func partAt(t planfile.Turn, parts []planfile.Spraying) *planfile.Spraying {
	for i := range parts {
		if t.What == "spray" && t.From >= parts[i].From && t.To <= parts[i].To {
			return &parts[i]
		}
	}
	return nil
}

// number is a load's number among its sprayer's.
func number(load, sprayer string) string {
	if len(load) > len(sprayer) {
		return load[len(sprayer)+1:]
	}
	return load
}

// sprayName writes the field into a spraying, or the job where that is shorter,
// and marks a job that this part ends late.
func (s *sheet) sprayName(b box, t planfile.Turn, part *planfile.Spraying) {
	if job := s.index.jobs[part.Part.Job]; job != nil {
		s.inside(b, ink, false, job.Field, job.Job, s.faces.fit(job.Field, sizeSmall, false, b.w-6))
	}
	if t.To == part.To && s.index.isLate(part.Load.Load, part.Part.Job) {
		s.lateMark(b.right(), b.y-3)
	}
}

// lateMark is a flag that hangs from the top right of what is late.
func (s *sheet) lateMark(x, y float64) {
	s.c.polygon([]point{{x - 7, y}, {x + 1, y}, {x - 3, y + 7}}, brick)
}

func (s *sheet) turnWords(t planfile.Turn, part *planfile.Spraying) string {
	span := fmt.Sprintf("%s to %s", hhmm(t.From), hhmm(t.To))
	switch t.What {
	case "wait", "held":
		return fmt.Sprintf("%s %s before %s, %s", t.Sprayer, t.What, t.Load, span)
	case "cleanout":
		level := ""
		if l := s.index.loads[t.Load]; l != nil {
			level = " (" + l.Cleanout + ")"
		}
		return fmt.Sprintf("%s cleanout%s before %s, %s", t.Sprayer, level, t.Load, span)
	}
	if part == nil {
		return fmt.Sprintf("%s %s, %s", t.Load, t.What, span)
	}
	where := "job " + part.Part.Job
	if job := s.index.jobs[part.Part.Job]; job != nil {
		where = job.Field + " (" + where + ")"
	}
	words := fmt.Sprintf("%s spray %s, %s, %s", t.Load, where, s.index.area(part.Part.Acres), span)
	if s.index.isLate(part.Load.Load, part.Part.Job) {
		words += ", late"
	}
	return words
}
