package standing

import (
	"errors"
	"fmt"
	"math/big"
	"slices"

	"padturn/model"
)

// Standing is where a day stands at a moment.
type Standing struct {
	At model.Clock
	// Day is the day as it is known now: its files with the jobs, holds and
	// deliveries that were reported. Dropped jobs are still among its jobs.
	Day        model.Input
	Problem    *model.Problem // of Day
	Loads      []Load         // in the order of the plan
	Jobs       []Job          // as in Day
	Bays       []Bay          // as in Day
	Sprayers   []Sprayer      // as in Day
	Stock      []Stock        // by product, as in Day
	Deliveries []Delivery     // as in Day
	Water      *big.Rat       // gal; nil where the pad's water never runs short
	Rinsate    model.Decimal  // gal so far today
	// Ahead are the numbers of the reports that are left out because they happened
	// later.
	Ahead []int
	// NoNews: nothing was reported that the plan told does not know of, and the day's
	// files are as they were when it was made.
	NoNews bool
	// Oddities are reports that do not fit together, in words.
	Oddities []string

	told  Told
	facts []Fact
	outs  [][]span // by sprayer: when it was or will be out of service
	pad   *pad
}

// Job is how far a job is.
type Job struct {
	Name    string
	Asked   model.Decimal // acres, as known now
	Sprayed model.Decimal
	InTank  model.Decimal // filled and not yet sprayed
	ToFill  model.Decimal // in no tank yet
	Dropped bool
	Added   bool // was not in the files
}

// Bay is a fill position at the moment.
type Bay struct {
	Name     string
	Load     string      // that it fills, blank for none
	FreeFrom model.Clock // end of that load or of the set-up step being done, else the moment
	LastMix  string      // in the manifold
	Rinsed   string      // rinse level begun since
	On       []Hooked    // by connection
	Unused   []int       // by connection: how many loads ago it was drawn from, see model.BayUnderway
	Loads    int         // filled or being filled
}

// Hooked is what is on a connection.
type Hooked struct {
	Product string         // blank: nothing
	Left    *model.Decimal // in the tote, stock unit; nil for bulk and for none
	Size    model.Decimal  // of the tote
}

// Sprayer is a machine at the moment.
type Sprayer struct {
	Name    string
	Load    string      // in its tank or behind it last, blank for none
	BackAt  model.Clock // at the pad and free for a cleanout or a load
	Sprayed []model.TankUnderway
	Cleaned string // cleanout level begun since, for its next load
	Out     bool
	OutFrom model.Clock // good only when Out
	OutTill model.Clock // Never where not known; good only when Out
}

// Delivery is a row of deliveries.csv at the moment.
type Delivery struct {
	Row      model.DeliveryRow // At is when it came or is expected; Never where not known
	Planned  model.Clock
	Arrived  bool
	Presumed bool // nobody said so
}

// At works out where a day stands: in is the day as its files have it, told the
// plan in force, facts what was reported. What happened after the moment is left
// alone; holds, jobs and late deliveries count whenever they were reported. Its
// error lists all that does not fit together: a plan of another day, or facts that
// make no day.
func At(in model.Input, told Told, facts []Fact, at model.Clock) (*Standing, error) {
	s := &Standing{At: at, told: told}
	for _, f := range facts {
		if f.At > at && f.happens() {
			s.Ahead = append(s.Ahead, f.N)
		} else {
			s.facts = append(s.facts, f)
		}
	}
	s.NoNews = told.Same && !s.heard()
	s.Day = in
	if err := s.hear(); err != nil {
		return nil, err
	}
	if err := s.fits(); err != nil {
		return nil, err
	}
	s.project()
	s.countJobs()
	s.replayPad()
	s.placeSprayers()
	return s, nil
}

// happens says whether a fact is about a moment, not about what is to come: holds,
// jobs and late deliveries count whenever they were reported.
func (f *Fact) happens() bool {
	switch news := f.News.(type) {
	case HoldMark, JobMark:
		return false
	case DeliveryMark:
		return news.Arrived
	}
	return true
}

// heard says whether anything was reported that the plan told does not know of.
func (s *Standing) heard() bool {
	return slices.ContainsFunc(s.facts, func(f Fact) bool {
		return f.N > s.told.Facts || f.At > s.told.At && f.happens()
	})
}

// fits makes sure that the plan speaks of things that the day has.
func (s *Standing) fits() error {
	var all []error
	missing := func(load, what, name, file string) {
		all = append(all, fmt.Errorf("load %s of the plan is %s %s, which %s does not have; plan the day again", load, what, name, file))
	}
	for i := range s.told.Loads {
		l := &s.told.Loads[i]
		if s.bay(l.Bay) == model.None {
			missing(l.ID, "filled on", l.Bay, "day.yaml")
		}
		if s.sprayer(l.Sprayer) == model.None {
			missing(l.ID, "for", l.Sprayer, "sprayers.csv")
		}
		for _, p := range l.Parts {
			if s.job(p.Job) == model.None {
				missing(l.ID, "for job", p.Job, "jobs.csv")
			}
		}
		for _, d := range l.Doses {
			if s.product(d.Product) == model.None {
				missing(l.ID, "made with", d.Product, "products.csv")
			}
		}
	}
	return errors.Join(all...)
}

func (s *Standing) bay(name string) int {
	return slices.IndexFunc(s.Problem.Bays, func(b model.Bay) bool { return b.Name == name })
}

func (s *Standing) sprayer(name string) int {
	return slices.IndexFunc(s.Problem.Sprayers, func(m model.Sprayer) bool { return m.Name == name })
}

func (s *Standing) job(name string) int {
	return slices.IndexFunc(s.Problem.Jobs, func(j model.Job) bool { return j.Name == name })
}

func (s *Standing) product(name string) int {
	return slices.IndexFunc(s.Problem.Products, func(p model.Product) bool { return p.Name == name })
}

func (s *Standing) mix(name string) int {
	return slices.IndexFunc(s.Problem.Mixes, func(m model.Mix) bool { return m.Name == name })
}

// oddity notes reports that do not fit together.
func (s *Standing) oddity(format string, args ...any) {
	s.Oddities = append(s.Oddities, fmt.Sprintf(format, args...))
}
