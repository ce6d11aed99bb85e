package model

// Load is one tankful for one sprayer: what goes in and where it is sprayed.
// It says nothing of when.
type Load struct {
	Sprayer int
	Mix     int
	Run     []int   // the jobs that it is filled as one run with, in order
	Parts   []Part  // in the order they are sprayed
	Gal     Decimal // spray volume
	Carrier Decimal // gal
	First   Decimal // gal of carrier that goes in first
	Doses   []Dose  // in adding order
	// Fill[k] is the filling time with k changeovers inside; see FillSeconds
	// for more of them than it holds.
	Fill    []Seconds
	filling filling
	// DriveOut is the way to the first part, DriveBack from the last.
	DriveOut, DriveBack Seconds
}

// Part is a job's share of a load.
type Part struct {
	Job   int
	Acres Decimal
	Spray Seconds // spraying time without pauses
	Drive Seconds // from the part before; 0 for the first
}

// Dose is what a load takes of one product.
type Dose struct {
	Ingredient int // index into the mix's recipe
	Product    int
	Amount     Decimal // stock unit
	Gal        Decimal // volume it takes in the tank; 0 for dry products
}

// Plan is a day decided and timed: immutable, and costed when it is made.
type Plan struct {
	Loads     []PlannedLoad // by start, then by bay
	Changes   []Changeover  // by time, as they are done
	Spans     []Span        // by sprayer, then by time
	Stock     []StockEvent  // by product, then by time
	Water     []WaterEvent  // by time
	Unsprayed []Unsprayed
	Cost      Cost
	// Resumed says where a plan made in the course of the day goes on; nil for one
	// made before.
	Resumed *Resumed
	// Disturbance is what it weighs that loads which the crew was told of move. It
	// is no part of the cost: nobody pays it.
	Disturbance Money
	// Left is Σ priority × acres not sprayed: plans compare by it first.
	Left     Decimal
	Warnings []string
}

// Resumed is where a plan goes on from what has begun.
type Resumed struct {
	At    Clock
	Loads int     // how many of its loads, from the first, had begun
	On    [][]int // products by bay and connection then; None where nothing is
}

// PlannedLoad is a load with its place and its times.
type PlannedLoad struct {
	Load
	ID  string
	Bay int
	Seq int // 1 for the bay's first load

	CleanoutFrom Clock // when the cleanout before this load begins; equals Ready without one
	Ready        Clock // sprayer at the pad and clean
	SetupStart   Clock // equals Start without a set-up
	Start, End   Clock // of filling
	BackAt       Clock
	SprayedAt    []Clock // by part: when its last acre was sprayed
	Wait         Seconds // paid, before the cleanout and after it
	Held         Seconds // shown, not paid; likewise
	Cleanout     int     // cleanout level before this load, or None
	Rinse        int     // rinse level before this load, or None
	Changeovers  int     // before it and inside it
}

// Soonest is when the sprayer would have been ready, had its cleanout waited for
// nothing.
func (l *PlannedLoad) Soonest() Clock { return l.Start - Clock(l.Held) - Clock(l.Wait) }

// Changeover is one change at a connection.
type Changeover struct {
	Bay        int
	Connection int // 0 is the first
	At         Clock
	Off        int // product, None where the connection was empty
	On         int // product; equal to Off for a fresh tote
	Load       int // index into Plan.Loads: the load it is for
	Inside     bool
}

// SpanKind says what a sprayer does in a span.
type SpanKind string

// What a sprayer does.
const (
	SpanWait     SpanKind = "wait" // paid
	SpanHeld     SpanKind = "held"
	SpanFill     SpanKind = "fill"
	SpanDrive    SpanKind = "drive"
	SpanSpray    SpanKind = "spray"
	SpanPause    SpanKind = "pause" // in the field, waiting for a hold or the spraying hours
	SpanCleanout SpanKind = "cleanout"
)

// Span is one thing a sprayer does, from one moment to another.
type Span struct {
	Sprayer  int
	Load     int // index into Plan.Loads; for a cleanout, a wait and held the load that follows
	What     SpanKind
	From, To Clock
}

// StockEvent is a change of a product's stock.
type StockEvent struct {
	Product int
	At      Clock
	Event   string // opening, delivery, or load and its ID
	Change  Decimal
	Level   Decimal
	Low     bool // below the product's reorder_at
}

// WaterEvent is a change of the pad's water and rinsate.
type WaterEvent struct {
	At      Clock
	Event   string
	Water   *Decimal // gal on hand after it; nil where the pad's water never runs short
	Rinsate Decimal  // gal so far
}

// Unsprayed is what is left of a job.
type Unsprayed struct {
	Job    int
	Acres  Decimal
	Reason string
}

// DriveTo returns the drive that leads to a part: the way out for the first,
// the way from the part before for another.
func (l *Load) DriveTo(part int) Seconds {
	if part == 0 {
		return l.DriveOut
	}
	return l.Parts[part].Drive
}
