package handout

import "padturn/io/planfile"

// tank is what a sprayer had in its tank before a load.
type tank struct {
	mix  string // blank: not known
	load string // blank: before the day
}

func (t tank) words() string {
	switch {
	case t.mix == "":
		return "not known: ask the operator"
	case t.load == "":
		return t.mix + " (before this day)"
	}
	return t.mix + " (" + t.load + ")"
}

// tanks says, for every load, what was in the sprayer's tank before it.
func tanks(d *planfile.Document) map[string]tank {
	last := map[string]tank{}
	for _, s := range d.Sprayers {
		last[s.Sprayer] = tank{mix: s.LastMix}
	}
	out := map[string]tank{}
	for _, l := range d.Loads {
		out[l.Load] = last[l.Sprayer]
		last[l.Sprayer] = tank{l.Mix, l.Load}
	}
	return out
}

// firstOfMix marks the loads whose mix neither a load before them nor any bay
// or sprayer before the day is known to have held.
func firstOfMix(d *planfile.Document) map[string]bool {
	held := map[string]bool{}
	for _, b := range d.Bays {
		held[b.LastMix] = true
	}
	for _, s := range d.Sprayers {
		held[s.LastMix] = true
	}
	first := map[string]bool{}
	for _, l := range d.Loads {
		first[l.Load] = !held[l.Mix]
		held[l.Mix] = true
	}
	return first
}
