package changes

import (
	"fmt"
	"slices"
	"strings"

	"padturn/io/planfile"
	"padturn/model"
)

// How far a start must shift, in seconds, to be told though it is within the slack.
const (
	nextSlack  = 2 * 60 // the next fill of a sprayer: its operator drives by that time
	tightSlack = 60     // a fill that can't be at the told time
)

// minutes knows for which loads a few minutes matter.
type minutes struct {
	day   *planfile.Document
	next  map[string]*planfile.Load // by sprayer
	until map[string]*planfile.Time // by sprayer: when it must be back
}

func minutesOf(now *planfile.Document, is []*planfile.Load) minutes {
	m := minutes{day: now, next: nextFills(is, now), until: map[string]*planfile.Time{}}
	for i := range now.Sprayers {
		m.until[now.Sprayers[i].Sprayer] = now.Sprayers[i].AvailableUntil
	}
	return m
}

// nextFills finds the first of some loads that each sprayer has not begun.
func nextFills(list []*planfile.Load, d *planfile.Document) map[string]*planfile.Load {
	next := map[string]*planfile.Load{}
	for _, l := range list {
		begun := d.Replan != nil && slices.Contains(d.Replan.Begun, l.Load)
		if next[l.Sprayer] == nil && !begun {
			next[l.Sprayer] = l
		}
	}
	return next
}

// told says whether a shift of a load's start has to be told, and of one within the
// slack why the told time will not do.
func (m minutes) told(was, is *planfile.Load) (told bool, why string) {
	later := is.Start - was.Start
	switch size := max(later, -later); {
	case size > Slack:
		return true, ""
	case size < tightSlack:
		return false, ""
	case later > 0:
		why = m.notSooner(was, is)
	default:
		why = m.notLater(is, -later)
	}
	next := m.next[is.Sprayer] == is && max(later, -later) >= nextSlack
	return next || why != "", why
}

// notSooner says that a load can't be filled when it was told to be, as it would not be
// sprayed out in its tank life: what keeps a sprayer that is ready, unpaid, is that or
// the opening.
func (m minutes) notSooner(was, is *planfile.Load) string {
	soonest := min(is.Ready+planfile.Time(is.HeldS), is.Start)
	if is.HeldS == 0 || soonest <= m.day.Day.Opens || was.Start >= soonest {
		return ""
	}
	return "not sooner, by its tank life"
}

// notLater says of a load what begins so soon after it that it must not be late.
func (m minutes) notLater(l *planfile.Load, late planfile.Time) string {
	catches := func(limit, end planfile.Time) bool { return end <= limit && limit < end+late }
	sprayed := l.Parts[len(l.Parts)-1].SprayedAt
	for _, h := range m.day.Holds {
		bay, shut := strings.CutPrefix(h.Scope, "bay:")
		switch {
		case shut && bay == l.Bay && catches(h.From, l.End):
			return fmt.Sprintf("not later: %s is shut from %s", l.Bay, model.Clock(h.From).HHMM())
		case !shut && catches(h.From, sprayed):
			return fmt.Sprintf("not later: no spraying from %s", model.Clock(h.From).HHMM())
		}
	}
	closes, overtime, until := m.day.Day.Closes, m.day.Day.OvertimeUntil, m.until[l.Sprayer]
	switch {
	case catches(m.day.Day.SprayUntil, sprayed):
		return fmt.Sprintf("not later: no spraying from %s", model.Clock(m.day.Day.SprayUntil).HHMM())
	case catches(closes, l.End):
		return fmt.Sprintf("not later: the pad closes at %s", model.Clock(closes).HHMM())
	case overtime != nil && catches(*overtime, l.End):
		return fmt.Sprintf("not later: overtime ends at %s", model.Clock(*overtime).HHMM())
	case until != nil && catches(*until, l.BackAt):
		return fmt.Sprintf("not later: %s must be back by %s", l.Sprayer, model.Clock(*until).HHMM())
	}
	return ""
}
