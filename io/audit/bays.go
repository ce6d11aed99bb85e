package audit

import (
	"padturn/model"
)

// checkRinses checks that between two loads of a bay exactly the highest level
// is rinsed that a manifold rule asks for.
func (a *audit) checkRinses() {
	for _, b := range a.d.bayOrder {
		before, rinsed := b.lastMix, b.rinsed
		for _, l := range b.loads {
			level := a.d.rinse(before, l.mix)
			if level <= rinsed {
				level = -1
			}
			rinsed = -1
			want := levelName(a.d.set.RinseLevels, level)
			if seen := levelName(a.d.set.RinseLevels, l.rinse); seen != want {
				a.breach("R5", l.where(), "rinse is %q, expected %q", seen, want)
			}
			before = l.mix
		}
	}
}

// rinse returns the level between two mixes, -1 for none.
func (d *day) rinse(before, next *mix) int {
	highest := -1
	if before == nil || before == next {
		return highest
	}
	for _, r := range d.rules {
		if r.Where == "manifold" && before.leaves(r.After, next) && next.anyStands(r.Before) {
			highest = max(highest, level(d.set.RinseLevels, r.Level))
		}
	}
	return highest
}

// checkBays follows every bay through its day: set-up as soon as it is free,
// filling as soon as everything is there.
func (a *audit) checkBays() {
	for _, b := range a.d.bayOrder {
		free := b.free
		for _, l := range b.loads {
			a.checkSetUp(l, free)
			a.checkStart(l)
			free = max(a.d.now, l.end)
		}
	}
}

// checkSetUp checks the moments of the rinse and of the changeovers before a
// load, and notes when they are done.
func (a *audit) checkSetUp(l *load, free model.Clock) {
	changes := l.setUp()
	l.setupDone = free
	switch {
	case l.rinse >= 0:
		a.checkRinseTime(l, free)
		l.setupDone = l.setupStart + a.d.rinseTime(l.rinse)
	case len(changes) > 0:
		if l.setupStart != free && l.setupStart != changes[0].at {
			a.breach("R7", l.where(), "setup_start is %s, expected that of its first changeover, %s", l.setupStart, changes[0].at)
		}
	default:
		a.differs("R7", l.where(), "setup_start without a set-up", l.setupStart, l.start)
	}
	for _, c := range changes {
		a.checkChangeTime(l, c)
		l.setupDone = c.at + a.d.changeover()
	}
}

// checkRinseTime: the rinse begins when the bay is free, its own holds leave
// room, and the water for it is there.
func (a *audit) checkRinseTime(l *load, free model.Clock) {
	length := a.d.rinseTime(l.rinse)
	gallons := levelGallons(a.d.set.RinseLevels, l.rinse)
	latest := l.bay.open(free, length)
	latest = max(latest, l.bay.open(a.waterFrom(latest, l.setupStart, gallons), length))
	a.checkWithin(l, "rinse", span{"", l.setupStart, l.setupStart + length}, free, latest)
}

// checkChangeTime: a changeover begins when what goes before it is done, the
// bay's holds leave room, and its container is there.
func (a *audit) checkChangeTime(l *load, c *change) {
	length := a.d.changeover()
	latest := l.bay.open(max(l.setupDone, c.freeAt), length)
	a.checkWithin(l, "changeover to "+c.on, span{"", c.at, c.at + length}, l.setupDone, latest)
}

// checkWithin checks that work on a bay is not before a moment, not later than
// it has to be, and not in a hold of the bay.
func (a *audit) checkWithin(l *load, what string, s span, earliest, latest model.Clock) {
	switch {
	case s.from < earliest:
		a.breach("R7", l.where(), "%s begins %s, expected not before %s", what, s.from, earliest)
	case s.from > latest:
		a.breach("R7", l.where(), "%s begins %s, expected %s", what, s.from, latest)
	}
	if h, in := l.bay.meets(s.from, s.to); in {
		a.breach("R7", l.where(), "%s from %s to %s runs into the hold of %s from %s to %s", what, s.from, s.to, l.bay.Name, h.from, h.to)
	}
}

// checkStart checks that the filling begins at the earliest moment from which
// set-up, sprayer, stock and water are there, the bay is not shut, and the tank
// life is kept.
func (a *audit) checkStart(l *load) {
	earliest := max(l.setupDone, l.ready, a.d.now)
	latest, fill := max(earliest, l.freeAt), l.end-l.start
	for before := model.Clock(-1); latest != before; {
		before = latest
		latest = a.stockFrom(l, latest)
		if l.mix.carrier == model.Water {
			latest = a.waterFrom(latest, l.start, l.carrier)
		}
		latest = l.bay.open(latest, fill)
		latest = a.d.lifeKept(l, latest)
	}
	a.checkWithin(l, "its filling", span{"", l.start, l.end}, earliest, latest)
}

// checkHours checks that every load ends while the pad is open.
func (a *audit) checkHours() {
	for _, l := range a.loads {
		if last := a.d.lastEnd(); l.end > last {
			a.breach("R11", l.where(), "ends %s, expected by %s", l.end, last)
		}
	}
}
