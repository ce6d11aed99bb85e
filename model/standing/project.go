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
	fills   []string      // by bay: its last load, which it waits for where it is never free
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
	p.bayFree, p.fills = make([]model.Clock, len(s.Problem.Bays)), make([]string, len(s.Problem.Bays))
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
		if t, ok := l.anchor(l.Told.Start); ok && len(l.marks) > 0 {
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
	if s.NoNews {
		l.goAsPlanned()
	}
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
	p.bayFree[bay], p.back[sprayer], p.fills[bay] = l.End, l.BackAt, l.Told.ID
}

// goAsPlanned has a load begin as the plan has it. The plan knows of all that was
// reported; reports that do not fit together would be read otherwise beside it than
// they were when it was made.
func (l *Load) goAsPlanned() {
	t := &l.Told
	l.CleanoutFrom, l.Ready, l.SetupStart, l.Start = t.CleanoutFrom, t.Ready, t.SetupStart, t.Start
	l.Stood, l.why = t.Stood, ""
}

// expect sets when a load can begin: as planned, or as late as its sprayer, its
// bay or its stock are.
func (p *projection) expect(l *Load, bay, sprayer int) {
	t := &l.Told
	l.why = ""
	later := func(t model.Clock, why string) {
		if t = min(t, model.Never); t > l.Start {
			l.Start, l.why = t, why
		}
	}
	there := p.inService(sprayer, p.back[sprayer])
	l.CleanoutFrom = max(t.CleanoutFrom, there)
	l.Stood = model.Seconds(l.CleanoutFrom - max(t.CleanoutFrom-model.Clock(t.Stood), there))
	l.Ready = l.CleanoutFrom + t.Ready - t.CleanoutFrom
	l.SetupStart = max(t.SetupStart, p.bayFree[bay])
	l.Start = t.Start
	later(l.Ready, t.Sprayer+" is not back before")
	later(p.inService(sprayer, l.Start), t.Sprayer+" is out")
	if p.bayFree[bay] >= model.Never {
		later(model.Never, t.Bay+" waits for "+p.fills[bay])
	}
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
