package audit

import (
	"slices"

	"padturn/model"
)

// checkTurns follows every sprayer through its day.
func (a *audit) checkTurns() {
	for _, s := range a.d.sprayerOrder {
		past := s.past()
		free := s.from
		for _, l := range s.loads {
			a.checkCleanout(l, past)
			a.checkReady(l, free)
			a.checkField(l)
			a.checkSpans(l, free)
			a.checkWaits(l)
			past.spray(l)
			free = l.backAt
		}
	}
	a.checkSpanOrder()
}

// checkReady checks that the cleanout, if any, comes right after the turn
// before, or as soon as its water is there.
func (a *audit) checkReady(l *load, free model.Clock) {
	first, latest := free, free
	if l.cleanout >= 0 {
		first = max(free, a.d.cleanNow)
		gallons := levelGallons(a.d.set.CleanoutLevels, l.cleanout)
		latest = a.waterFrom(first, l.cleanFrom, gallons)
	}
	switch {
	case l.cleanFrom < first:
		a.breach("R8", l.where(), "ready is %s, expected %s: the sprayer is there at %s", l.ready, first+l.ready-l.cleanFrom, free)
	case l.cleanFrom > latest:
		a.breach("R8", l.where(), "ready is %s, expected %s", l.ready, latest+l.ready-l.cleanFrom)
	}
}

// checkField checks what binds a load once it is filled.
func (a *audit) checkField(l *load) {
	if l.turn.never {
		a.breach("R9", l.where(), "filled by %s, it can't be sprayed out by %s", l.end, a.d.set.SprayUntil)
		return
	}
	if stood := l.turn.sprayedOut() - l.start; stood > l.tankLife() {
		a.breach("R9", l.where(), "is sprayed out %d s after its start, expected at most the tank life of %d s", stood, l.tankLife())
	}
	a.differs("R8", l.where(), "back_at", l.backAt, l.turn.back)
	if l.backAt > l.sprayer.until {
		a.breach("R9", l.where(), "back_at is %s, expected at most %s, when %s is no longer available", l.backAt, l.sprayer.until, l.sprayer.name)
	}
}

// spanRules says which rule a span of turns.csv speaks of.
var spanRules = map[string]string{
	"cleanout": "R8", "drive": "R8", "spray": "R8", "pause": "R9",
	"held": "cost", "wait": "cost", "fill": "files",
}

// checkSpans compares the rows of turns.csv with what the sprayer does.
func (a *audit) checkSpans(l *load, free model.Clock) {
	a.checkSprayedThen(l)
	if l.turn.never {
		return
	}
	want := append(l.standing(free), span{"fill", l.start, l.end})
	want = slices.DeleteFunc(append(want, l.turn.spans...), span.empty)
	var seen []*spanRow
	for _, r := range l.spans {
		if r.sprayer != l.sprayer {
			a.breach("files", r.where(), "load %s is on sprayer %s, expected %s", l.id, r.sprayer.name, l.sprayer.name)
		}
		if !r.empty() {
			seen = append(seen, r)
		}
	}
	for i, s := range want {
		if i >= len(seen) {
			a.breach(spanRules[s.what], l.where(), "turns.csv ends before %s", s)
			return
		}
		if seen[i].span != s {
			a.breach(spanRules[s.what], seen[i].where(), "load %s: %s, expected %s", l.id, seen[i].span, s)
			return
		}
	}
	for _, r := range seen[len(want):] {
		a.breach("files", r.where(), "load %s: %s, expected nothing more", l.id, r.span)
	}
}

// standing lists what a sprayer that is there at a moment does until its filling
// starts. What it is held it is held first, then it waits; the cleanout comes in
// between, when it comes.
func (l *load) standing(there model.Clock) []span {
	held, before := l.earliest-l.soonest, max(l.cleanFrom-there, 0)
	first := min(held, before)
	return []span{
		{"held", l.cleanFrom - before, l.cleanFrom - before + first}, {"wait", l.cleanFrom - before + first, l.cleanFrom},
		{"cleanout", l.cleanFrom, l.ready},
		{"held", l.ready, l.ready + held - first}, {"wait", l.ready + held - first, l.start},
	}
}

// empty says whether a span has no length and no meaning. A drive always has
// one: it divides the parts.
func (s span) empty() bool { return s.from == s.to && s.what != "drive" }

// checkSprayedThen checks the rows as they stand for spraying at a wrong time.
func (a *audit) checkSprayedThen(l *load) {
	drives := 0
	for _, r := range l.spans {
		if r.what == "drive" {
			drives++
		}
		if r.what != "spray" || drives < 1 || drives > len(l.parts) || r.to <= r.from {
			continue
		}
		from, until := a.d.window(l.parts[drives-1], r.from)
		if from != r.from || until < r.to {
			a.breach("R9", r.where(), "load %s: %s, but job %s may be sprayed next from %s to %s", l.id, r.span, l.parts[drives-1].job.name, from, until)
		}
	}
}

// checkWaits compares the paid wait and what was held.
func (a *audit) checkWaits(l *load) {
	for _, w := range []struct {
		column string
		seen   string
		span   model.Clock
	}{
		{"wait_min", fixed(l.waitMin), l.start - l.earliest},
		{"held_min", fixed(l.heldMin), l.earliest - l.soonest},
	} {
		if want := fixed(mul(hours(w.span), whole(60))); w.seen != want {
			a.breach("cost", l.where(), "%s is %s, expected %s", w.column, w.seen, want)
		}
	}
}

// checkSpanOrder checks that the rows of a sprayer stand together and go by
// time.
func (a *audit) checkSpanOrder() {
	seen := map[*sprayer]bool{}
	for i, r := range a.spans {
		if i > 0 && a.spans[i-1].sprayer == r.sprayer {
			if before := a.spans[i-1]; r.from < before.to {
				a.breach("files", r.where(), "%s begins before the row above ends (%s)", r.span, before.to)
			}
			continue
		}
		if seen[r.sprayer] {
			a.breach("files", r.where(), "the rows of sprayer %s do not stand together", r.sprayer.name)
		}
		seen[r.sprayer] = true
	}
}
