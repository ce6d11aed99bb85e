// Package changes says what a replan changes of what the crew was told: load by
// load as a list and as changes.csv, and sprayer by sprayer in sentences that a
// dispatcher can read over the radio.
//
// It holds two plans' documents against each other and reads nothing else. Of
// loads that have begun it does not speak, nor of what a change costs, nor of
// loads that stay: a start shifted by no more than [Slack] is one that stays,
// unless a crew that keeps the told time would go wrong (minutes.go).
package changes

import (
	"cmp"
	"slices"

	"padturn/io/planfile"
	"padturn/model"
)

// Slack is how far a start may shift, in seconds, before it is a change.
const Slack = 5 * 60

// What happens to a load.
const (
	Moved     = "moved"     // another start, bay, sprayer, mix or place in the order
	Reordered = "reordered" // as it was told, but its products go in in another order
	Renamed   = "renamed"   // as it was told, but the sheets now call it something else
	New       = "new"       // nobody was told of it
	Dropped   = "dropped"   // told, and no longer there
)

// Change is what a replan changes of one load. Was is nil for a new load, Is
// for one that is dropped.
type Change struct {
	What    string
	Was, Is *planfile.Load
	// OutOfOrder: another load that was told to come later at the bay comes
	// before it now.
	OutOfOrder bool
	// Why the few minutes that its start shifts by have to be told, as they are no
	// more than the slack; blank where they are more, or need not be told.
	Why string

	shifted bool // the shift is told
}

// Between lists what the plan now changes of what was told before, by the time
// it is about. begun are the loads that neither can change.
func Between(told, now *planfile.Document, begun []string) []Change {
	was, is := open(told, begun), open(now, begun)
	match, m := matched(was, is), minutesOf(now, is)
	last := map[string]int{} // by bay: place of the latest told load so far
	var list []Change
	taken := make([]bool, len(was))
	for i, l := range is {
		k := match[i]
		if k < 0 {
			list = append(list, Change{What: New, Is: l})
			continue
		}
		taken[k] = true
		c := Change{What: Moved, Was: was[k], Is: l}
		if place, seen := last[l.Bay]; was[k].Bay == l.Bay {
			c.OutOfOrder = seen && place > k
			last[l.Bay] = max(place, k)
		}
		c.shifted, c.Why = m.told(was[k], l)
		switch {
		case c.moves():
			list = append(list, c)
		case c.reorders():
			c.What = Reordered
			list = append(list, c)
		case c.renames():
			c.What = Renamed
			list = append(list, c)
		}
	}
	for k, l := range was {
		if !taken[k] {
			list = append(list, Change{What: Dropped, Was: l})
		}
	}
	slices.SortStableFunc(list, func(x, y Change) int { return cmp.Compare(x.at(), y.at()) })
	return list
}

// AsTold is a plan with the starts that the crew was told last.
func AsTold(plan *planfile.Document) *planfile.Document {
	told := *plan
	told.Loads = slices.Clone(plan.Loads)
	for i := range told.Loads {
		if l := &told.Loads[i]; l.ToldStart != nil {
			l.Start = *l.ToldStart
		}
	}
	return &told
}

// NoteUntold writes into the plan now which starts the crew goes on believing, as they
// shift by too little to be told. Else a load could drift, replan by replan.
func NoteUntold(told, now *planfile.Document, begun []string) {
	said := map[*planfile.Load]bool{}
	for _, c := range Between(told, now, begun) {
		said[c.Is] = c.What != Renamed
	}
	was, is := open(told, begun), open(now, begun)
	for i, k := range matched(was, is) {
		if k >= 0 && !said[is[i]] && is[i].Start != was[k].Start {
			is[i].ToldStart = new(was[k].Start)
		}
	}
}

// open lists the loads that have not begun, by start and bay as the document has
// them.
func open(d *planfile.Document, begun []string) []*planfile.Load {
	var list []*planfile.Load
	for i := range d.Loads {
		if !slices.Contains(begun, d.Loads[i].Load) {
			list = append(list, &d.Loads[i])
		}
	}
	return list
}

// matched says which told load each load is, or -1: the n-th that begins with a
// job is the n-th that was told to; then, of those left over, the n-th of a
// sprayer with a mix is the n-th that was told to be.
func matched(was, is []*planfile.Load) []int {
	match, taken := make([]int, len(is)), make([]bool, len(was))
	for i := range match {
		match[i] = -1
	}
	for _, key := range []func(*planfile.Load) string{
		func(l *planfile.Load) string { return l.Parts[0].Job },
		func(l *planfile.Load) string { return l.Sprayer + "\n" + l.Mix },
	} {
		open := map[string][]int{}
		for k, l := range was {
			if !taken[k] {
				open[key(l)] = append(open[key(l)], k)
			}
		}
		for i, l := range is {
			if list := open[key(l)]; match[i] < 0 && len(list) > 0 {
				match[i], open[key(l)] = list[0], list[1:]
				taken[list[0]] = true
			}
		}
	}
	return match
}

// moves says whether a load is not as it was told.
func (c *Change) moves() bool {
	return c.OutOfOrder || c.Was.Sprayer != c.Is.Sprayer || c.Was.Bay != c.Is.Bay || c.Was.Mix != c.Is.Mix || c.shifted || c.refilled()
}

// refilled says whether a load is for other fields, or for more or fewer gallons,
// than it was told.
func (c *Change) refilled() bool {
	gal := c.Is.Gal - c.Was.Gal
	const slack = planfile.Number(model.One / 10)
	return !slices.Equal(jobs(c.Is), jobs(c.Was)) || gal > slack || gal < -slack
}

// reorders says whether the mix that was told goes in in another order.
func (c *Change) reorders() bool {
	return c.Was != nil && c.Is != nil && c.Was.Mix == c.Is.Mix && !slices.Equal(addingOrder(c.Was), addingOrder(c.Is))
}

// addingOrder lists the products of a load, the carrier aside, as they go in.
func addingOrder(l *planfile.Load) []string {
	var list []string
	for _, s := range l.Steps {
		if s.Source != planfile.SourceCarrier {
			list = append(list, s.Product)
		}
	}
	return list
}

// renames says whether the sheets now call a told load something else.
func (c *Change) renames() bool { return c.Was != nil && c.Is != nil && c.Was.Load != c.Is.Load }

// at is the moment that a change is about.
func (c *Change) at() planfile.Time {
	if c.Is != nil {
		return c.Is.Start
	}
	return c.Was.Start
}
