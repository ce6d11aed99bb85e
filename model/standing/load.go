package standing

import (
	"slices"

	"padturn/model"
)

// Load is where a load of the plan stands.
type Load struct {
	Told  Planned
	State State
	Begun bool // its filling was begun
	// Presumed says that nobody reported the state it is in.
	Presumed bool
	// The times are real where they were reported; else they follow from what
	// was, by the planned lengths. Those after the moment are what is to be
	// expected, of a load not begun too; Never where nothing can be.
	CleanoutFrom, Ready, SetupStart, Start, End, BackAt model.Clock
	Stood                                               model.Seconds // at the pad before the cleanout
	SprayedAt                                           []model.Clock // by part
	Doses                                               []Dose        // what was really drawn, else what is planned
	// Left is what of a load begun is not sprayed, by part: still in the tank,
	// or, of one that is done or dropped, back among the jobs' acres.
	Left []model.Decimal
	// LifeUntil is when it has to be sprayed out, Never where no label says.
	LifeUntil model.Clock

	marks []mark
	known bool   // the plan was made with all its reports, when it had begun
	past  bool   // known, and nothing was reported since of anything
	why   string // it can't begin as planned
}

// mark is a report of a load.
type mark struct {
	at   model.Clock
	fact int // its number
	LoadMark
}

// InTank says whether its mix is in the sprayer's tank.
func (l *Load) InTank() bool {
	return l.Begun && (l.State == Filling || l.State == Filled || l.State == Spraying)
}

// LeftAcres is the sum of Left.
func (l *Load) LeftAcres() model.Decimal {
	var sum model.Decimal
	for _, a := range l.Left {
		sum += a
	}
	return sum
}

// SprayedOut is when its last acre is sprayed.
func (l *Load) SprayedOut() model.Clock { return l.SprayedAt[len(l.SprayedAt)-1] }

// Acres is what of a part was sprayed.
func (l *Load) Acres(part int) model.Decimal {
	if !l.Begun {
		return 0
	}
	return l.Told.Parts[part].Acres - l.Left[part]
}

// last is the latest report of one of the states, or nil.
func (l *Load) last(states ...State) *mark {
	for i := len(l.marks) - 1; i >= 0; i-- {
		if slices.Contains(states, l.marks[i].State) {
			return &l.marks[i]
		}
	}
	return nil
}

// first is the earliest report of one of the states, or nil.
func (l *Load) first(states ...State) *mark {
	for i := range l.marks {
		if slices.Contains(states, l.marks[i].State) {
			return &l.marks[i]
		}
	}
	return nil
}

// newest is the latest report of any kind, or nil.
func (l *Load) newest() *mark {
	if n := len(l.marks); n > 0 {
		return &l.marks[n-1]
	}
	return nil
}

// collect gives a load its reports: those that the plan did not know of, also
// because they happened after the moment it was made for, and of the older ones
// those about a load that had begun then: that it had not is out of date.
func (s *Standing) collect(told *Planned) Load {
	l := Load{Told: *told, State: Waiting, Doses: told.Doses, LifeUntil: model.Never}
	begun := told.Start < s.told.At
	l.known = begun
	for _, f := range s.facts {
		m, ok := f.News.(LoadMark)
		if !ok || m.Load != told.ID {
			continue
		}
		if news := f.N > s.told.Facts || f.At > s.told.At; news || begun && m.State != Waiting {
			l.marks = append(l.marks, mark{f.At, f.N, m})
			l.known = l.known && !news
		}
	}
	l.past = begun && s.NoNews
	s.settled(&l)
	l.Left = make([]model.Decimal, len(told.Parts))
	for i, p := range told.Parts {
		l.Left[i] = p.Acres
	}
	l.Doses = drawn(told.Doses, l.marks)
	return l
}

// settled takes the acres left out of reports that the plan was made with: of a
// load that was over by then it has only the acres that were sprayed.
func (s *Standing) settled(l *Load) {
	for i := range l.marks {
		m := &l.marks[i]
		if (m.State == Done || m.State == Dropped) && m.fact <= s.told.Facts && m.at <= s.told.At {
			m.AcresLeft = new(model.Decimal)
		}
	}
}

// drawn puts the amounts that were reported in place of the planned ones.
func drawn(planned []Dose, marks []mark) []Dose {
	doses := slices.Clone(planned)
	for _, m := range marks {
		for _, d := range m.Drew {
			for i := range doses {
				if doses[i].Product == d.Product {
					doses[i].Amount = d.Amount
				}
			}
		}
	}
	return doses
}

// anchor is when a load began as far as its reports tell, and whether they do.
// Where only a later state was reported it began when it was expected to, or
// earlier if it must have. A plan that knew of it has it right.
func (l *Load) anchor(expected model.Clock) (model.Clock, bool) {
	if l.past {
		return l.Told.Start, true
	}
	m := l.first(Filling, Filled, Spraying, Done)
	if m == nil {
		return 0, false
	}
	t := &l.Told
	if m.State == Filling {
		return m.at, true
	}
	if l.known {
		return t.Start, true
	}
	switch m.State {
	case Filled:
		return max(min(expected, m.at-t.fill()), 0), true
	case Spraying:
		return max(min(expected, m.at-t.fill()-model.Clock(t.DriveOut)), 0), true
	}
	length := t.fill() + model.Clock(t.DriveOut)
	for _, p := range t.Parts {
		length += model.Clock(p.Drive + p.Spray)
	}
	return max(min(expected, m.at-length), 0), true
}
