package model

import "math/big"

// Underway is what the files of a morning cannot say of a day that has begun:
// where bays, sprayers and totes are at a moment. An Input that has one is the
// rest of that day: its jobs are the acres not yet in a tank, its stock what is
// really there, its hooked products what is on the connections, the last mix of
// a bay what is in its manifold, that of a sprayer still the one of the morning.
// Its settings keep the real opening: time is paid from there on.
//
// Work that has begun before At is history, whether it is done or not: a load
// being filled, a rinse, a changeover, a cleanout. It is not in the rest and
// not in the rest's cost; the rest goes on from where it leaves things.
type Underway struct {
	At       Clock             // now: no work that is not begun starts before it
	Bays     []BayUnderway     // by bay, as in Settings.Pad.Bays
	Sprayers []SprayerUnderway // by sprayer, as in Sprayers
	// Totes are the totes and drums of metered products that hang on a
	// connection, are just coming off one or were opened, in the order of their
	// opening, those never drawn from last. They are not in Stock: of such products it holds only
	// what nobody has touched. A product in bulk has none.
	Totes    []ToteUnderway
	Rinsate  Decimal    // gal in the rinsate tank
	Told     []ToldLoad // what the crew was told of the rest of the day, by start
	ToldLeft []string   // jobs that the same plan left, all or a part of them
	Begun    []BegunJob // jobs of which acres are in a tank or sprayed
	Water    *big.Rat   // gal on hand at At, exactly; nil: Settings.Pad.Water.OnHandGal
	// NoNews: nothing was reported, and nothing of the day is other, since Told was
	// told. What was left then stays left.
	NoNews bool
}

// BayUnderway is a bay at that moment.
type BayUnderway struct {
	// FreeFrom is when the load it fills, or the rinse or changeover it does, is
	// done; At or earlier where it does nothing.
	FreeFrom Clock
	// Rinsed is the rinse level that was begun since its last load, for a load
	// that is not begun; blank for none.
	Rinsed string
	// Unused says, by connection, how many loads the bay has filled since it
	// drew from it: 0 where the last one did, -1 where the product went on for the
	// load to come; nil where nobody knows.
	Unused []int
	Loads  int // filled or being filled: its next load is numbered after them
}

// SprayerUnderway is a sprayer at that moment.
type SprayerUnderway struct {
	// BackAt is when it came, or will come, back to the pad from the last load
	// that is already in its tank or behind it; where it has begun a cleanout
	// since, the end of that. A sprayer that has had no load yet has its
	// available_from here, or 0.
	BackAt Clock
	// Sprayed is what it has had in its tank since the opening, oldest first,
	// after its last_mix of the morning.
	Sprayed []TankUnderway
	Cleaned string // cleanout level begun since the last of them; blank for none
	Loads   int    // its next load is numbered after so many; 0: after those sprayed
	// Gone says in words why it is not counted on any more today; blank: it is.
	Gone string
}

// TankUnderway is one load that a sprayer has had.
type TankUnderway struct {
	Mix      string
	Crops    []string // of its jobs; a blank crop is one
	Cleanout string   // level done before it, blank for none
}

// ToteUnderway is a tote that hangs on a connection or was opened.
type ToteUnderway struct {
	Bay, Connection int // 0 is the first; Bay None: on no connection
	Product         string
	Kind            string  // tote or drum; blank: tote
	Size            Decimal // stock unit; 0: not known
	Left            Decimal // stock unit
	Opened          bool    // something was drawn from it
	// FreeFrom is when a tote on no connection can go on one: the end of the load
	// or changeover that takes it off.
	FreeFrom Clock
}

// BegunJob is a job of the rest of which a part is behind us. Its sprayer goes
// on with it before anything else: the loads of a job follow one another.
type BegunJob struct {
	Job, Sprayer string
}

// ToldLoad is a load of an earlier plan that was not begun.
type ToldLoad struct {
	Sprayer, Mix, Bay string
	Jobs              []string // in the order they are sprayed
	Run               []string // jobs of its run, in order; empty: not known
	Acres             Decimal  // of all of them; 0: not known
	Start             Clock
	Off               []string // products that come off the bay's connections for it
}

// Standing is an Underway whose names are looked up.
type Standing struct {
	At       Clock
	Bays     []StandingBay
	Sprayers []StandingSprayer
	Rinsate  Decimal
	Water    *big.Rat // gal, or nil
	Told     []StandingLoad
	ToldLeft []int // jobs
	NoNews   bool
}

// StandingBay is a [BayUnderway].
type StandingBay struct {
	FreeFrom Clock
	Rinsed   int // rinse level, or None
	Unused   []int
	Hung     []int // by connection: index into its product's Containers, or None
	Loads    int
}

// StandingSprayer is a [SprayerUnderway].
type StandingSprayer struct {
	BackAt  Clock
	Sprayed []StandingTank
	Cleaned int // cleanout level, or None
	Loads   int
	Gone    string
}

// StandingTank is a [TankUnderway].
type StandingTank struct {
	TankContents
	Cleanout int // cleanout level, or None
}

// StandingLoad is a [ToldLoad]: of its jobs those that still are in the day.
type StandingLoad struct {
	Sprayer, Mix, Bay int
	Jobs              []int
	Run               []int   // jobs of its run, in order, Jobs among them
	Acres             Decimal // 0: not known
	Start             Clock
	Off               []int // products
}

// Behind is the part of a day that has begun at a moment, by the indices of the
// whole day's problem.
type Behind struct {
	At    Clock
	Loads []PlannedLoad // by start, then by bay; with their real times and amounts
	// Changes are by time; Load is an index into Loads, or None for one that was
	// begun for the bay's next load.
	Changes   []Changeover
	Rinses    []BehindRinse    // begun for a load that is not
	Cleanouts []BehindCleanout // likewise
}

// BehindRinse is a rinse that no load of its bay has followed yet.
type BehindRinse struct {
	Bay, Level int
	From       Clock
}

// BehindCleanout is a cleanout that no load of its sprayer has followed yet.
type BehindCleanout struct {
	Sprayer, Level int
	From           Clock
	Stood          Seconds // so long its sprayer stood at the pad before it
}
