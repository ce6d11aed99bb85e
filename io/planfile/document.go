package planfile

// Schema names the form of the document. The number after the slash rises when
// a reader of the earlier form would misread the new one.
const Schema = "padturn.plan/1"

// Document is a plan as plan.json holds it: everything a person or a program
// needs to read it without the day folder. A pointer that is nil is left out of
// the file; a list is never left out.
type Document struct {
	Schema      string       `json:"schema"`
	Day         Day          `json:"day"`
	Bays        []Bay        `json:"bays"`
	Sprayers    []Sprayer    `json:"sprayers"`
	Products    []Product    `json:"products"`
	Mixes       []Mix        `json:"mixes"`
	Jobs        []Job        `json:"jobs"`
	Deliveries  []Delivery   `json:"deliveries"`  // by time, then by row
	Holds       []Hold       `json:"holds"`       // by from, then as given
	Loads       []Load       `json:"loads"`       // by start, then by bay
	Changeovers []Changeover `json:"changeovers"` // by time, then by bay
	Turns       []Turn       `json:"turns"`       // by sprayer, then by time
	Stock       []StockEvent `json:"stock"`       // by product, then by time
	Water       []WaterEvent `json:"water"`       // by time
	Unsprayed   []Unsprayed  `json:"unsprayed"`
	Totals      Totals       `json:"totals"`
	Baseline    Totals       `json:"baseline"` // first come, first served
	Search      Search       `json:"search"`
	Replan      *Replan      `json:"replan,omitempty"` // left out of the plan of a whole day
	Warnings    []string     `json:"warnings"`
	Cautions    []string     `json:"cautions"`
}

// Day is what matters of the day's settings for reading the plan.
type Day struct {
	Date            string  `json:"date,omitempty"` // ISO 8601
	Units           string  `json:"units"`          // us or metric, for what is printed
	Opens           Time    `json:"opens"`
	Closes          Time    `json:"closes"`
	OvertimeUntil   *Time   `json:"overtime_until,omitempty"`
	SprayFrom       Time    `json:"spray_from"`
	SprayUntil      Time    `json:"spray_until"`
	Split           string  `json:"split"`
	ShareMaxMin     Number  `json:"share_max_min"`
	AddingOrder     string  `json:"adding_order"`
	CarrierFirst    Number  `json:"carrier_first"` // share of the spray volume
	ChangeoverMin   Number  `json:"changeover_min"`
	SettleDryMin    Number  `json:"settle_dry_min"`    // agitation after a dry product
	SettleLiquidMin Number  `json:"settle_liquid_min"` // and after a liquid one
	RinsateGal      *Number `json:"rinsate_tank_gal,omitempty"`
	FilesSum        string  `json:"files_sum,omitempty"` // of what the day's files said, see SumOf
	RinseLevels     []Level `json:"rinse_levels"`        // lightest first
	CleanoutLevels  []Level `json:"cleanout_levels"`     // lightest first
	Prices          Prices  `json:"prices"`
}

// Level is a rinse or cleanout level.
type Level struct {
	Name string `json:"name"`
	Min  Number `json:"min"`
	Gal  Number `json:"gal"`
}

// Prices are the dollars that the plan's cost is counted in.
type Prices struct {
	WaitPerH         Number `json:"wait_per_h"`
	CrewPerH         Number `json:"crew_per_h"`
	Changeover       Number `json:"changeover"`
	RinsatePerGal    Number `json:"rinsate_per_gal"`
	LatePerH         Number `json:"late_per_h"`
	OvertimePerH     Number `json:"overtime_per_h"`
	TimelinessPerAcH Number `json:"timeliness_per_ac_h"`
}

// Bay is a fill position at the opening.
type Bay struct {
	Bay         string   `json:"bay"`
	Connections int      `json:"connections"`
	Plumbed     []string `json:"plumbed"`
	Hooked      []string `json:"hooked"`
	LastMix     string   `json:"last_mix,omitempty"`
	Carriers    []string `json:"carriers"`
}

// Sprayer is a machine and when it can be had.
type Sprayer struct {
	Sprayer        string `json:"sprayer"`
	TankGal        Number `json:"tank_gal"`
	AvailableFrom  Time   `json:"available_from"`
	AvailableUntil *Time  `json:"available_until,omitempty"`
	LastMix        string `json:"last_mix,omitempty"`
}

// Product is what a crew must know of a product.
type Product struct {
	Product    string  `json:"product"`
	Form       string  `json:"form"` // two-letter formulation code
	FormName   string  `json:"form_name"`
	Unit       string  `json:"unit"`     // stock unit
	Handling   string  `json:"handling"` // metered or hopper
	Pack       *Number `json:"pack,omitempty"`
	ReorderAt  *Number `json:"reorder_at,omitempty"`
	TankLifeS  *int64  `json:"tank_life_s,omitempty"`
	MaxWindMph *Number `json:"max_wind_mph,omitempty"`
	EPARegNo   string  `json:"epa_reg_no,omitempty"`
	Restricted bool    `json:"restricted"`
	SignalWord string  `json:"signal_word,omitempty"`
	PPE        string  `json:"ppe,omitempty"`

	DensityLbGal *Number     `json:"density_lb_gal,omitempty"`
	RainfastH    *Number     `json:"rainfast_h,omitempty"`
	Bulk         bool        `json:"bulk"`       // feeds every bay, no totes to change
	Containers   []Container `json:"containers"` // at the pad at the opening, in the order they are used
}

