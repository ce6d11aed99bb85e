package model

// Input is a day as its files say it, cell by cell: numbers are read, names
// are not yet looked up. [NewProblem] checks it and makes the [Problem].
//
// A pointer is nil where the cell was blank.
type Input struct {
	Settings   Settings
	Jobs       []JobRow
	Mixes      []MixRow
	Recipes    []RecipeRow
	Products   []ProductRow
	Stock      []StockRow
	Deliveries []DeliveryRow
	Sprayers   []SprayerRow
	Rules      []RuleRow
	Holds      []HoldRow
	Forecast   []ForecastRow
	Underway   *Underway // nil: a day that has not begun
}

// KeptIn is what the rows of stock and deliveries say that a product comes in:
// the container and its size in the stock unit, blank where there is no row of it.
func (in *Input) KeptIn(product string) (container string, size Decimal) {
	for _, r := range in.Stock {
		if r.Product == product {
			return r.Container, r.Size
		}
	}
	for _, r := range in.Deliveries {
		if r.Product == product {
			return r.Container, r.Size
		}
	}
	return "", 0
}

// Table names a file of the day folder, without its extension.
type Table string

// The tables of a day.
const (
	DayTable        Table = "day" // day.yaml
	JobsTable       Table = "jobs"
	MixesTable      Table = "mixes"
	RecipesTable    Table = "recipes"
	ProductsTable   Table = "products"
	StockTable      Table = "stock"
	DeliveriesTable Table = "deliveries"
	SprayersTable   Table = "sprayers"
	RulesTable      Table = "rules"
	HoldsTable      Table = "holds"
	ForecastTable   Table = "forecast"
)

// Fault is one thing wrong with an input, or worth a warning.
type Fault struct {
	Table  Table
	Row    int    // index into the table's rows; -1 where no row is meant (day.yaml, a whole file)
	Column string // column name, or a key path such as pad.bays[0].connections
	Value  string // what stands there
	Want   string // what is wrong and what was expected, in words
}

// JobRow is a line of jobs.csv.
type JobRow struct {
	Job      string // blank: called by its row number
	Field    string
	Sprayer  string // blank: any
	Mix      string
	Acres    Decimal
	Customer string
	Crop     string
	DriveMin *Decimal // minutes, pad to field, one way
	Lat, Lon *float64 // degrees
	Earliest *Clock
	Due      *Clock
	Priority *Decimal // default 1, larger sooner
	GPA      *Decimal // gal/ac, overrides the mix's
	Note     string
}

// MixRow is a line of mixes.csv.
type MixRow struct {
	Mix     string
	GPA     Decimal // gal/ac
	Carrier string  // blank: water
	Note    string
}

// RecipeRow is a line of recipes.csv.
type RecipeRow struct {
	Mix     string
	Product string
	Rate    Decimal
	Unit    string   // such as floz/ac, L/ha, lb/100gal, %v/v
	Step    *Decimal // overrides the class of the adding order
}

// ProductRow is a line of products.csv.
type ProductRow struct {
	Product      string
	Form         string // two-letter formulation code
	Unit         string // stock unit: gal, qt, pt, floz, L, mL, lb, oz, kg, g
	Handling     string // metered or hopper
	DensityLbGal *Decimal
	Groups       []string
	Pack         *Decimal // jug or bag size, stock unit
	ReorderAt    *Decimal // stock unit
	TankLifeH    *Decimal // hours
	RainfastH    *Decimal // hours
	MaxWindMph   *Decimal
	EPARegNo     string
	Restricted   bool
	SignalWord   string
	PPE          string
}

// StockRow is a line of stock.csv.
type StockRow struct {
	Product   string
	Container string   // bulk, tote, drum, jug, bag
	Size      Decimal  // stock unit
	Full      Decimal  // count, a whole number
	Open      *Decimal // stock unit left in the opened one
}

