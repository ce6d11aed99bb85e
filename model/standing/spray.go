package standing

import (
	"slices"

	"padturn/model"
)

// spray works out a load's times from its start on, and where it is by now. By
// bayNext and sprayerNext its bay and its sprayer had another load.
func (s *Standing) spray(l *Load, bayNext, sprayerNext model.Clock) {
	t := &l.Told
	l.End = max(min(l.Start+t.fill(), bayNext), l.Start)
	if m := l.first(Filled); m != nil { // a later one tells of it, not that it went on
		l.End = m.at
	}
	if m := l.first(Spraying, Done); m != nil {
		l.End = max(min(l.End, m.at-model.Clock(t.DriveOut)), l.Start)
	}
	if l.past && t.End <= s.told.At {
		l.End = t.End
	}
	for _, d := range l.Doses {
		life := s.Problem.Products[s.product(d.Product)].TankLife
		if life < model.Seconds(model.Never) {
			l.LifeUntil = min(l.LifeUntil, l.Start+model.Clock(life))
		}
	}
	if l.Start >= model.Never {
		l.never()
		return
	}
	began := s.walkField(l)
	over := sprayerNext - model.Clock(t.DriveBack)
	if sprayerNext < model.Never && l.Begun && l.last(Done) == nil && l.SprayedOut() > over {
		l.doneBy(max(over, l.End))
	}
	if l.Begun {
		s.judge(l, began)
	}
	l.BackAt = min(l.SprayedOut()+model.Clock(t.DriveBack), sprayerNext, model.Never)
	if m := l.last(Dropped); m != nil {
		s.giveUp(l, m)
	}
	if l.past && max(t.End, t.sprayed(), t.BackAt) <= s.told.At {
		l.recall()
	}
}

// recall takes a load that was over when the plan was made as the plan has it.
func (l *Load) recall() {
	l.BackAt = l.Told.BackAt
	for i, p := range l.Told.Parts {
		l.SprayedAt[i], l.Left[i] = p.SprayedAt, 0
	}
	if l.State != Dropped {
		l.State, l.Presumed = Done, l.last(Done) == nil
	}
}

// never is for a load that is not filled.
func (l *Load) never() {
	l.Start, l.End, l.BackAt = model.Never, model.Never, model.Never
	l.SprayedAt = slices.Repeat([]model.Clock{model.Never}, len(l.Told.Parts))
}

// fieldWork is the spraying of one part.
type fieldWork struct {
	from    model.Clock
	length  model.Clock   // of spraying, from then on
	acres   model.Decimal // to spray, from then on
	blocked []span
}

// walkField sets when the parts are sprayed and what is left of them by now. It
// returns when the spraying began.
func (s *Standing) walkField(l *Load) model.Clock {
	works := s.works(l)
	l.SprayedAt = make([]model.Clock, len(works))
	began := model.Never
	for i, w := range works {
		l.SprayedAt[i] = finish(w.blocked, w.from, w.length)
		if l.Begun {
			l.Left[i] = w.left(s.At, l.SprayedAt[i])
		}
		if w.acres > 0 {
			began = min(began, finish(w.blocked, w.from, 1)-1)
		}
	}
	if m := l.last(Done); m != nil {
		l.doneBy(m.at)
		l.Left = fromTheEnd(l.Told.Parts, valueOr(m.AcresLeft, 0))
	}
	return began
}

// doneBy ends the spraying at a moment.
func (l *Load) doneBy(t model.Clock) {
	for i := range l.SprayedAt {
		l.SprayedAt[i] = min(l.SprayedAt[i], t)
	}
	l.SprayedAt[len(l.SprayedAt)-1] = t
}

// works lists the spraying of the parts, from the drive to the field or from the
// last report of acres left on.
func (s *Standing) works(l *Load) []fieldWork {
	t := &l.Told
	at, left := l.End+model.Clock(t.DriveOut), s.allAcres(t)
	if m := l.first(Spraying); m != nil {
		at = max(at, m.at)
		for i := range l.marks {
			if m := &l.marks[i]; m.State == Spraying && m.AcresLeft != nil {
				at, left = m.at, fromTheEnd(t.Parts, *m.AcresLeft)
			}
		}
	}
	works := make([]fieldWork, len(t.Parts))
	for i, p := range t.Parts {
		if i > 0 && left[i] >= p.Acres {
			at += model.Clock(p.Drive)
		}
		w := fieldWork{at, partOf(p.Spray, left[i], p.Acres), left[i], s.blocked(t, s.job(p.Job))}
		works[i] = w
		if at < model.Never {
			at = finish(w.blocked, at, w.length)
		}
	}
	return works
}

func (s *Standing) allAcres(t *Planned) []model.Decimal {
	left := make([]model.Decimal, len(t.Parts))
	for i, p := range t.Parts {
		left[i] = p.Acres
	}
	return left
}

// left is what of the work's acres is not sprayed at a moment.
func (w *fieldWork) left(moment, done model.Clock) model.Decimal {
	switch {
	case w.acres == 0 || done <= moment:
		return 0
	case w.from >= moment:
		return w.acres
	}
	return w.acres - share(w.acres, workedBy(w.blocked, w.from, moment), w.length)
}

// judge says where a load that has begun is by now: as far as it is by the
// clock, and at least as far as was reported.
func (s *Standing) judge(l *Load, began model.Clock) {
	l.State = Filling
	switch {
	case l.SprayedOut() <= s.At:
		l.State = Done
	case began < s.At:
		l.State = Spraying
	case l.End <= s.At:
		l.State = Filled
	}
	m := l.last(Filling, Filled, Spraying, Done)
	if m != nil && slices.Index(States(), m.State) > slices.Index(States(), l.State) {
		l.State = m.State
	}
	l.Presumed = m == nil || m.State != l.State
	if l.State != Done {
		return
	}
	if m == nil || m.State != Done {
		clear(l.Left)
	}
}

// giveUp ends a load that was dropped after its filling had begun.
func (s *Standing) giveUp(l *Load, m *mark) {
	l.BackAt = m.at + model.Clock(l.Told.DriveBack)
	if m.at < l.End {
		l.End, l.BackAt = m.at, m.at
	}
	if m.AcresLeft != nil {
		l.Left = fromTheEnd(l.Told.Parts, *m.AcresLeft)
	} else {
		for i, w := range s.works(l) {
			l.Left[i] = w.left(m.at, finish(w.blocked, w.from, w.length))
		}
	}
	for i := range l.SprayedAt {
		l.SprayedAt[i] = min(l.SprayedAt[i], m.at)
	}
	l.State, l.Presumed = Dropped, false
}

// fromTheEnd lays acres left over the parts, the last ones first, as they are
// sprayed in order.
func fromTheEnd(parts []Part, left model.Decimal) []model.Decimal {
	list := make([]model.Decimal, len(parts))
	for i := len(parts) - 1; i >= 0; i-- {
		list[i] = min(parts[i].Acres, left)
		left -= list[i]
	}
	return list
}

func valueOr[T any](v *T, blank T) T {
	if v == nil {
		return blank
	}
	return *v
}
