package model

// Underway is what the files of a morning cannot say of a day that has begun:
// where bays, sprayers and totes are at a moment. An Input that has one is the
// rest of that day: its jobs are the acres not yet in a tank, its stock what is
// really there, its hooked products and last mixes what is in the manifolds.
type Underway struct {
	At       Clock             // now: no work that is not begun starts before it
	Bays     []BayUnderway     // by bay, as in Settings.Pad.Bays
	Sprayers []SprayerUnderway // by sprayer, as in Sprayers
	Totes    []ToteUnderway    // totes and drums that hang on a connection
	Rinsate  Decimal           // gal in the rinsate tank
	Told     []ToldLoad        // what the crew was told of the rest of the day, by start
}

// BayUnderway is a bay at that moment.
type BayUnderway struct {
	// FreeFrom is the end of the load it fills, or of the rinse or changeover
	// that is being done; At where nothing is.
	FreeFrom Clock
	// Rinsed is the rinse level done since the last load, blank for none: what
	// follows needs a rinse only where the rules ask for a heavier one.
	Rinsed string
}

// SprayerUnderway is a sprayer at that moment.
type SprayerUnderway struct {
	// BackAt is when it came, or will come, back to the pad from the last load
	// that is already in its tank or behind it; the end of a cleanout that was
	// begun since.
	BackAt Clock
	// Sprayed is what it has had in its tank since the opening, oldest first,
	// after its last_mix of the morning.
	Sprayed []TankUnderway
}

// TankUnderway is one load that a sprayer has had, or, with a blank Mix, a
// cleanout that no load has followed yet.
type TankUnderway struct {
	Mix      string
	Crops    []string
	Cleanout string // level done before it, blank for none
}

// ToteUnderway is a tote on a connection. What is left in it is in the stock
// too, as an opened container or a full one; an empty tote is not.
type ToteUnderway struct {
	Bay, Connection int // 0 is the first
	Product         string
	Left            Decimal // stock unit
}

// ToldLoad is a load of an earlier plan that was not begun.
type ToldLoad struct {
	Sprayer, Mix, Bay string
	Jobs              []string // in the order they are sprayed
	Start             Clock
}
