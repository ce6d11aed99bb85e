package planner

import (
	"slices"

	"padturn/model"
)

// fillLine is the fillings of one sprayer with one mix.
type fillLine struct {
	sprayer, mix int
	away         int32 // from the end of one until its sprayer can be filled again, at least
	ends         int32 // before which slot none can end
}

// fillKind is those of a line that are as long: they have one price.
type fillKind struct {
	line  int
	slots int32 // how long
	first int32 // before which slot its sprayer cannot start it
}

// kindOf returns the number of the kind of a load that takes so long to be filled, and
// notes the load.
func (p *pricing) kindOf(l *load, fill model.Seconds) int {
	line, slots := p.lineOf(l), p.slotsOf(fill)
	k := slices.IndexFunc(p.kinds, func(o fillKind) bool { return o.line == line && o.slots == slots })
	if k < 0 {
		k = len(p.kinds)
		p.kinds = append(p.kinds, fillKind{line, slots, p.slots})
		p.prices = append(p.prices, make([]model.Money, p.slots))
	}
	p.lines[line].away = min(p.lines[line].away, p.slotsOf(fill+l.away())-slots)
	return k
}

// lineOf returns the number of a load's line.
func (p *pricing) lineOf(l *load) int {
	n := slices.IndexFunc(p.lines, func(o fillLine) bool { return o.sprayer == l.sprayer && o.mix == l.mix })
	if n < 0 {
		n = len(p.lines)
		p.lines = append(p.lines, fillLine{l.sprayer, l.mix, p.slots, p.slots})
		p.linesOf[l.sprayer] = append(p.linesOf[l.sprayer], n)
	}
	return n
}

// startsFrom notes a slot in which a kind may start.
func (p *pricing) startsFrom(k int, slot int32) { p.kinds[k].first = min(p.kinds[k].first, slot) }

// noteEnds notes when lines can end, once their kinds are known.
func (p *pricing) noteEnds() {
	for k := range p.kinds {
		line := &p.lines[p.kinds[k].line]
		line.ends = min(line.ends, p.kinds[k].first+p.kinds[k].slots)
	}
}

// away returns for how long a load takes its sprayer away where no hold catches it.
func (l *load) away() model.Seconds {
	time := model.Seconds(l.driveOut + l.driveBack)
	for i := range l.parts {
		time += l.parts[i].drive + l.parts[i].spray
	}
	return time
}
