package standing

import (
	"fmt"
	"slices"
	"strings"

	"padturn/model"
)

// Unlikely says what of a report can hardly be, though it contradicts no other: a
// load that is filled before the pad opens or its sprayer can be had, or while its
// sprayer or its bay can hardly be done with another, or that is done in less than half
// of the time it was planned to take. The report is taken all
// the same: whoever was there knows better than a plan. in, told and facts are as
// for [At].
func Unlikely(in model.Input, told Told, facts []Fact, next Fact) []string {
	if hold, ok := next.News.(HoldMark); ok {
		return holdsNothing(in, told, facts, next, &hold.Hold)
	}
	m, ok := next.News.(LoadMark)
	if !ok || m.State == Waiting || m.State == Dropped {
		return nil
	}
	s, err := At(in, told, facts, max(next.At, Latest(facts)))
	if err != nil {
		return nil // the report is refused for it
	}
	for i := range s.Loads {
		if l := &s.Loads[i]; l.Told.ID == m.Load {
			return s.unlikely(l, &m, next.At)
		}
	}
	return nil
}

// holdsNothing says of a hold that it names a field that no job is in: with a
// slip in its name nothing would be held.
func holdsNothing(in model.Input, told Told, facts []Fact, next Fact, h *model.HoldRow) []string {
	field, ok := strings.CutPrefix(h.Scope, "field:")
	s, err := At(in, told, facts, max(next.At, Latest(facts)))
	if !ok || err != nil {
		return nil
	}
	var fields []string
	for i := range s.Day.Jobs {
		fields = append(fields, s.Day.Jobs[i].Field)
	}
	if slices.Contains(fields, field) {
		return nil
	}
	return []string{fmt.Sprintf("the hold %s-%s: no job is in field %s%s", h.From.HHMM(), h.To.HHMM(), field, model.Suggest(field, fields))}
}

func (s *Standing) unlikely(l *Load, m *LoadMark, at model.Clock) []string {
	var list []string
	odd := func(format string, args ...any) {
		list = append(list, fmt.Sprintf("load %s %s at %s: ", m.Load, m.State, at.HHMM())+fmt.Sprintf(format, args...))
	}
	opens, from := s.Problem.Settings.Pad.Opens, s.Problem.Sprayers[s.sprayer(l.Told.Sprayer)].AvailableFrom
	switch {
	case at < opens:
		odd("the pad opens at %s", opens.HHMM())
	case at < from:
		odd("%s is available from %s", l.Told.Sprayer, from.HHMM())
	}
	begun := l.first(Filling, Filled, Spraying)
	if begun == nil {
		s.busyWith(l, at, odd)
	}
	if begun != nil && m.State == Done {
		if planned := l.stillTakes(begun.State); at-begun.at < planned/2 {
			odd("it was %s at %s, and what is left of it was planned to take %s", begun.State, begun.at.HHMM(), minutesOf(planned))
		}
	}
	return list
}

// busyWith says that the sprayer of a load, or its bay, can hardly be done with another
// load that was reported to have begun.
func (s *Standing) busyWith(l *Load, at model.Clock, odd func(format string, args ...any)) {
	for i := range s.Loads {
		o := &s.Loads[i]
		begun := o.first(Filling, Filled, Spraying)
		if o.Told.ID == l.Told.ID || begun == nil || begun.at > at || o.last(Done, Dropped) != nil && o.last(Done, Dropped).at <= at {
			continue
		}
		whose, planned := l.Told.Sprayer, o.stillTakes(begun.State)
		if o.Told.Sprayer != l.Told.Sprayer {
			if o.Told.Bay != l.Told.Bay || begun.State != Filling {
				continue
			}
			whose, planned = l.Told.Bay, o.Told.fill()
		}
		if at-begun.at < planned/2 {
			odd("%s is at %s, %s since %s and planned to take %s", whose, o.Told.ID, begun.State, begun.at.HHMM(), minutesOf(planned))
		}
	}
}

// stillTakes is how long a load was planned to take from a state on until it is
// sprayed, without pauses.
func (l *Load) stillTakes(from State) model.Clock {
	var length model.Clock
	for _, p := range l.Told.Parts {
		length += model.Clock(p.Drive + p.Spray)
	}
	switch from {
	case Filling:
		return length + l.Told.fill() + model.Clock(l.Told.DriveOut)
	case Filled:
		return length + model.Clock(l.Told.DriveOut)
	}
	return length
}

func minutesOf(t model.Clock) string { return fmt.Sprintf("%d min", (t+30)/60) }
