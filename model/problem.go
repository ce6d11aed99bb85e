package model

import "math/big"

// Problem is a day whose names are looked up and whose rows are checked. It is
// made by [NewProblem] and not changed afterwards. Everything in it is referred
// to by its index: a job's number is its place in Jobs, and so on.
type Problem struct {
	Settings   Settings
	Products   []Product // water is not one of them
	Mixes      []Mix
	Jobs       []Job
	Sprayers   []Sprayer
	Bays       []Bay
	Deliveries []Delivery // by time, then by row
	Holds      []Hold     // those of holds.csv, then those the forecast makes
	Rules      []Rule
	Underway   *Standing // nil: a day that has not begun
}

// None stands where an index is left out: any sprayer, no last mix, water as a
// mix's carrier, no level.
const None = -1

// Product is a line of products.csv.
type Product struct {
	Name      string
	Form      Formulation
	Unit      Unit // stock unit
	Metered   bool
	Density   *Decimal // lb/gal
	Groups    []string
	Pack      *Decimal // stock unit
	ReorderAt *Decimal // stock unit
	TankLife  Seconds  // Never where the label is silent
	RainfastH *Decimal
	MaxWind   *Decimal // mph

	EPARegNo   string
	Restricted bool
	SignalWord string
	PPE        string

	// Bulk: its stock feeds every bay and needs no fresh totes. True where any
	// stock or delivery of it is bulk, and for products used as a carrier.
	Bulk bool
	// Containers at the opening, in the order they are used: opened ones, then
	// full ones, each in file order.
	Containers []Container
}

// Container is one container of a product; of a bulk or hopper product, one
// lot of it.
type Container struct {
	Kind string
	Size Decimal // stock unit
	Left Decimal // stock unit
	// Opened ones are used before full ones, also where nothing was taken yet.
	Opened bool
	// From is when it can go on a connection; 0 but for one that is just coming
	// off another.
	From Clock
}

// OnHand returns the stock at the opening, in the stock unit.
func (p *Product) OnHand() Decimal {
	var sum Decimal
	for _, c := range p.Containers {
		sum += c.Left
	}
	return sum
}

// Mix is a line of mixes.csv with its recipe, in adding order.
type Mix struct {
	Name    string
	GPA     Decimal // gal/ac
	Carrier int     // product, None for water
	Note    string  // for people
	Recipe  []Ingredient
}

// Ingredient is one product of a mix.
type Ingredient struct {
	Product int
	Rate    Decimal
	Unit    RateUnit
	Written string  // the unit as the recipe has it
	Step    Decimal // the recipe's step, or the class of the adding order
}

// Job is a line of jobs.csv.
type Job struct {
	Name    string
	Field   string
	Sprayer int // None: any
	Mix     int
	Acres   Decimal
	// Any: its sprayer was free to choose, so its hours are paid, even where the
	// choice is made because it has begun.
	Any bool
	// Begun: acres of it are in a tank or sprayed, so its sprayer goes on with it
	// before anything else.
	Begun    bool
	rest     *big.Rat // its acres where Acres is them rounded; nil: Acres is exact
	GPA      Decimal  // gal/ac, its own or the mix's
	Customer string
	Crop     string
	DriveMin *Decimal
	Lat, Lon *float64
	Earliest Clock // 0 where not given
	Due      Clock // Never where not given
	Priority Decimal
	Note     string
}

// Sprayer is a line of sprayers.csv.
type Sprayer struct {
	Name           string
	TankGal        Decimal
	SecondsPerAcre *big.Rat // exact, not to be changed
	RoadMph        Decimal
	AvailableFrom  Clock
	AvailableUntil Clock // Never where not given
	LastMix        int   // None where not given
	Wait           HourlyRate
}

// Bay is one entry of pad.bays.
type Bay struct {
	Name        string
	Connections int
	Plumbed     []int // products
	Hooked      []int // products on the other connections at the opening
	LastMix     int   // None where not given
	Carriers    []int // products, None for water
}

// Delivery is a line of deliveries.csv.
type Delivery struct {
	At        Clock
	Product   int
	Container Container
	Count     int
}

// Amount is what the delivery brings, in the stock unit.
func (d Delivery) Amount() Decimal { return d.Container.Size * Decimal(d.Count) }

// Hold is a span [From, To) without spraying, or, of a bay, without filling.
type Hold struct {
	From, To Clock
	Kind     string
	Reason   string
	Scope    HoldScope
}

// HoldScope says what a hold applies to. Exactly one of its parts is set, or
// none of them: then it applies to all.
type HoldScope struct {
	Sprayer int // None where not meant; so for Bay
	Bay     int
	Field   string
	Product string // a product's name, also water
	Group   string
}
