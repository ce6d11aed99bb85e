package audit

import (
	"fmt"

	"padturn/model"
)

// span is one thing that a sprayer does.
type span struct {
	what     string // wait, held, fill, drive, spray, pause or cleanout
	from, to model.Clock
}

func (s span) String() string { return fmt.Sprintf("%s %s to %s", s.what, s.from, s.to) }

// turn is what a sprayer does from the end of a filling until it is back.
type turn struct {
	spans   []span
	sprayed []model.Clock // by part, when it was sprayed out
	back    model.Clock
	never   bool // it can't be sprayed out by spray_until
}

// sprayedOut is when the tank is empty.
func (t turn) sprayedOut() model.Clock { return t.sprayed[len(t.sprayed)-1] }

// reckonLoads works out what follows from the end of each filling, and from
// when on it would have been allowed to start.
func (a *audit) reckonLoads() {
	for _, l := range a.loads {
		for _, p := range l.parts {
			p.holds = a.d.holdsFor(l.sprayer, p.job)
		}
		a.d.setLegs(l)
		l.turn = a.d.follow(l, l.end)
		l.cleanFrom = l.ready - a.d.cleanoutTime(l.cleanout)
	}
	a.reckonWaits()
	a.listStock()
	a.listWater()
}

// reckonWaits works out from when on each load could have started, had nothing but
// the opening and its tank life kept it.
func (a *audit) reckonWaits() {
	for _, s := range a.d.sprayerOrder {
		there := s.from
		for _, l := range s.loads {
			l.soonest = there + a.d.cleanoutTime(l.cleanout)
			l.earliest = a.d.lifeKept(l, max(l.soonest, a.d.set.Pad.Opens))
			there = l.backAt
		}
	}
}

// setLegs takes the drives of turns.csv where each is as long as it should be;
// the last place of a great circle is not worth a quarrel.
func (d *day) setLegs(l *load) {
	var seen []model.Clock
	for _, s := range l.spans {
		if s.what == "drive" {
			seen = append(seen, s.to-s.from)
		}
	}
	drives := d.drives(l)
	for i, g := range drives {
		least, most := g.seconds()
		length := least
		if len(seen) == len(drives) && seen[i] > least && seen[i] <= most {
			length = seen[i]
		}
		l.legs = append(l.legs, length)
	}
}

// follow drives and sprays a load whose filling ends at end.
func (d *day) follow(l *load, end model.Clock) turn {
	var w turn
	t := end
	do := func(what string, until model.Clock) {
		w.spans = append(w.spans, span{what, t, until})
		t = until
	}
	for i, p := range l.parts {
		do("drive", t+l.legs[i])
		left := model.Clock(roundUp(mul(p.acres, l.sprayer.secPerAcre)))
		for left > 0 {
			from, until := d.window(p, t)
			if from >= until {
				w.never = true
				return w
			}
			if from > t {
				do("pause", from)
			}
			length := min(left, until-from)
			do("spray", t+length)
			left -= length
		}
		w.sprayed = append(w.sprayed, t)
	}
	do("drive", t+l.legs[len(l.parts)])
	w.back = t
	return w
}

// window returns the next span from t on in which a part may be sprayed; an
// empty one where spray_until comes first.
func (d *day) window(p *part, t model.Clock) (from, until model.Clock) {
	from, until = max(t, d.set.SprayFrom, p.job.earliest), d.set.SprayUntil
	for moved := true; moved; {
		moved = false
		for _, h := range p.holds {
			if h.from <= from && from < h.to {
				from, moved = h.to, true
			}
		}
	}
	for _, h := range p.holds {
		if h.from > from {
			until = min(until, h.from)
		}
	}
	return from, until
}

// tankLife is how long the mix may stay in the tank: the shortest of its
// products, or Never.
func (l *load) tankLife() model.Clock {
	life := model.Never
	for _, name := range l.mix.contents {
		p := l.mix.d.products[name]
		if p != nil && p.TankLifeH != nil {
			life = min(life, minutes(mul(p.TankLifeH.Rat(), whole(60))))
		}
	}
	return life
}

// lifeKept returns the earliest start from t on with which the load is sprayed
// out within its tank life; t itself where there is none. A start that is
// over by n seconds shows that the next n - 1 are over too, since a later end
// of filling never brings the spraying forward.
func (d *day) lifeKept(l *load, t model.Clock) model.Clock {
	life, fill := l.tankLife(), l.end-l.start
	for start := t; start < d.set.SprayUntil; {
		w := d.follow(l, start+fill)
		if w.never {
			return t
		}
		over := w.sprayedOut() - start - life
		if over <= 0 {
			return start
		}
		start += over
	}
	return t
}
