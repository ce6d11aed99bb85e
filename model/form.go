package model

import (
	"maps"
	"slices"
)

// A Formulation is a two-letter code of the international list (CropLife
// International Technical Monograph 2, 7th ed. 2017). In it ME is a
// micro-emulsion; microcapsules are CS.
type Formulation struct {
	Code string
	Name string
	Dry  bool // weighed, and takes no volume in the tank
}

var formulations = []Formulation{
	{"CS", "capsule suspension", false},
	{"DC", "dispersible concentrate", false},
	{"EC", "emulsifiable concentrate", false},
	{"EG", "emulsifiable granule", true},
	{"EO", "emulsion, water in oil", false},
	{"EP", "emulsifiable powder", true},
	{"EW", "emulsion, oil in water", false},
	{"FS", "flowable concentrate for seed treatment", false},
	{"GL", "emulsifiable gel", false},
	{"GR", "granule", true},
	{"GW", "water-soluble gel", false},
	{"ME", "micro-emulsion", false},
	{"OD", "oil dispersion", false},
	{"OF", "oil miscible flowable concentrate", false},
	{"OL", "oil miscible liquid", false},
	{"OP", "oil dispersible powder", true},
	{"SC", "suspension concentrate", false},
	{"SE", "suspo-emulsion", false},
	{"SG", "water-soluble granule", true},
	{"SL", "soluble concentrate", false},
	{"SO", "spreading oil", false},
	{"SP", "water-soluble powder", true},
	{"ST", "water-soluble tablet", true},
	{"TB", "tablet", true},
	{"WG", "water-dispersible granule", true},
	{"WP", "wettable powder", true},
	{"WT", "water-dispersible tablet", true},
	{"ZC", "mixed CS and SC", false},
	{"ZE", "mixed CS and SE", false},
	{"ZW", "mixed CS and EW", false},
}

// FindFormulation returns the formulation of a two-letter code.
func FindFormulation(code string) (Formulation, bool) {
	i := slices.IndexFunc(formulations, func(f Formulation) bool { return f.Code == code })
	if i < 0 {
		return Formulation{}, false
	}
	return formulations[i], true
}

// FormulationCodes lists the known codes.
func FormulationCodes() []string {
	codes := make([]string, len(formulations))
	for i, f := range formulations {
		codes[i] = f.Code
	}
	return codes
}

// An AddingOrder is a published order in which formulation classes go into the
// tank: lower classes first. Published orders differ (SL before or after EC,
// dry solubles first or late), so they are data. The label beats all of them.
type AddingOrder struct {
	Name   string
	Source string
	Class  map[string]int
}

// DefaultAddingOrder is the one used where day.yaml names none.
const DefaultAddingOrder = "dry-sc-sl-ec"

// Classes 1 (conditioners: compatibility agent, defoamer, AMS), 2 (soluble
// packs), 9 (surfactants) and 10 (drift retardants) have no formulation code
// of their own; a recipe's step puts a product there.
var addingOrders = []AddingOrder{
	{
		Name:   DefaultAddingOrder,
		Source: "Oklahoma State Extension PSS-2789: WP and DF, then suspensions, then SL, then EC; codes placed by their class",
		Class: map[string]int{
			"WP": 3, "WG": 3, "WT": 3, "OP": 3, "EG": 3, "EP": 3, "GR": 3, "TB": 3,
			"SP": 4, "SG": 4, "ST": 4,
			"SC": 5, "CS": 5, "SE": 5, "ZC": 5, "ZE": 5, "ZW": 5, "FS": 5, "OF": 5,
			"SL": 6, "GW": 6,
			"EC": 7, "EW": 7, "ME": 7, "OD": 7, "EO": 7, "DC": 7, "GL": 7, "OL": 7,
			"SO": 8,
		},
	},
	{
		Name:   "soluble-dry-sc-ec-sl",
		Source: "North Dakota Weed Control Guide 2021: dry solubles first, DF and WP, suspensions, EC, solutions last",
		Class: map[string]int{
			"SP": 3, "SG": 3, "ST": 3,
			"WP": 4, "WG": 4, "WT": 4, "OP": 4, "EG": 4, "EP": 4, "GR": 4, "TB": 4,
			"SC": 5, "CS": 5, "SE": 5, "ZC": 5, "ZE": 5, "ZW": 5, "FS": 5, "OF": 5,
			"EC": 6, "EW": 6, "ME": 6, "OD": 6, "EO": 6, "DC": 6, "GL": 6, "OL": 6, "SO": 6,
			"SL": 7, "GW": 7,
		},
	},
	{
		Name:   "dry-cs-ec-sl-soluble",
		Source: "Utah State University Extension jar-test order: WP, DF, CS, EC, SL, SP, then adjuvants; flowables put with the dry dispersibles' side of CS",
		Class: map[string]int{
			"WP": 3, "OP": 3, "EP": 3,
			"WG": 4, "WT": 4, "EG": 4, "GR": 4, "TB": 4,
			"SC": 5, "CS": 5, "SE": 5, "ZC": 5, "ZE": 5, "ZW": 5, "FS": 5, "OF": 5,
			"EC": 6, "EW": 6, "ME": 6, "OD": 6, "EO": 6, "DC": 6, "GL": 6, "OL": 6,
			"SL": 7, "GW": 7,
			"SP": 8, "SG": 8, "ST": 8,
			"SO": 9,
		},
	},
}

// FindAddingOrder returns the adding order of that name.
func FindAddingOrder(name string) (AddingOrder, bool) {
	i := slices.IndexFunc(addingOrders, func(o AddingOrder) bool { return o.Name == name })
	if i < 0 {
		return AddingOrder{}, false
	}
	order := addingOrders[i]
	order.Class = maps.Clone(order.Class)
	return order, true
}

// AddingOrderNames lists the known adding orders, the default first.
func AddingOrderNames() []string {
	names := make([]string, len(addingOrders))
	for i, o := range addingOrders {
		names[i] = o.Name
	}
	return names
}
