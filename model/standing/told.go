package standing

import "padturn/model"

// Told is the plan that a crew was told, with names for everything: a plan made
// in the course of the day also holds the loads that had begun before it.
type Told struct {
	// At is the moment it was made for; 0 for the plan of the whole day. Loads
	// that start before it are what had begun, with their real times.
	At model.Clock
	// Facts is the number of the last fact that it knows of. Facts up to it are
	// not about loads that the plan has anew under an old name.
	Facts int
	// Same: the files of the day are as they were when it was made, and no report that
	// it was made with is undone.
	Same    bool
	Loads   []Planned    // by start, then by bay
	Changes []Changeover // by time
}

// Planned is one load as the crew was told it.
type Planned struct {
	ID, Bay, Sprayer, Mix string
	Parts                 []Part   // in the order they are sprayed
	Run                   []string // the jobs of its run, in order; empty: not known
	CarrierGal            model.Decimal
	Doses                 []Dose // in adding order
	Rinse, Cleanout       string // levels done before it, blank for none

	CleanoutFrom, Ready model.Clock   // equal without a cleanout
	Stood               model.Seconds // at the pad before the cleanout
	SetupStart          model.Clock   // equals Start without a set-up
	Start, End          model.Clock   // of filling
	BackAt              model.Clock

	DriveOut, DriveBack model.Seconds
}

// Part is a job's share of a load.
type Part struct {
	Job       string
	Acres     model.Decimal
	Drive     model.Seconds // from the part before
	Spray     model.Seconds // without pauses
	SprayedAt model.Clock
}

// Dose is what a load takes of one product, the carrier too where it is one.
type Dose struct {
	Product string
	Amount  model.Decimal // stock unit
	Metered bool          // drawn through a connection
}

// Changeover is one change at a connection.
type Changeover struct {
	Bay        string
	Connection int // 0 is the first
	At         model.Clock
	Off, On    string // Off is blank where the connection was empty
	Load       string // the load it is for
	Inside     bool   // within the load's filling
}

// Acres is what the load covers.
func (l *Planned) Acres() model.Decimal {
	var sum model.Decimal
	for _, p := range l.Parts {
		sum += p.Acres
	}
	return sum
}

func (l *Planned) fill() model.Clock { return l.End - l.Start }

// sprayed is when its last acre was to be sprayed.
func (l *Planned) sprayed() model.Clock { return l.Parts[len(l.Parts)-1].SprayedAt }

// jobs lists the jobs of its parts.
func (l *Planned) jobs() []string {
	list := make([]string, len(l.Parts))
	for i, p := range l.Parts {
		list[i] = p.Job
	}
	return list
}
