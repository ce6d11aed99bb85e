package changes

import (
	"fmt"
	"slices"
	"strings"

	"padturn/io/planfile"
	"padturn/model"
)

// Radio says in sentences what each sprayer must be told, in the order of the
// day's sprayers: a text for each, with a line for each of its fills. Sprayers for
// whom nothing changes are not mentioned.
func Radio(told, now *planfile.Document, begun []string) []string {
	r := radio{list: Between(told, now, begun), next: map[string]*planfile.Load{}, told: map[string]*planfile.Load{}, reasons: map[string]string{}}
	for _, l := range open(now, begun) {
		if r.next[l.Sprayer] == nil {
			r.next[l.Sprayer] = l
		}
	}
	for _, l := range open(told, begun) {
		if r.told[l.Sprayer] == nil {
			r.told[l.Sprayer] = l
		}
	}
	for _, u := range now.Unsprayed {
		r.reasons[u.Job] = u.Reason
	}
	var all []string
	for _, s := range now.Sprayers {
		if said := r.to(s.Sprayer); len(said) > 0 {
			all = append(all, s.Sprayer+": "+strings.Join(said, "\n  then "))
		}
	}
	return all
}

// radio is what is to be said.
type radio struct {
	list       []Change
	next, told map[string]*planfile.Load // by sprayer: the next load now, and as told
	reasons    map[string]string         // by job: why acres of it are left
}

// to is what a sprayer must be told.
func (r *radio) to(sprayer string) []string {
	var said []string
	for i := range r.list {
		c := &r.list[i]
		switch {
		case c.Was != nil && c.Was.Sprayer == sprayer && (c.Is == nil || c.Is.Sprayer != sprayer):
			said = append(said, r.goes(c))
		case c.Is == nil || c.Is.Sprayer != sprayer:
		case c.Was == nil || c.Was.Sprayer != sprayer:
			said = append(said, r.comes(c))
		default:
			said = append(said, r.moves(c))
		}
	}
	return said
}

// goes speaks of a load that a sprayer no longer has.
func (r *radio) goes(c *Change) string {
	if c.Is != nil {
		return fmt.Sprintf("%s goes to %s.", r.which(c.Was, r.told), c.Is.Sprayer)
	}
	for _, job := range jobs(c.Was) {
		if why := r.reasons[job]; why != "" {
			return fmt.Sprintf("%s is off: %s.", r.which(c.Was, r.told), why)
		}
	}
	return fmt.Sprintf("%s is off.", r.which(c.Was, r.told))
}

// comes speaks of a load that a sprayer did not have.
func (r *radio) comes(c *Change) string {
	from := ""
	if c.Was != nil {
		from = ", from " + c.Was.Sprayer
	}
	return fmt.Sprintf("a new fill at %s %s, %s, for %s%s.", hhmm(c.Is), c.Is.Bay, c.Is.Mix, strings.Join(jobs(c.Is), " and "), from)
}

// moves speaks of a load that the sprayer keeps.
func (r *radio) moves(c *Change) string {
	mix := "mix unchanged"
	if c.Was.Mix != c.Is.Mix {
		mix = fmt.Sprintf("mix changes from %s to %s", c.Was.Mix, c.Is.Mix)
	}
	if is, was := jobs(c.Is), jobs(c.Was); !slices.Equal(is, was) {
		mix += fmt.Sprintf(", for %s instead of %s", strings.Join(is, " and "), strings.Join(was, " and "))
	} else if c.refilled() {
		mix += fmt.Sprintf(", %s gal instead of %s", c.Is.Gal.Fixed(0), c.Was.Gal.Fixed(0))
	}
	fill := "your fill"
	if r.next[c.Is.Sprayer] == c.Is {
		fill = "your next fill"
	}
	if fill != "your next fill" || r.told[c.Is.Sprayer] != c.Was {
		fill += " for " + strings.Join(jobs(c.Was), " and ")
	}
	switch {
	case c.Was.Bay != c.Is.Bay:
		return fmt.Sprintf("%s moves from %s %s to %s %s, %s.", fill, hhmm(c.Was), c.Was.Bay, hhmm(c.Is), c.Is.Bay, mix)
	case c.shifts():
		return fmt.Sprintf("%s moves from %s to %s at %s, %s.", fill, hhmm(c.Was), hhmm(c.Is), c.Is.Bay, mix)
	case c.OutOfOrder:
		return fmt.Sprintf("%s at %s %s now comes behind another, %s.", fill, hhmm(c.Is), c.Is.Bay, mix)
	}
	return fmt.Sprintf("%s at %s %s: %s.", fill, hhmm(c.Is), c.Is.Bay, mix)
}

// which names a told load: the next one, or by its time and jobs.
func (r *radio) which(l *planfile.Load, next map[string]*planfile.Load) string {
	if next[l.Sprayer] == l {
		return fmt.Sprintf("your next fill, %s %s,", hhmm(l), l.Bay)
	}
	return fmt.Sprintf("your fill at %s %s for %s", hhmm(l), l.Bay, strings.Join(jobs(l), " and "))
}

// hhmm is a load's start to the minute.
func hhmm(l *planfile.Load) string { return model.Clock(l.Start).HHMM() }
