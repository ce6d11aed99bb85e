package planfile

// Spraying is the time that a load's part takes in its field.
type Spraying struct {
	Load *Load
	Part *Part
	From Time // of its first acre
	To   Time // of its last; pauses lie between the two
}

// Sprayings lists every part of every load with its time, in the order of the
// loads and their parts. A part whose turns are not in the document begins
// where its bare spraying time says.
func (d *Document) Sprayings() []Spraying {
	turns := map[string][]Turn{}
	for _, t := range d.Turns {
		if t.What == "spray" {
			turns[t.Load] = append(turns[t.Load], t)
		}
	}
	var out []Spraying
	for i := range d.Loads {
		l := &d.Loads[i]
		rest := turns[l.Load]
		for j := range l.Parts {
			part := &l.Parts[j]
			s := Spraying{Load: l, Part: part, From: part.SprayedAt - Time(part.SprayS), To: part.SprayedAt}
			if len(rest) > 0 && rest[0].From < s.From {
				s.From = rest[0].From
			}
			for len(rest) > 0 && rest[0].To <= part.SprayedAt {
				rest = rest[1:]
			}
			out = append(out, s)
		}
	}
	return out
}
