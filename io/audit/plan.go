package audit

import (
	"cmp"
	"math/big"
	"slices"
	"strings"

	"padturn/model"
)

// load is a line of loads.csv with the lines of the other files that belong to
// it, and what is worked out about it.
type load struct {
	id      string
	line    int
	bay     *bay
	seq     int
	sprayer *sprayer
	mix     *mix
	parts   []*part
	run     []*job // filled as one with it, in order

	gal, carrierGal              *big.Rat
	ready, setupStart            model.Clock
	start, end, backAt           model.Clock
	waitMin, heldMin             *big.Rat
	cleanout, rinse, changeovers int // levels by their place in the list, -1 for none

	amounts []*amountRow
	changes []*change // in file order
	spans   []*spanRow

	// Worked out, not read.
	spray     *big.Rat // gallons
	carrier   *big.Rat // gallons
	first     *big.Rat // gallons of carrier that go in first
	legs      []model.Clock
	turn      turn
	soonest   model.Clock // ready, had its cleanout waited for nothing
	earliest  model.Clock // the start that the opening and R9 alone would allow then
	setupDone model.Clock
	cleanFrom model.Clock    // when the cleanout begins; ready without one
	inside    []insideChange // what has to be changed while it is filled
	freeAt    model.Clock    // when all containers for that were free
}

// part is a job's share of a load: the acres the file has and the exact ones of
// the run it belongs to.
type part struct {
	job    *job
	listed *big.Rat
	acres  *big.Rat
	holds  []hold // that keep it from being sprayed
}

// amountRow is a line of amounts.csv.
type amountRow struct {
	line          int
	step          int
	product, unit string
	amount        *big.Rat
}

// change is a line of connections.csv.
type change struct {
	line       int
	bay        *bay
	connection int // 0 is the first
	at         model.Clock
	off, on    string
	load       *load
	freeAt     model.Clock // when the container it waited for was free
}

// spanRow is a line of turns.csv.
type spanRow struct {
	line    int
	sprayer *sprayer
	load    *load
	span
}

type stockRow struct {
	line           int
	product, event string
	at             model.Clock
	change         *big.Rat // nil: blank
	level          *big.Rat
	low            bool
}

type waterRow struct {
	line    int
	at      model.Clock
	event   string
	water   *big.Rat // nil: blank
	rinsate *big.Rat
}

type costRow struct {
	line    int
	part    string
	amount  *big.Rat // nil: blank
	dollars *big.Rat
}

type unsprayedRow struct {
	line   int
	job    *job
	acres  *big.Rat
	reason string
}

// readPlan reads all files. Lines that can't be read are breaches and left out.
func (a *audit) readPlan() {
	for _, r := range a.rows("loads.csv") {
		a.readLoad(r)
	}
	for _, r := range a.rows("amounts.csv") {
		l := find(r, "load", a.byID)
		row := &amountRow{r.line, r.count("step", 0), r.text("product"), r.text("unit"), r.number("amount")}
		if !r.bad {
			l.amounts = append(l.amounts, row)
		}
	}
	for _, r := range a.rows("connections.csv") {
		c := &change{
			line: r.line, bay: find(r, "bay", a.d.bays), connection: r.count("connection", 1) - 1,
			at: r.clock("at"), off: r.text("off"), on: r.text("on"), load: find(r, "load", a.byID),
		}
		if !r.bad {
			a.changes = append(a.changes, c)
			c.load.changes = append(c.load.changes, c)
		}
	}
	for _, r := range a.rows("turns.csv") {
		s := &spanRow{
			r.line, find(r, "sprayer", a.d.sprayers), find(r, "load", a.byID),
			span{r.text("what"), r.clock("from"), r.clock("to")},
		}
		if !r.bad {
			a.spans = append(a.spans, s)
			s.load.spans = append(s.load.spans, s)
		}
	}
	a.readEvents()
	a.sortLoads()
}