// Container is so many containers of a product that are alike, or one lot of
// a product whose containers are not told apart.
type Container struct {
	Container string `json:"container"`      // bulk, tote, drum, jug or bag
	Size      Number `json:"size,omitempty"` // of one, stock unit; 0 for a lot
	Count     int    `json:"count"`          // 1 for a lot
	Left      Number `json:"left"`           // in each, or in the lot, stock unit
	Opened    bool   `json:"opened"`
}

// Delivery is what comes to the pad during the day.
type Delivery struct {
	At        Time   `json:"at"`
	Product   string `json:"product"`
	Container string `json:"container"`
	Size      Number `json:"size"` // of one, stock unit
	Count     int    `json:"count"`
}

// Mix is a carrier and a recipe, in adding order.
type Mix struct {
	Mix     string       `json:"mix"`
	GPA     Number       `json:"gpa"`
	Carrier string       `json:"carrier"`
	Note    string       `json:"note,omitempty"`
	Recipe  []Ingredient `json:"recipe"`
}

// Ingredient is one product of a recipe.
type Ingredient struct {
	Product string `json:"product"`
	Rate    Number `json:"rate"`
	Unit    string `json:"unit"` // the rate's, such as floz/ac
}

// Job is what was asked.
type Job struct {
	Job      string `json:"job"`
	Field    string `json:"field"`
	Sprayer  string `json:"sprayer,omitempty"` // left out: any
	Mix      string `json:"mix"`
	Acres    Number `json:"ac"`
	GPA      Number `json:"gpa"`
	Customer string `json:"customer,omitempty"`
	Crop     string `json:"crop,omitempty"`
	Earliest *Time  `json:"earliest,omitempty"`
	Due      *Time  `json:"due,omitempty"`
	Priority Number `json:"priority"`
	Note     string `json:"note,omitempty"`
	// Lat and Lon are degrees, north and east; both are there or neither.
	Lat *Number `json:"lat,omitempty"`
	Lon *Number `json:"lon,omitempty"`
}

// Hold is a span without spraying, or, of a bay, without filling.
type Hold struct {
	From   Time   `json:"from"`
	To     Time   `json:"to"`
	Kind   string `json:"kind,omitempty"`
	Scope  string `json:"scope,omitempty"` // as in holds.csv; left out: all
	Reason string `json:"reason,omitempty"`
}

// Load is one tankful: what goes in, where it is sprayed, and when.
type Load struct {
	Load        string `json:"load"`
	Bay         string `json:"bay"`
	Seq         int    `json:"seq"` // 1 for the bay's first
	Sprayer     string `json:"sprayer"`
	Mix         string `json:"mix"`
	Acres       Number `json:"ac"`
	Gal         Number `json:"gal"` // spray volume
	Carrier     string `json:"carrier"`
	CarrierGal  Number `json:"carrier_gal"`
	Parts       []Part `json:"parts"` // in the order they are sprayed
	Steps       []Step `json:"steps"` // in adding order
	Rinse       string `json:"rinse,omitempty"`
	Cleanout    string `json:"cleanout,omitempty"`
	Changeovers int    `json:"changeovers"`

	CleanoutFrom Time `json:"cleanout_from"` // equals ready without a cleanout
	Ready        Time `json:"ready"`
	SetupStart   Time `json:"setup_start"` // equals start without a set-up
	Start        Time `json:"start"`
	// ToldStart is the start that the crew was told last, where that is another one: a
	// replan does not tell every few minutes.
	ToldStart  *Time `json:"told_start,omitempty"`
	End        Time  `json:"end"`
	BackAt     Time  `json:"back_at"`
	WaitS      int64 `json:"wait_s"` // paid
	HeldS      int64 `json:"held_s"` // shown, not paid
	DriveOutS  int64 `json:"drive_out_s"`
	DriveBackS int64 `json:"drive_back_s"`

	// Run lists the jobs that are filled as one run with it, in order, whether
	// loads of theirs are filled or not; empty in a plan of an earlier version.
	Run []string `json:"run"`
}

// Part is a job's share of a load.
type Part struct {
	Job       string `json:"job"`
	Acres     Number `json:"ac"`
	DriveS    int64  `json:"drive_s"` // from the part before
	SprayS    int64  `json:"spray_s"` // without pauses
	SprayedAt Time   `json:"sprayed_at"`
}

// Where a step's amount comes from.
const (
	SourceCarrier = "carrier"
	SourceMetered = "metered"
	SourceHopper  = "hopper"
)

