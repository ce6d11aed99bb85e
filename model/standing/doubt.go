package standing

import (
	"fmt"
	"slices"
	"strings"

	"padturn/model"
)

// Doubt is a load that the crew was told and that can't be kept as it was.
type Doubt struct {
	Load, Sprayer string
	Start         model.Clock // as told
	Why           string
}

// Doubts lists the loads not begun that can't be kept as they were told, by
// what was reported and forecast since, in the order of the plan.
func (s *Standing) Doubts() []Doubt {
	var list []Doubt
	for i := range s.Loads {
		l := &s.Loads[i]
		if l.Begun || l.State == Dropped {
			continue
		}
		if why := s.doubt(l); why != "" {
			list = append(list, Doubt{l.Told.ID, l.Told.Sprayer, l.Told.Start, why})
		}
	}
	return list
}

// doubt says why a load can't be kept, or nothing.
func (s *Standing) doubt(l *Load) string {
	t := &l.Told
	switch why := s.jobDoubt(t); {
	case why != "":
		return why
	case l.Start >= model.Never && l.why != "":
		return "can't be filled, as far as is known: " + strings.TrimSuffix(l.why, " before")
	case l.Start > t.Start && l.why != "":
		return fmt.Sprintf("starts at %s: %s then", l.Start.HHMM(), l.why)
	case l.Start > t.Start:
		return "was to start before now"
	case l.SprayedOut() >= model.Never:
		return "is not sprayed out in the spraying hours"
	case l.SprayedOut() > l.LifeUntil:
		return fmt.Sprintf("is sprayed out at %s, after its tank life ends at %s%s", l.SprayedOut().HHMM(), l.LifeUntil.HHMM(), s.heldBy(l))
	case l.SprayedOut() > t.sprayed():
		return fmt.Sprintf("is sprayed out at %s, not %s%s", l.SprayedOut().HHMM(), t.sprayed().HHMM(), s.heldBy(l))
	}
	return ""
}

// jobDoubt says what of a load's jobs is no longer as it was.
func (s *Standing) jobDoubt(t *Planned) string {
	for _, name := range t.jobs() {
		i := s.job(name)
		row := &s.Day.Jobs[i]
		switch {
		case s.Jobs[i].Dropped:
			return "job " + name + " was dropped"
		case row.Mix != t.Mix:
			return "job " + name + " is for " + row.Mix + " now"
		case row.Sprayer != "" && row.Sprayer != t.Sprayer:
			return "job " + name + " is for " + row.Sprayer + " now"
		case s.planned(name) != s.Jobs[i].ToFill && s.acresChanged(name):
			return fmt.Sprintf("job %s has %s ac to fill, planned %s", name, s.Jobs[i].ToFill.Fixed(1), s.planned(name).Fixed(1))
		}
	}
	return ""
}

// planned is what the plan still fills of a job.
func (s *Standing) planned(job string) model.Decimal {
	var sum model.Decimal
	for i := range s.Loads {
		if l := &s.Loads[i]; !l.Begun && l.State != Dropped {
			for _, p := range l.Told.Parts {
				if p.Job == job {
					sum += p.Acres
				}
			}
		}
	}
	return sum
}

// acresChanged says whether a job's acres are not what the plan went by: its
// acres were reported, or some of a load's came back to it. A plan may leave
// acres undone by itself.
func (s *Standing) acresChanged(job string) bool {
	for _, f := range s.facts {
		if m, ok := f.News.(JobMark); ok && m.Row.Job == job && f.N > s.told.Facts && slices.Contains(m.Given, "acres") {
			return true
		}
	}
	for i := range s.Loads {
		l := &s.Loads[i]
		over := l.State == Dropped || l.State == Done
		if over && slices.Contains(l.Told.jobs(), job) && l.LeftAcres() > 0 && len(l.marks) > 0 && l.newest().fact > s.told.Facts {
			return true
		}
	}
	return false
}

// heldBy names the holds that a load meets in the field.
func (s *Standing) heldBy(l *Load) string {
	at, until := l.End, min(l.SprayedOut(), model.Never)
	for i := range s.Problem.Holds {
		h := &s.Problem.Holds[i]
		if h.From >= until || h.To <= at {
			continue
		}
		for _, name := range l.Told.jobs() {
			if s.applies(h, &l.Told, &s.Problem.Jobs[s.job(name)]) {
				return fmt.Sprintf(": %s %s-%s", s.holdName(i), h.From.HHMM(), h.To.HHMM())
			}
		}
	}
	return ""
}

// holdName is what a hold is called: its kind, and whether it is a forecast.
func (s *Standing) holdName(hold int) string {
	kind := s.Problem.Holds[hold].Kind
	switch {
	case hold >= len(s.Day.Holds):
		return kind + " of the forecast"
	case kind == "" || kind == "other":
		return "hold"
	}
	return kind
}

// Stranded is a load in a tank that needs a person's decision: padturn makes
// none about a mix.
type Stranded struct {
	Load, Sprayer, Mix string
	Acres              model.Decimal // in the tank
	LifeUntil          model.Clock   // Never where no label says
	SprayedOut         model.Clock   // as it looks; Never where it can't be
	Why                string
}

// Stranded lists the loads in tanks that can't be sprayed where and when they
// were meant to be.
func (s *Standing) Stranded() []Stranded {
	var list []Stranded
	for i := range s.Loads {
		l := &s.Loads[i]
		if !l.InTank() {
			continue
		}
		if why := s.whyStranded(l); why != "" {
			list = append(list, Stranded{l.Told.ID, l.Told.Sprayer, l.Told.Mix, l.LeftAcres(), l.LifeUntil, l.SprayedOut(), why})
		}
	}
	return list
}

func (s *Standing) whyStranded(l *Load) string {
	for k, p := range l.Told.Parts {
		if l.Left[k] > 0 && s.Jobs[s.job(p.Job)].Dropped {
			return "job " + p.Job + " was dropped"
		}
	}
	outs := s.outs[s.sprayer(l.Told.Sprayer)]
	isOut := len(outs) > 0 && outs[len(outs)-1].to >= model.Never
	switch {
	case l.SprayedOut() >= model.Never && isOut:
		return l.Told.Sprayer + " is out of service"
	case l.SprayedOut() >= model.Never:
		return "it is not sprayed out in the spraying hours"
	case l.SprayedOut() > l.LifeUntil:
		return fmt.Sprintf("it is sprayed out at %s, after its tank life ends at %s%s", l.SprayedOut().HHMM(), l.LifeUntil.HHMM(), s.heldBy(l))
	}
	return ""
}

// Uncovered is acres of a job that no load of the plan is to fill.
type Uncovered struct {
	Job, Field string
	Acres      model.Decimal
}

// Uncovered lists the jobs that have more to fill than the crew was told: new or
// larger ones, those whose loads were dropped, and those that the plan leaves.
func (s *Standing) Uncovered() []Uncovered {
	var list []Uncovered
	for i, j := range s.Jobs {
		if more := j.ToFill - s.planned(j.Name); more > sliver {
			list = append(list, Uncovered{j.Name, s.Problem.Jobs[i].Field, more})
		}
	}
	return list
}
