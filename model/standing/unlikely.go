package standing

import (
	"fmt"
	"slices"
	"strings"

	"padturn/model"
)

// Unlikely says what of a report can hardly be, though it contradicts no other: a
// load that is filled before the pad opens or its sprayer can be had, or while its
// sprayer or its bay can hardly be done with another, that is done in less than half
// of the time it was planned to take, or of which more than twice or less than half of
// what was planned was drawn. The report is taken all the same: whoever was there knows
// better than a plan. in, told and facts are as for [At].
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
	if m.State == Done {
		s.doneTooSoon(l, m, at, odd)
	}
	for _, d := range m.Drew {
		if planned := l.planned(d.Product); d.Amount > 2*planned || 2*d.Amount < planned {
			unit := s.Stock[s.product(d.Product)].Unit
			odd("%s %s of %s drawn, planned %s %s", d.Amount, unit, d.Product, planned.Fixed(1), unit)
		}
	}
	return list
}

// doneTooSoon says that a load can hardly be done already: by when it was reported to
// have begun, else by when it was to begin, or could as its sprayer was back sooner.
func (s *Standing) doneTooSoon(l *Load, m *LoadMark, at model.Clock, odd func(format string, args ...any)) {
	var left model.Decimal
	if m.AcresLeft != nil {
		left = *m.AcresLeft
	}
	if begun := l.first(Filling, Filled, Spraying); begun != nil {
		if planned := l.stillTakes(begun.State, left); at-begun.at < planned/2 {
			odd("it was %s at %s, and what is left of it was planned to take %s", begun.State, begun.at.HHMM(), minutesOf(planned))
		}
		return
	}
	start, planned := s.soonest(l, at), l.stillTakes(Filling, left)
	switch {
	case at-start >= planned/2:
	case start == l.Told.Start:
		odd("it was to be filled from %s, and to take %s until it is sprayed", start.HHMM(), minutesOf(planned))
	default:
		odd("%s was back at %s at the earliest, and it was planned to take %s until it is sprayed", l.Told.Sprayer, start.HHMM(), minutesOf(planned))
	}
}

// soonest is when a load was to be filled, or earlier if by then its sprayer was
// reported to be done with another.
func (s *Standing) soonest(l *Load, at model.Clock) model.Clock {
	t, back := l.Told.Start, model.Clock(-1)
	for i := range s.Loads {
		o := &s.Loads[i]
		over := o.last(Done, Dropped)
		if o.Told.ID == l.Told.ID || o.Told.Sprayer != l.Told.Sprayer || over == nil || over.at > at {
			continue
		}
		free := over.at
		if over.State == Done {
			free += model.Clock(o.Told.DriveBack)
		}
		back = max(back, free)
	}
	if back < 0 {
		return t
	}
	return min(t, back)
}

// planned is how much of a product the load was to take.
func (l *Load) planned(product string) model.Decimal {
	var sum model.Decimal
	for _, d := range l.Told.Doses {
		if d.Product == product {
			sum += d.Amount
		}
	}
	return sum
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
		whose, planned := l.Told.Sprayer, o.stillTakes(begun.State, 0)
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
// sprayed but for some acres, without pauses.
func (l *Load) stillTakes(from State, left model.Decimal) model.Clock {
	var drive, spray model.Clock
	for _, p := range l.Told.Parts {
		drive += model.Clock(p.Drive)
		spray += model.Clock(p.Spray)
	}
	acres := l.Told.Acres()
	length := drive + partOf(model.Seconds(spray), acres-left, acres)
	switch from {
	case Filling:
		return length + l.Told.fill() + model.Clock(l.Told.DriveOut)
	case Filled:
		return length + model.Clock(l.Told.DriveOut)
	}
	return length
}

func minutesOf(t model.Clock) string { return fmt.Sprintf("%d min", (t+30)/60) }
