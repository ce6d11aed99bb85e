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
	u := c.r.Rest.Underway
	kept, here := staying(c.read(c.r.Kept, "loads.csv"), u.Told), staying(c.rest, u.Told)
	for i, told := range u.Told {
		if told.Start >= u.At && told.Start < c.r.FrozenUntil && kept[i] && !here[i] {
			c.breach("sprayer "+told.Sprayer, "its load told for %s on %s moves, but nothing that can stay moves before %s",
				told.Start, told.Bay, c.r.FrozenUntil)
		}
	}
}

// staying says which told loads a plan fills where and when they were told: the
// n-th load that begins with a job is the n-th that was told to, and one told
// for a bay does not come behind one told to come later there.
func staying(rows []cellsOf, told []model.ToldLoad) []bool {
	stays, next, latest := make([]bool, len(told)), map[string][]int{}, map[string]int{}
	for i, l := range told {
		next[l.Jobs[0]] = append(next[l.Jobs[0]], i)
	}
	for _, r := range rows {
		job, _, _ := strings.Cut(r["jobs"], "=")
		if len(next[job]) == 0 {
			continue
		}
		i := next[job][0]
		next[job] = next[job][1:]
		at, ok := clockOf(r["start"])
		off := at - told[i].Start
		stays[i] = ok && r["bay"] == told[i].Bay && r["sprayer"] == told[i].Sprayer && r["mix"] == told[i].Mix &&
			off <= frozenSlack && off >= -frozenSlack && latest[r["bay"]] <= i
		if r["bay"] == told[i].Bay {
			latest[r["bay"]] = max(latest[r["bay"]], i)
		}
	}
	return stays
}

func clockOf(text string) (model.Clock, bool) {
	at, err := model.ParseClock(text)
	return at, err == nil
}
