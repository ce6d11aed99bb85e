package standing

import "padturn/model"

// Fact is one thing that was reported: news, and when it happened.
type Fact struct {
	N    int         // its number; facts are taken in this order
	At   model.Clock // when it happened, not when it was reported
	News News
}

// Latest returns when the last of some facts happened; 0 where there are none.
func Latest(facts []Fact) model.Clock {
	var t model.Clock
	for _, f := range facts {
		t = max(t, f.At)
	}
	return t
}

// News is what a fact says: [LoadMark], [SprayerMark], [DeliveryMark],
// [StockCount], [JobMark] or [HoldMark].
type News interface{ isNews() }

// State is how far a load is.
type State string

// The states of a load, in their order; dropped may follow any but done.
const (
	Waiting  State = "waiting"
	Filling  State = "filling"
	Filled   State = "filled"
	Spraying State = "spraying"
	Done     State = "done"
	Dropped  State = "dropped"
)

// States lists the states in their order.
func States() []State { return []State{Waiting, Filling, Filled, Spraying, Done, Dropped} }

// LoadMark says how far a load is.
type LoadMark struct {
	Load  string
	State State
	// AcresLeft is what it has still to spray; nil where not reported. Of a load
	// that is done or dropped it goes back to the jobs.
	AcresLeft *model.Decimal
	Drew      []Drew // what was really drawn, product by product
}

// Drew is an amount by meter or scale.
type Drew struct {
	Product string
	Amount  model.Decimal // stock unit
}

// SprayerMark says that a sprayer is out of service or back in it.
type SprayerMark struct {
	Sprayer string
	Out     bool
	Until   *model.Clock // when it is expected back, nil where not known
}

// DeliveryMark says that a delivery came, or when it will.
type DeliveryMark struct {
	Product string
	Planned model.Clock // its time in deliveries.csv
	Arrived bool
	Until   *model.Clock // of a late one: when it is expected, nil where not known
}

// StockCount is what there is of a product at the pad: all of it, also what
// hangs on connections. Opened ones are those on the connections first, in the
// order of the bays.
type StockCount struct {
	Product   string
	Container string
	Size      model.Decimal
	Full      model.Decimal
	Open      []model.Decimal
}

// JobChange says what happened to a job.
type JobChange string

// What can happen to a job.
const (
	JobAdded   JobChange = "added"
	JobChanged JobChange = "changed"
	JobDropped JobChange = "dropped"
)

// JobMark adds a job, changes one or drops one. Acres are those of the whole
// job, sprayed ones counted in.
type JobMark struct {
	Change JobChange
	Row    model.JobRow // Row.Job is its name
	Given  []string     // the columns of Row that a change is about
}

// HoldMark is a hold that was not known in the morning.
type HoldMark struct{ Hold model.HoldRow }

func (LoadMark) isNews()     {}
func (SprayerMark) isNews()  {}
func (DeliveryMark) isNews() {}
func (StockCount) isNews()   {}
func (JobMark) isNews()      {}
func (HoldMark) isNews()     {}
