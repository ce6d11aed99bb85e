package handout

import (
	"fmt"
	"strings"

	"padturn/model"
)

// Words says what is on a connection at the opening.
func (h Hooked) Words() string {
	switch {
	case h.Product == "":
		return "empty"
	case h.Plumbed:
		return h.Product + " (plumbed)"
	}
	return h.Product
}

// Words says what is done at which connection, without the time.
func (c Change) Words() string { return fmt.Sprintf("connection %d: %s", c.Connection, c.Deed()) }

// Deed says what is done.
func (c Change) Deed() string {
	words := c.Off + " off, " + c.On + " on"
	switch c.Off {
	case "":
		words = c.On + " on"
	case c.On:
		words = "fresh " + orContainer(c.Container) + " of " + c.On
	}
	if c.Inside {
		words += ", during the fill"
	}
	return words
}

func orContainer(text string) string {
	if text == "" {
		return "container"
	}
	kind, _, _ := strings.Cut(text, " ")
	return kind
}

// About is what a label's reader looks for: formulation, rate, registration.
func (l Line) About() string {
	var parts []string
	for _, text := range []string{l.Form, l.Rate} {
		if text != "" {
			parts = append(parts, text)
		}
	}
	if l.EPARegNo != "" {
		parts = append(parts, "EPA "+l.EPARegNo)
	}
	return strings.Join(parts, " · ")
}

// Packs says how many containers to bring out.
func (b Bring) Packs() string {
	switch {
	case b.Container == "":
		return b.Need.String()
	case b.Count == 0:
		return "the opened " + b.Container
	}
	return containers(b.Count, b.Container)
}

// Needed says what the hour's loads take, where the containers do not.
func (b Bring) Needed() string {
	if b.Container == "" {
		return ""
	}
	return b.Need.String() + " needed"
}

// Words says what will be empty.
func (e Empty) Words() string { return containers(e.Count, e.Container) }

// containers counts containers: 3 jugs of 2.5 gal.
func containers(n int64, container string) string {
	kind, of, sized := strings.Cut(container, " of ")
	words := model.Count(int(n), kind)
	if sized {
		words += " of " + of
	}
	return words
}

// StagingNote says how the staging list counts.
const StagingNote = "Bring out before the hour's first load; opened containers first. Hopper packs are counted bay by bay from a full one; " +
	"totes and drums count as empty when a fresh one takes their place. Triple-rinse or pressure-rinse every empty jug into the tank " +
	"as its label says, and take it off the pad."

// Otherwise is the amount again, in one unit and by weight, where that says
// more than [Line.Measure].
func (l Line) Otherwise() string {
	var parts []string
	if one := l.Amount.String(); one != l.Measure {
		parts = append(parts, "= "+one)
	}
	if l.Weight != nil {
		parts = append(parts, finely(*l.Weight)+" by scale")
	}
	return strings.Join(parts, " · ")
}