// DeliveryRow is a line of deliveries.csv.
type DeliveryRow struct {
	At        Clock
	Product   string
	Container string
	Size      Decimal // stock unit
	Count     Decimal // a whole number
}

// SprayerRow is a line of sprayers.csv.
type SprayerRow struct {
	Sprayer        string
	TankGal        Decimal
	BoomFt         *Decimal
	Mph            *Decimal
	Efficiency     *Decimal // 0-1
	AcPerH         *Decimal
	RoadMph        *Decimal
	AvailableFrom  *Clock
	AvailableUntil *Clock
	LastMix        string
	WaitPerH       *Decimal // $/h
}

// RuleRow is a line of rules.csv.
type RuleRow struct {
	Where  string // tank, manifold, sprayer
	After  string
	Before string
	Level  string // a level's name; forbid for tank
	Reason string
}

// HoldRow is a line of holds.csv.
type HoldRow struct {
	From, To Clock
	Kind     string // rain, wind, inversion, other
	Scope    string // blank: all; sprayer:, field:, product:, @group, bay:
	Reason   string
}

// ForecastRow is a line of forecast.csv.
type ForecastRow struct {
	From, To Clock
	WindMph  *Decimal
	GustMph  *Decimal
	RainIn   *Decimal
	TempF    *Decimal
}

// Settings is day.yaml with its defaults filled in. Every field of every part
// has a default, given by [DefaultSettings] with its basis.
type Settings struct {
	Date        string // ISO 8601 date, may be blank
	Units       string // us or metric, for what is printed
	SprayFrom   Clock
	SprayUntil  Clock
	Split       string  // even or full_first
	ShareMaxMin Decimal // minutes of driving between fields that share a load
	AddingOrder string  // name of a published adding order, see AddingOrders
	FreezeMin   Decimal // minutes from a replan in which nothing moves that can stay

	Pad            PadSettings
	RinseLevels    []LevelSettings // lightest first
	CleanoutLevels []LevelSettings // lightest first
	Costs          CostSettings
}

// PadSettings is the pad: part of day.yaml.
type PadSettings struct {
	Lat, Lon        *float64
	BetweenMin      *Decimal // minutes between two fields without lat/lon; nil: through the pad
	Opens           Clock
	Closes          Clock
	OvertimeUntil   *Clock // nil: no overtime
	Bays            []BaySettings
	CarrierGpm      Decimal
	CarrierFirst    Decimal // share of the spray volume, 0-1
	MeterGpm        Decimal
	HookupMin       Decimal
	UnhookMin       Decimal
	JugSec          Decimal
	BagSec          Decimal
	HopperLbPerMin  Decimal
	PushMin         Decimal
	PushGal         Decimal // part of the carrier
	SettleDryMin    Decimal
	SettleLiquidMin Decimal
	ChangeoverMin   Decimal
	Water           *WaterSettings // nil: water never runs short
	RinsateGal      *Decimal       // size of the rinsate tank; nil: not watched
}

// BaySettings is one entry of pad.bays.
type BaySettings struct {
	Name        string
	Connections int // plumbed ones counted in, the carrier's not
	Plumbed     []string
	Hooked      []string // products on connections at the opening
	LastMix     string
	Carriers    []string // default water
}

// WaterSettings is pad.water.
type WaterSettings struct {
	OnHandGal   Decimal
	CapacityGal Decimal
	RefillGpm   Decimal
}

// LevelSettings is one rinse or cleanout level.
type LevelSettings struct {
	Name string
	Min  Decimal // minutes
	Gal  Decimal
}

// CostSettings is the costs: part of day.yaml, in dollars.
type CostSettings struct {
	WaitPerH         Decimal
	CrewPerH         Decimal
	Changeover       Decimal
	RinsatePerGal    Decimal
	LatePerH         Decimal
	OvertimePerH     Decimal
	TimelinessPerAcH Decimal
	// ChangeTold is what it costs to move a load that the crew was told, if it
	// were to start now; see Problem.ChangeTold.
	ChangeTold Decimal
}
