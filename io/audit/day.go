package audit

import (
	"fmt"
	"math/big"

	"padturn/model"
)

// Defaults of sprayers.csv.
var (
	roadMph    = whole(25)
	fieldMph   = whole(14)
	efficiency = big.NewRat(85, 100)
)

// day is the records with their names looked up.
type day struct {
	set      *model.Settings
	begun    *model.Underway       // nil: the day has not begun
	now      model.Clock           // no work at a bay before it
	cleanNow model.Clock           // no cleanout before it
	totes    map[[2]int]*container // by bay and connection, of a day that has begun
	products map[string]*product
	mixes    map[string]*mix
	jobs     map[string]*job
	sprayers map[string]*sprayer
	bays     map[string]*bay
	rules    []model.RuleRow
	holds    []hold

	jobOrder     []*job
	productOrder []*product
	sprayerOrder []*sprayer
	bayOrder     []*bay
}

// job is a line of jobs.csv.
type job struct {
	model.JobRow
	name     string
	mix      *mix
	acres    *big.Rat
	gpa      *big.Rat
	priority *big.Rat
	earliest model.Clock
	loads    []*load // of the plan, by start
	left     *big.Rat
	begunBy  *sprayer // nil: nothing of it is in a tank or sprayed yet
}

// sprayer is a line of sprayers.csv.
type sprayer struct {
	name        string
	tank        *big.Rat // gal
	secPerAcre  *big.Rat
	roadMph     *big.Rat
	from, until model.Clock
	lastMix     *mix     // nil: not given
	had         *past    // loads of a day that has begun; nil: none
	named       int      // its loads are numbered after so many
	goesOn      *job     // begun, so the first of what is planned
	waitPerH    *big.Rat // dollars
	loads       []*load  // of the plan, by start
}

// bay is an entry of pad.bays.
type bay struct {
	model.BaySettings
	index   int
	lastMix *mix // nil: not given
	rinsed  int  // level that is done before its first load, -1 for none
	filled  int  // its loads are numbered after so many
	free    model.Clock
	shut    []hold
	loads   []*load // of the plan, by seq
}

func newDay(in *model.Input) *day {
	d := &day{
		set:      &in.Settings,
		products: map[string]*product{},
		mixes:    map[string]*mix{},
		jobs:     map[string]*job{},
		sprayers: map[string]*sprayer{},
		bays:     map[string]*bay{},
		rules:    in.Rules,
		begun:    in.Underway,
		now:      in.Settings.Pad.Opens,
	}
	d.addProducts(in)
	d.addMixes(in)
	d.addSprayers(in)
	d.addBays()
	d.addJobs(in)
	d.addHolds(in)
	d.goOn()
	return d
}

func (d *day) addSprayers(in *model.Input) {
	for _, r := range in.Sprayers {
		s := &sprayer{
			name: r.Sprayer, tank: r.TankGal.Rat(), roadMph: decimal(r.RoadMph, roadMph),
			from:     moment(r.AvailableFrom, d.set.Pad.Opens),
			until:    moment(r.AvailableUntil, model.Never),
			lastMix:  d.mixes[r.LastMix],
			waitPerH: decimal(r.WaitPerH, d.set.Costs.WaitPerH.Rat()),
		}
		acresPerHour := decimal(r.AcPerH, nil)
		if acresPerHour == nil {
			width := mul(decimal(r.BoomFt, new(big.Rat)), decimal(r.Mph, fieldMph))
			acresPerHour = quo(mul(width, decimal(r.Efficiency, efficiency)), big.NewRat(825, 100))
		}
		s.secPerAcre = quo(whole(3600), acresPerHour)
		d.sprayers[s.name] = s
		d.sprayerOrder = append(d.sprayerOrder, s)
	}
}

func (d *day) addBays() {
	for i, r := range d.set.Pad.Bays {
		if len(r.Carriers) == 0 {
			r.Carriers = []string{model.Water}
		}
		b := &bay{BaySettings: r, index: i, lastMix: d.mixes[r.LastMix], rinsed: -1, free: d.set.Pad.Opens}
		d.bays[b.Name] = b
		d.bayOrder = append(d.bayOrder, b)
	}
}

func (d *day) addJobs(in *model.Input) {
	for i, r := range in.Jobs {
		m := d.mixes[r.Mix]
		if m == nil {
			continue
		}
		j := &job{
			JobRow: r, name: r.Job, mix: m, acres: r.Acres.Rat(), gpa: decimal(r.GPA, m.gpa),
			priority: decimal(r.Priority, whole(1)), earliest: moment(r.Earliest, 0), left: new(big.Rat),
		}
		if j.name == "" {
			j.name = fmt.Sprint(i + 1)
		}
		d.jobs[j.name] = j
		d.jobOrder = append(d.jobOrder, j)
	}
}

// lastEnd is the latest moment at which a filling may end.
func (d *day) lastEnd() model.Clock { return moment(d.set.Pad.OvertimeUntil, d.set.Pad.Closes) }