// Step is one thing that goes into the tank.
type Step struct {
	Step       int    `json:"step"`    // 0 is the first part of the carrier
	Product    string `json:"product"` // or water
	Amount     Number `json:"amount"`
	Unit       string `json:"unit"`
	Gal        Number `json:"gal"` // room it takes in the tank; 0 for dry products
	Source     string `json:"source"`
	Connection int    `json:"connection,omitempty"` // of a metered product; 1 is the first
	How        string `json:"how"`                  // for the crew
}

// Changeover is one change at a connection.
type Changeover struct {
	Bay        string `json:"bay"`
	Connection int    `json:"connection"` // 1 is the first
	At         Time   `json:"at"`
	Off        string `json:"off,omitempty"` // left out where the connection was empty
	On         string `json:"on"`            // equal to off for a fresh tote
	Load       string `json:"load"`          // the load it is for
	Inside     bool   `json:"inside"`        // within the load's filling
}

// Turn is one thing a sprayer does, from one moment to another.
type Turn struct {
	Sprayer string `json:"sprayer"`
	Load    string `json:"load"` // for a cleanout, a wait and held the load that follows
	What    string `json:"what"`
	From    Time   `json:"from"`
	To      Time   `json:"to"`
}

// The events of a stock that are no load's.
const (
	EventOpening  = "opening"
	EventDelivery = "delivery"
)

// StockEvent is a change of a product's stock.
type StockEvent struct {
	Product string `json:"product"`
	At      Time   `json:"at"`
	Event   string `json:"event"`
	Change  Number `json:"change"`
	Level   Number `json:"level"`
	Unit    string `json:"unit"`
	Low     bool   `json:"low"`
}

// WaterEvent is a change of the pad's water and rinsate.
type WaterEvent struct {
	At         Time    `json:"at"`
	Event      string  `json:"event"`
	WaterGal   *Number `json:"water_gal,omitempty"` // left out where the day sets no water
	RinsateGal Number  `json:"rinsate_gal"`
}

// Unsprayed is what is left of a job.
type Unsprayed struct {
	Job    string `json:"job"`
	Acres  Number `json:"ac"`
	Reason string `json:"reason"`
}

// Totals are the figures of a plan that two plans are compared by.
type Totals struct {
	Loads       int      `json:"loads"`
	Acres       Number   `json:"ac"`
	LeftAcres   Number   `json:"left_ac"`
	LeftWeight  Number   `json:"left_priority_ac"` // Σ priority × acres not sprayed
	Rinses      int      `json:"rinses"`
	Cleanouts   int      `json:"cleanouts"`
	Changeovers int      `json:"changeovers"`
	WaitS       int64    `json:"wait_s"`
	HeldS       int64    `json:"held_s"`
	PauseS      int64    `json:"pause_s"` // in the field with a filled tank
	Finish      []Finish `json:"finish"`
	Cost        Cost     `json:"cost"`
}

// Finish is when a sprayer comes back for the last time. A sprayer without a
// load has none.
type Finish struct {
	Sprayer string `json:"sprayer"`
	BackAt  Time   `json:"back_at"`
}

// Cost is what a plan costs, part by part.
type Cost struct {
	Parts   []CostPart `json:"parts"`
	Dollars Number     `json:"dollars"`
}

// CostPart is one part of a cost.
type CostPart struct {
	Part    string `json:"part"`
	Amount  Number `json:"amount"`
	Unit    string `json:"unit"` // of the amount
	Dollars Number `json:"dollars"`
}

// Replan says of a plan made in the course of a day what of it had begun.
type Replan struct {
	At     Time `json:"at"`
	Number int  `json:"number"` // 1 for the first
	// Facts is the number of the last entry of the journal that it knows of.
	Facts int `json:"facts"`
	// Begun are the loads that had begun, with their real times and amounts.
	Begun []string `json:"begun"`
	// FrozenUntil is until when nothing moves that can stay.
	FrozenUntil Time `json:"frozen_until"`
	// ChangeDollars is what it weighs that loads which the crew was told of move.
	// Nobody pays it; it is no part of the cost.
	ChangeDollars Number `json:"change_dollars"`
}

// Search says how the plan was found and how far from the best it can be.
type Search struct {
	Status       string `json:"status"` // proved, bounded or interrupted
	BoundDollars Number `json:"bound_dollars"`
	GapDollars   Number `json:"gap_dollars"`
	// AboveBoundPercent is the gap in per cent of the bound, as it is printed; nil
	// without a bound, and in a plan of an earlier version.
	AboveBoundPercent *Number `json:"above_bound_percent,omitempty"`
	// GapPercent is the gap in per cent of the plan's cost: what the field has meant
	// from the first version on. Nothing reads it.
	GapPercent Number `json:"gap_percent"`
	// UnavoidableDollars is the part of the bound that every plan pays whatever
	// the order of loads.
	UnavoidableDollars Number `json:"unavoidable_dollars"`
	KeepOrder          bool   `json:"keep_order"` // bound and proof are about plans in file order
	Covers             string `json:"covers"`     // what bound and proof are about, in words
	Seed               uint64 `json:"seed"`
	Effort             string `json:"effort"`
	Steps              int64  `json:"steps"`
}
