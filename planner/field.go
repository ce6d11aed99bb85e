package planner

import (
	"sort"

	"padturn/model"
)

// sprayedOut returns when a load whose filling ends at end is sprayed out (R9):
// the sprayer drives, waits in the field where it may not spray, and pauses
// where a hold catches it.
func (l *load) sprayedOut(end model.Clock) model.Clock {
	t := end + l.driveOut
	for i := range l.parts {
		t = l.parts[i].finish(t + model.Clock(l.parts[i].drive))
	}
	return t
}

// finish returns when a part is sprayed if the sprayer is there at t.
func (p *part) finish(t model.Clock) model.Clock {
	rest := model.Clock(p.spray)
	for _, b := range p.blocked {
		if b.to <= t {
			continue
		}
		if b.from >= t+rest {
			break
		}
		rest -= max(b.from-t, 0)
		t = b.to
	}
	return t + rest
}

// lastFill returns by when a load must be filled for it to be sprayed out in
// the spraying hours and the sprayer to be back in time. A load filled later is
// sprayed out later, so the last moment is found by halving.
func (in *instance) lastFill(l *load) model.Clock {
	until := in.p.Sprayers[l.sprayer].AvailableUntil
	inTime := func(end model.Clock) bool {
		out := l.sprayedOut(end)
		return out <= in.p.Settings.SprayUntil && out+l.driveBack <= until
	}
	n := sort.Search(int(in.lastEnd)+1, func(end int) bool { return !inTime(model.Clock(end)) })
	return model.Clock(n - 1)
}

// fieldStart returns the earliest start at or after t that leaves time to
// spray the load out within its tank life, the spraying hours and the
// sprayer's day; Never where there is none. Later starts are sprayed out
// later, so what is over the tank life at t is the least to wait for.
func (in *instance) fieldStart(l *load, t model.Clock, fill model.Seconds) model.Clock {
	for t+model.Clock(fill) <= l.lastEnd {
		if l.tankLife == model.Seconds(model.Never) {
			return t
		}
		over := model.Seconds(l.sprayedOut(t+model.Clock(fill))-t) - l.tankLife
		if over <= 0 {
			return t
		}
		t += model.Clock(over)
	}
	return model.Never
}

// bayStart is fieldStart on a bay, which may be shut at times.
func (in *instance) bayStart(l *load, t model.Clock, fill model.Seconds, shut []span) model.Clock {
	for {
		start := in.fieldStart(l, afterShut(shut, t, fill), fill)
		if start == model.Never || afterShut(shut, start, fill) == start {
			return start
		}
		t = start
	}
}

// afterShut returns the earliest time at or after t at which work of a length
// keeps clear of the times a bay is shut.
func afterShut(shut []span, t model.Clock, length model.Seconds) model.Clock {
	for _, s := range shut {
		if s.to > t && s.from < t+model.Clock(length) {
			t = s.to
		}
	}
	return t
}
