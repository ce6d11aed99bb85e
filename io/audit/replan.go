package audit

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"

	"padturn/model"
)

// Replan is a plan made in the course of a day, with what it is held against:
// files by name, as Check has them.
type Replan struct {
	Rest  *model.Input      // the rest of the day, with Underway
	Plan  map[string][]byte // the plan of the rest alone
	Whole map[string][]byte // the plan of the whole day, as it is written
	Told  map[string][]byte // the plan that was in force before
	// Kept is the rest planned in the order that was told; nil where nothing is
	// frozen.
	Kept        map[string][]byte
	FrozenUntil model.Clock
	Begun       []string // loads that have begun
}

// CheckReplan judges what Check, which judges the rest by the rules, cannot see:
// that history is untouched, that the rest stands in the whole day's files as it
// was judged, and that what is frozen stays. Loads are rows of loads.csv.
func CheckReplan(r *Replan) []model.Violation {
	c := &replanCheck{r: r}
	c.whole, c.rest, c.told = c.read(r.Whole, "loads.csv"), c.read(r.Plan, "loads.csv"), c.read(r.Told, "loads.csv")
	c.checkHistory()
	c.checkAmounts()
	c.checkRest()
	c.checkFrozen()
	return c.found
}

// cellsOf is a row of a CSV file by its columns.
type cellsOf map[string]string

type replanCheck struct {
	r                 *Replan
	whole, rest, told []cellsOf
	found             []model.Violation
}

func (c *replanCheck) breach(where, format string, args ...any) {
	c.found = append(c.found, model.Violation{Rule: "replan", Where: where, What: fmt.Sprintf(format, args...)})
}

func (c *replanCheck) read(files map[string][]byte, name string) []cellsOf {
	records, err := csv.NewReader(bytes.NewReader(files[name])).ReadAll()
	if err != nil || len(records) == 0 {
		c.breach(name, "is no table: %v", err)
		return nil
	}
	var rows []cellsOf
	for _, record := range records[1:] {
		row := cellsOf{}
		for i, column := range records[0] {
			row[column] = record[i]
		}
		rows = append(rows, row)
	}
	return rows
}

func byLoad(rows []cellsOf, load string) cellsOf {
	i := slices.IndexFunc(rows, func(r cellsOf) bool { return r["load"] == load })
	if i < 0 {
		return nil
	}
	return rows[i]
}

// checkHistory: every load that has begun is in the plan with the sprayer, bay,
// mix and jobs it was told with, and began before the moment; nothing else did.
func (c *replanCheck) checkHistory() {
	at := c.r.Rest.Underway.At
	for _, id := range c.r.Begun {
		row, told := byLoad(c.whole, id), byLoad(c.told, id)
		if row == nil || told == nil {
			c.breach("load "+id, "has begun; expected it in the plan before and in this one")
			continue
		}
		for _, column := range []string{"bay", "sprayer", "mix"} {
			if row[column] != told[column] {
				c.breach("load "+id, "%s is %s, but it has begun with %s", column, row[column], told[column])
			}
		}
		if jobNames(row) != jobNames(told) {
			c.breach("load "+id, "is for %s, but it has begun for %s", jobNames(row), jobNames(told))
		}
		if start, ok := clockOf(row["start"]); !ok || start > at {
			c.breach("load "+id, "starts %s, but it has begun by %s", row["start"], at)
		}
	}
	for _, row := range c.whole {
		if start, ok := clockOf(row["start"]); !slices.Contains(c.r.Begun, row["load"]) && (!ok || start < at) {
			c.breach("load "+row["load"], "starts %s, before the %s it is planned at", row["start"], at)
		}
	}
}

// jobNames are the jobs of a row without their acres: a load that is dropped
// on the way sprays less of them.
func jobNames(row cellsOf) string {
	var names []string
	for part := range strings.SplitSeq(row["jobs"], ";") {
		name, _, _ := strings.Cut(part, "=")
		names = append(names, name)
	}
	return strings.Join(names, ";")
}

// checkAmounts: what of amounts.csv was filled stays, but for amounts that were
// reported: a product of it may not come or go.
func (c *replanCheck) checkAmounts() {
	products := func(files map[string][]byte, id string) string {
		var list []string
		for _, row := range c.read(files, "amounts.csv") {
			if row["load"] == id && row["step"] != "0" && row["product"] != model.Water {
				list = append(list, row["product"])
			}
		}
		slices.Sort(list)
		return strings.Join(list, ";")
	}
	for _, id := range c.r.Begun {
		if is, was := products(c.r.Whole, id), products(c.r.Told, id); is != was {
			c.breach("load "+id, "holds %s, but it was filled with %s", is, was)
		}
	}
}

// restColumns are those that a load has in common in the plan of the rest and in
// that of the whole day; what was begun for it before the moment is only there.
var restColumns = []string{
	"bay", "seq", "load", "sprayer", "mix", "jobs", "gal", "carrier_gal", "ready", "start", "end", "wait_min", "held_min", "back_at",
}

// checkRest: the loads of the whole day are the begun ones and those of the rest.
func (c *replanCheck) checkRest() {
	var left []cellsOf
	for _, row := range c.whole {
		if !slices.Contains(c.r.Begun, row["load"]) {
			left = append(left, row)
		}
	}
	if len(left) != len(c.rest) {
		c.breach("loads.csv", "has %d loads that have not begun, expected the %d of the rest", len(left), len(c.rest))
		return
	}
	for i, row := range left {
		for _, column := range restColumns {
			if row[column] != c.rest[i][column] {
				c.breach("load "+row["load"], "%s is %s, expected %s as in the plan of the rest", column, row[column], c.rest[i][column])
			}
		}
	}
}

// frozenSlack is by how much a frozen load may shift.
const frozenSlack = 5 * 60

// checkFrozen: a load that was told to start before the frozen moment, and does
// if the told order is kept, starts there and then in this plan too.
func (c *replanCheck) checkFrozen() {
	if c.r.Kept == nil {
		return
	}
	kept := c.read(c.r.Kept, "loads.csv")
	for _, told := range c.told {
		start, ok := clockOf(told["start"])
		if !ok || start < c.r.Rest.Underway.At || start >= c.r.FrozenUntil || slices.Contains(c.r.Begun, told["load"]) {
			continue
		}
		if stays(kept, told, start) && !stays(c.rest, told, start) {
			c.breach("load "+told["load"], "moves from %s on %s, but nothing that can stay moves before %s", told["start"], told["bay"], c.r.FrozenUntil)
		}
	}
}

// stays says whether a plan has a load as it was told.
func stays(rows []cellsOf, told cellsOf, start model.Clock) bool {
	return slices.ContainsFunc(rows, func(r cellsOf) bool {
		at, ok := clockOf(r["start"])
		return ok && r["bay"] == told["bay"] && r["sprayer"] == told["sprayer"] && r["mix"] == told["mix"] &&
			strings.Split(jobNames(r), ";")[0] == strings.Split(jobNames(told), ";")[0] &&
			at-start <= frozenSlack && start-at <= frozenSlack
	})
}

func clockOf(text string) (model.Clock, bool) {
	at, err := model.ParseClock(text)
	return at, err == nil
}
