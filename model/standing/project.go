package standing

import (
	"cmp"
	"slices"

	"padturn/model"
)

// projection follows the loads through the day, in the order they begin.
type projection struct {
	s       *Standing
	bayFree []model.Clock // by bay
	back    []model.Clock // by sprayer
	stock   *levels
	// bayNext and sprayerNext are when the next load that was reported begun took
	// the bay or the sprayer: what was on them before must have been over.
	bayNext, sprayerNext []model.Clock
}

// project gives every load its state and its times.
func (s *Standing) project() {
	for i := range s.told.Loads {
		s.Loads = append(s.Loads, s.collect(&s.told.Loads[i]))
	}
	p := projection{s: s, stock: s.newLevels()}
	p.bayFree = make([]model.Clock, len(s.Problem.Bays))
	p.back = make([]model.Clock, len(s.Problem.Sprayers))
	for i := range p.back {
		p.back[i] = s.Problem.Sprayers[i].AvailableFrom
	}
	order := s.byStart()
	for k, i := range order {
		p.lookAhead(order[k+1:])
		p.follow(&s.Loads[i])
	}
}

// lookAhead finds when the loads to come that were reported took their bays and
// sprayers.
func (p *projection) lookAhead(rest []int) {
	p.bayNext = slices.Repeat([]model.Clock{model.Never}, len(p.bayFree))
	p.sprayerNext = slices.Repeat([]model.Clock{model.Never}, len(p.back))
	for _, i := range rest {
		l := &p.s.Loads[i]
		if t, ok := l.anchor(l.Told.Start); ok {
			bay, sprayer := p.s.bay(l.Told.Bay), p.s.sprayer(l.Told.Sprayer)
			p.bayNext[bay] = min(p.bayNext[bay], t)
			p.sprayerNext[sprayer] = min(p.sprayerNext[sprayer], t)
		}
	}
}

// byStart orders the loads by when they began as reported. One that was not
// reported comes when it was planned, and after those of its bay and its sprayer
// that were planned before it.
func (s *Standing) byStart() []int {
	order, key := make([]int, len(s.Loads)), make([]model.Clock, len(s.Loads))
	for i := range s.Loads {
		told := &s.Loads[i].Told
		order[i], key[i] = i, told.Start
		if t, ok := s.Loads[i].anchor(told.Start); ok {
			key[i] = t
			continue
		}
		if s.Loads[i].newest() != nil { // reported as waiting, so later than now
			key[i] = max(key[i], s.At)
		}
		for k := range s.Loads[:i] {
			if before := &s.Loads[k].Told; before.Bay == told.Bay || before.Sprayer == told.Sprayer {
				key[i] = max(key[i], key[k])
			}
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(key[a], key[b]) })
	return order
}

// follow works out one load after those before it.
func (p *projection) follow(l *Load) {
	s := p.s
	bay, sprayer := s.bay(l.Told.Bay), s.sprayer(l.Told.Sprayer)
	p.expect(l, bay, sprayer)
	start, reported := l.anchor(l.Start)
	newest := l.newest()
	switch {
	case reported:
		l.Start, l.Begun = start, true
	case newest != nil && newest.State == Dropped:
		l.State = Dropped
		l.never()
		return
	case newest != nil: // reported as waiting
		l.Start = max(l.Start, s.At)
	default:
		l.Begun = l.Start < s.At
	}
	l.Ready, l.SetupStart = min(l.Ready, l.Start), min(l.SetupStart, l.Start)
	l.CleanoutFrom = min(l.CleanoutFrom, l.Ready)
	s.spray(l, p.bayNext[bay], p.sprayerNext[sprayer])
	p.stock.draw(l)
	p.bayFree[bay], p.back[sprayer] = l.End, l.BackAt
}

// expect sets when a load can begin: as planned, or as late as its sprayer, its
// bay or its stock are.
func (p *projection) expect(l *Load, bay, sprayer int) {
	t := &l.Told
	l.why = ""
	later := func(t model.Clock, why string) {
		if t > l.Start {
			l.Start, l.why = t, why
		}
	}
	l.CleanoutFrom = max(t.CleanoutFrom, p.inService(sprayer, p.back[sprayer]))
	l.Ready = l.CleanoutFrom + t.Ready - t.CleanoutFrom
	l.SetupStart = max(t.SetupStart, p.bayFree[bay])
	l.Start = t.Start
	later(l.Ready, t.Sprayer+" is not back before")
	if t.SetupStart < t.Start {
		later(l.SetupStart+p.s.setupLength(t), t.Bay+" is not set up before")
	}
	later(p.bayFree[bay], t.Bay+" is not free before")
	later(p.s.whileOpen(bay, l.Start, t.fill()), t.Bay+" is shut")
	if start, product := p.stock.enough(l, l.Start); product != "" {
		later(start, "there is not enough "+product)
	}
	l.SetupStart = min(l.SetupStart, l.Start)
}

// whileOpen returns the earliest moment from t at which a bay is open for so
// long.
func (s *Standing) whileOpen(bay int, t, length model.Clock) model.Clock {
	var shut []span
	for _, h := range s.Problem.Holds {
		if h.Scope.Bay == bay {
			shut = append(shut, span{h.From, h.To})
		}
	}
	for _, x := range merged(shut) {
		if x.to > t && x.from < t+length {
			t = x.to
		}
	}
	return t
}

// inService returns when a sprayer that would be ready at t is in service.
func (p *projection) inService(sprayer int, t model.Clock) model.Clock {
	for _, out := range p.s.outs[sprayer] {
		if out.from <= t && t < out.to {
			t = out.to
		}
	}
	return t
}

// setupLength is how long the set-up of a load was planned to take, with what
// it waits for.
func (s *Standing) setupLength(t *Planned) model.Clock {
	end := t.SetupStart + s.rinseTime(t.Rinse)
	for _, c := range s.told.Changes {
		if c.Load == t.ID && !c.Inside {
			end = max(end, c.At+s.changeTime())
		}
	}
	return end - t.SetupStart
}

func (s *Standing) changeTime() model.Clock {
	return model.Clock(model.CeilMinutes(s.Problem.Settings.Pad.ChangeoverMin))
}

func (s *Standing) rinseTime(level string) model.Clock {
	for _, l := range s.Problem.Settings.RinseLevels {
		if l.Name == level {
			return model.Clock(model.CeilMinutes(l.Min))
		}
	}
	return 0
}

// spray works out a load's times from its start on, and where it is by now. By
// bayNext and sprayerNext its bay and its sprayer had another load.
func (s *Standing) spray(l *Load, bayNext, sprayerNext model.Clock) {
	t := &l.Told
	l.End = max(min(l.Start+t.fill(), bayNext), l.Start)
	if m := l.last(Filled); m != nil {
		l.End = m.at
	}
	if m := l.first(Spraying, Done); m != nil {
		l.End = max(min(l.End, m.at-model.Clock(t.DriveOut)), l.Start)
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
