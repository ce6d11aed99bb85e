package model

// RuleWhere says where a rule holds.
type RuleWhere int

// Where a rule holds.
const (
	InTank     RuleWhere = iota // two products that may not share a tank
	InManifold                  // a rinse between two loads of a bay
	InSprayer                   // a cleanout between two loads of a sprayer
)

// Rule is a line of rules.csv.
type Rule struct {
	Where         RuleWhere
	After, Before Selector
	Level         int // index into the rinse or cleanout levels; None for a tank rule
	Reason        string
}

// SelectorKind says what a selector names.
type SelectorKind int

// What a selector names.
const (
	SelectAll     SelectorKind = iota // *
	SelectProduct                     // NAME, also water
	SelectGroup                       // @group
	SelectMix                         // mix:NAME
	SelectCrop                        // crop:NAME
)

// Selector is the `after` or `before` of a rule.
type Selector struct {
	Kind SelectorKind
	Name string // without its sign
}