func (a *audit) readEvents() {
	for _, r := range a.rows("stock.csv") {
		s := &stockRow{r.line, r.text("product"), r.text("event"), r.clock("at"), r.optional("change"), r.number("level"), r.yes("low")}
		if find(r, "product", a.d.products); !r.bad {
			a.stockRows = append(a.stockRows, s)
		}
	}
	for _, r := range a.rows("water.csv") {
		w := &waterRow{r.line, r.clock("at"), r.text("event"), r.optional("water_gal"), r.number("rinsate_gal")}
		if !r.bad {
			a.waterRows = append(a.waterRows, w)
		}
	}
	for _, r := range a.rows("unsprayed.csv") {
		u := &unsprayedRow{r.line, find(r, "job", a.d.jobs), r.number("acres"), r.text("reason")}
		if !r.bad {
			a.unsprayed = append(a.unsprayed, u)
			u.job.left = add(u.job.left, u.acres)
		}
	}
	for _, r := range a.rows("cost.csv") {
		c := &costRow{r.line, r.text("part"), r.optional("amount"), r.number("dollars")}
		if !r.bad {
			a.costRows = append(a.costRows, c)
		}
	}
}

// yes reads a flag.
func (r *row) yes(column string) bool {
	switch strings.ToLower(r.cells[column]) {
	case "yes", "true", "low", "1":
		return true
	case "no", "false", "", "0":
		return false
	}
	r.wrong(column, "yes or no")
	return false
}

func (a *audit) readLoad(r *row) {
	l := &load{
		id: r.text("load"), line: r.line, seq: r.count("seq", 1),
		bay: find(r, "bay", a.d.bays), sprayer: find(r, "sprayer", a.d.sprayers), mix: find(r, "mix", a.d.mixes),
		gal: r.number("gal"), carrierGal: r.number("carrier_gal"),
		ready: r.clock("ready"), setupStart: r.clock("setup_start"), start: r.clock("start"), end: r.clock("end"),
		waitMin: r.number("wait_min"), heldMin: r.number("held_min"),
		cleanout: r.level("cleanout", a.d.set.CleanoutLevels), rinse: r.level("rinse", a.d.set.RinseLevels),
		changeovers: r.count("changeovers", 0), backAt: r.clock("back_at"),
	}
	for field := range strings.SplitSeq(r.text("jobs"), ";") {
		l.parts = append(l.parts, r.part(field))
	}
	for name := range strings.SplitSeq(r.text("run"), ";") {
		l.run = append(l.run, a.d.jobs[name])
	}
	if slices.Contains(l.run, nil) {
		r.wrong("run", "the jobs of its run, such as J12;J14")
	}
	if _, twice := a.byID[l.id]; twice || l.id == "" {
		r.wrong("load", "a name that no other load has")
	}
	if r.bad {
		return
	}
	a.loads = append(a.loads, l)
	a.byID[l.id] = l
	l.bay.loads = append(l.bay.loads, l)
	l.sprayer.loads = append(l.sprayer.loads, l)
}

func (r *row) level(column string, list []model.LevelSettings) int {
	i := level(list, r.cells[column])
	if i < 0 && r.cells[column] != "" {
		r.wrong(column, "a level of day.yaml or blank")
	}
	return i
}

// part reads JOB=ACRES.
func (r *row) part(field string) *part {
	name, acres, _ := strings.Cut(field, "=")
	j := r.a.d.jobs[name]
	n, ok := parseNumber(acres)
	if j == nil || !ok {
		r.wrong("jobs", "jobs of jobs.csv with their acres, such as J12=53.3300;J14=13.3400")
	}
	return &part{job: j, listed: n, acres: n}
}

// sortLoads puts the loads of bays, sprayers and jobs in order.
func (a *audit) sortLoads() {
	for _, b := range a.d.bayOrder {
		slices.SortStableFunc(b.loads, func(x, y *load) int { return cmp.Compare(x.seq, y.seq) })
	}
	for _, s := range a.d.sprayerOrder {
		slices.SortStableFunc(s.loads, func(x, y *load) int { return cmp.Compare(x.start, y.start) })
		for _, l := range s.loads {
			for _, p := range l.parts {
				p.job.loads = append(p.job.loads, l)
			}
		}
	}
}
