package audit

import (
	"encoding/json"
	"math/big"
	"strings"

	"padturn/model"
)

// bill is a plan's cost, part by part.
type bill struct {
	amount, dollars map[string]*big.Rat
}

// costParts in the order of cost.csv.
var costParts = []string{"wait", "cleanout", "any_sprayer", "rinse", "rinsate", "changeover", "late", "overtime", "timeliness"}

// add counts an amount at a price.
func (b *bill) add(part string, amount, price *big.Rat) {
	b.amount[part] = add(b.amount[part], amount)
	b.dollars[part] = add(b.dollars[part], mul(amount, price))
}

func (b *bill) total() *big.Rat {
	sum := new(big.Rat)
	for _, part := range costParts {
		sum = add(sum, b.dollars[part])
	}
	return sum
}

// bill works the whole cost out from the loads.
func (a *audit) bill() *bill {
	b := &bill{map[string]*big.Rat{}, map[string]*big.Rat{}}
	for _, part := range costParts {
		b.amount[part], b.dollars[part] = new(big.Rat), new(big.Rat)
	}
	price := a.d.set.Costs
	for _, l := range a.loads {
		b.add("wait", hours(l.start-l.earliest), l.sprayer.waitPerH)
		b.add("cleanout", hours(a.d.cleanoutTime(l.cleanout)), l.sprayer.waitPerH)
		b.add("rinse", hours(a.d.rinseTime(l.rinse)), price.CrewPerH.Rat())
		b.add("rinsate", levelGallons(a.d.set.CleanoutLevels, l.cleanout), price.RinsatePerGal.Rat())
		b.add("rinsate", levelGallons(a.d.set.RinseLevels, l.rinse), price.RinsatePerGal.Rat())
		b.add("changeover", whole(int64(len(l.changes))), price.Changeover.Rat())
		b.add("any_sprayer", hours(l.anySprayer()), l.sprayer.waitPerH)
		for i, at := range l.turn.sprayed {
			p := l.parts[i]
			weighted := mul(mul(p.acres, p.job.priority), hours(at-a.d.set.Pad.Opens))
			b.add("timeliness", weighted, price.TimelinessPerAcH.Rat())
		}
	}
	for _, j := range a.d.jobOrder {
		b.add("late", mul(j.priority, hours(j.late())), price.LatePerH.Rat())
	}
	b.add("overtime", hours(a.overtime()), price.OvertimePerH.Rat())
	return b
}

// anySprayer is how long the load's sprayer drives and sprays for jobs that
// left the sprayer open. A drive belongs to the part it leads to, the way back
// to the last part.
func (l *load) anySprayer() model.Clock {
	var sum model.Clock
	part := -1
	for _, s := range l.turn.spans {
		if s.what == "drive" {
			part = min(part+1, len(l.parts)-1)
		}
		if s.what != "pause" && l.parts[part].job.Sprayer == "" {
			sum += s.to - s.from
		}
	}
	return sum
}

// late is how long after its due a job was sprayed to the last acre.
func (j *job) late() model.Clock {
	if j.Due == nil || j.left.Sign() > 0 {
		return 0
	}
	var done model.Clock
	for _, l := range j.loads {
		for i, at := range l.turn.sprayed {
			if l.parts[i].job == j {
				done = max(done, at)
			}
		}
	}
	return max(done-*j.Due, 0)
}

func (a *audit) overtime() model.Clock {
	var over model.Clock
	for _, l := range a.loads {
		over = max(over, l.end-a.d.set.Pad.Closes)
	}
	return over
}

// cent is how far a sum of money may be off.
var cent = big.NewRat(1, 100)

// checkCost compares cost.csv with the bill.
func (a *audit) checkCost() {
	b := a.bill()
	sum, seen := new(big.Rat), map[string]bool{}
	for _, r := range a.costRows {
		if seen[r.part] {
			a.breach("cost", r.where(), "part %s stands twice", r.part)
		}
		seen[r.part] = true
		want, known := b.dollars[r.part]
		switch {
		case r.part == "total":
			want = b.total()
			if !near(r.dollars, sum, cent) {
				a.breach("cost", r.where(), "total is %s dollars, expected the sum of the parts, %s", fixed(r.dollars), fixed(sum))
			}
		case !known:
			a.breach("cost", r.where(), "part is %q, expected one of %s, total", r.part, strings.Join(costParts, ", "))
			continue
		case r.amount == nil || !near(r.amount, b.amount[r.part], halfPlace):
			a.breach("cost", r.where(), "amount of %s is %s, expected %s", r.part, orBlank(r.amount), fixed(b.amount[r.part]))
		}
		if !near(r.dollars, want, cent) {
			a.breach("cost", r.where(), "dollars of %s are %s, expected %s", r.part, fixed(r.dollars), fixed(want))
		}
		sum = add(sum, r.dollars)
	}
	for _, part := range append([]string{"total"}, costParts...) {
		if !seen[part] {
			a.breach("cost", "cost.csv", "has no row for %s", part)
		}
	}
}

// checkDocument compares the main figures of plan.json, where it is there,
// with the CSV files.
func (a *audit) checkDocument() {
	content, ok := a.files["plan.json"]
	if !ok {
		return
	}
	var document struct {
		Loads  []json.RawMessage `json:"loads"`
		Totals struct {
			Loads int `json:"loads"`
			Cost  struct {
				Dollars json.RawMessage `json:"dollars"`
			} `json:"cost"`
		} `json:"totals"`
	}
	if err := json.Unmarshal(content, &document); err != nil {
		a.breach("files", "plan.json", "%s", err)
		return
	}
	a.differs("files", "plan.json", "the number of loads", len(document.Loads), len(a.loads))
	a.differs("files", "plan.json", "totals.loads", document.Totals.Loads, len(a.loads))
	written := strings.Trim(string(document.Totals.Cost.Dollars), `"`)
	if dollars, ok := parseNumber(written); !ok || !near(dollars, a.bill().total(), cent) {
		a.breach("files", "plan.json", "totals.cost.dollars is %s, expected %s", written, fixed(a.bill().total()))
	}
}
