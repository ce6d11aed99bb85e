package changes

import (
	"fmt"
	"slices"
	"strings"

	"padturn/io/handout"
	"padturn/io/planfile"
	"padturn/model"
)

// Radio says in sentences what each sprayer must be told, in the order of the
// day's sprayers: a text for each, with a line for each of its fills. Sprayers for
// whom nothing changes are not mentioned. A load is called by its fields, as that
// is what an operator knows it by, and amounts are in the day's units.
func Radio(told, now *planfile.Document, begun []string) []string {
	r := radio{
		list: Between(told, now, begun), next: nextFills(open(now, begun), now), told: nextFills(open(told, begun), now),
		reasons: map[string]string{}, fields: FieldsOf(told, now), unit: "gal", sprays: map[*planfile.Load]string{},
		taken: map[string]bool{},
	}
	for i := range now.Loads {
		r.taken[now.Loads[i].Load] = true
	}
	for _, d := range []*planfile.Document{told, now} {
		printed := handout.Sprays(d)
		for i := range d.Loads {
			r.sprays[&d.Loads[i]] = short(printed[d.Loads[i].Load])
		}
	}
	if now.Day.Units == "metric" {
		r.unit = "L"
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

// short leaves out the zeros behind the point of a number, with which a sheet fills its
// column: nobody says them, and the sheets of another plan may have none.
func short(number string) string {
	if !strings.Contains(number, ".") {
		return number
	}
	return strings.TrimSuffix(strings.TrimRight(number, "0"), ".")
}

// radio is what is to be said.
type radio struct {
	list       []Change
	next, told map[string]*planfile.Load // by sprayer: the next load now, and as told
	reasons    map[string]string         // by job: why acres of it are left
	fields     Fields
	unit       string                    // of spray volumes
	sprays     map[*planfile.Load]string // spray volumes, as the sheets have them
	taken      map[string]bool           // names that loads now have
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
		case c.What != Renamed:
			said = append(said, r.moves(c))
		}
	}
	if names := r.names(sprayer); len(names) > 0 {
		said = append(said, strings.Join(names, ", ")+".")
	}
	return said
}

// names says which loads that a sprayer was told are called something else on the new
// sheets: who holds an old one would take it for another load, or find none.
func (r *radio) names(sprayer string) []string {
	var list []string
	for i := range r.list {
		c := &r.list[i]
		if c.Was == nil || c.Was.Sprayer != sprayer {
			continue
		}
		lead := c.Was.Load
		if len(list) == 0 {
			lead = "load " + lead + " of the old sheets"
		}
		switch {
		case c.renames():
			list = append(list, fmt.Sprintf("%s is now %s", lead, c.Is.Load))
		case c.What == Dropped && r.taken[c.Was.Load]:
			list = append(list, lead+" is off")
		}
	}
	return list
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
	return fmt.Sprintf("a new fill at %s %s, %s, %s %s, for %s%s.", hhmm(c.Is), c.Is.Bay, c.Is.Mix, r.sprays[c.Is], r.unit, r.fields.Of(c.Is), from)
}

// moves speaks of a load that the sprayer keeps.
func (r *radio) moves(c *Change) string {
	mix := "mix unchanged"
	if c.Was.Mix != c.Is.Mix {
		mix = fmt.Sprintf("mix changes from %s to %s", c.Was.Mix, c.Is.Mix)
	}
	if !slices.Equal(jobs(c.Is), jobs(c.Was)) {
		mix += fmt.Sprintf(", for %s instead of %s", r.fields.Of(c.Is), r.fields.Of(c.Was))
	}
	if c.refilled() && r.sprays[c.Is] != r.sprays[c.Was] {
		mix += fmt.Sprintf(", %s %s instead of %s", r.sprays[c.Is], r.unit, r.sprays[c.Was])
	}
	if c.reorders() {
		mix += ", added in the order " + strings.Join(addingOrder(c.Is), ", ")
	}
	fill := "your fill"
	if r.next[c.Is.Sprayer] == c.Is {
		fill = "your next fill"
	}
	if fill != "your next fill" || r.told[c.Is.Sprayer] != c.Was {
		fill += " for " + r.fields.Of(c.Was)
	}
	switch {
	case c.Was.Bay != c.Is.Bay:
		return fmt.Sprintf("%s moves from %s %s to %s %s, %s.", fill, hhmm(c.Was), c.Was.Bay, hhmm(c.Is), c.Is.Bay, mix)
	case c.shifted:
		if c.Why != "" {
			mix += ", " + c.Why
		}
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
	return fmt.Sprintf("your fill at %s %s for %s", hhmm(l), l.Bay, r.fields.Of(l))
}

// hhmm is a load's start to the minute.
func hhmm(l *planfile.Load) string { return model.Clock(l.Start).HHMM() }
