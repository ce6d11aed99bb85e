package model_test

// The publications the worked examples were printed in. A copy is named where
// only a re-posted copy was seen.
var publications = map[string]string{
	"MU":         "Univ. Missouri Extension G1272, How much pesticide to mix, http://extension.missouri.edu/publications/DisplayPrinterFriendlyPub.aspx?P=G1272",
	"CSD":        "W. Casady, Get the recipe right, Corn & Soybean Digest, http://cornandsoybeandigest.com/print/get-recipe-right",
	"SDSU":       "South Dakota State Univ. Extension, Pesticide mixing and sprayer calibration equations, https://extension.sdstate.edu/pesticide-mixing-and-sprayer-calibration-equations",
	"MT":         "Montana State Univ. Extension MontGuide MT 2000-14, Calibration of Sprayer, https://scribd.com/document/421822868 (copy)",
	"HANDBOOK":   "Agrochemical and Pesticide Safety Handbook, examples 4-5, http://what-when-how.com/Tutorial/topic-166581h5j/Agrochemical-and-Pesticide-Safety-128.html",
	"UMN":        "Univ. Minnesota Extension (J. True), How to calculate herbicide rates, http://www.extension.umn.edu/agriculture/crops/weed-management/how-to-calculate-herbicide-rates/",
	"MSU":        "Mississippi State Univ. Extension P2939, Pesticide Calibration Made Easy, http://www.ext.msstate.edu/publications/publications/pesticide-calibration-made-easy",
	"COUNTY":     "County weed-program sprayer calibration instructions, https://paperzz.com/doc/9164538/sprayer-calibration-instructions (copy)",
	"UGA":        "Univ. Georgia CAES (C. Waltz, T. Murphy), Calibrate sprayer, vol. XXIX no. 1 (copy)",
	"NAFEX":      "Extension worked note, https://lists.ibiblio.org/sympa/nomenu/arc/nafex/2009-03/msg00314.html",
	"APPX-C":     "Appendix C: Conversions and Calculations, state core manual, https://studylib.net/doc/18745475/appendix-c--conversions-and-calculations",
	"UNL":        "Univ. Nebraska CropWatch 2016, Setting the sprayer flow rate for non-water solutions, https://cropwatch.unl.edu/2016/setting-sprayer-flow-rate-non-water-solutions",
	"PNW":        "PNW Handbooks, weights and measures, https://www.pnwhandbooks.org/node/328/print",
	"NEVG":       "New England Vegetable Guide, conversions, https://nevegetable.org/book/export/html/244",
	"ISU-A3-24":  "Iowa State Ext. Ag Decision Maker A3-24, Estimating field capacity, https://studylib.net/doc/18165347/estimating-the-field-capacity-of-farm-machines",
	"ISU-PM-696": "Iowa State Univ. PM 696 (2001), https://studylib.net/doc/18166171/extension-store---iowa-state-university",
}

// rounding says how a source came from the exact value to the printed one.
type rounding int

const (
	nearest   rounding = iota // half a unit of the last printed digit
	truncated                 // cut off after the last printed digit
	coarse                    // a table that mixes one and two decimals: 0.05
)

// worked is a worked example, put to the model as a day with one job: the
// spraying of acres at gpa with a tank, filled full first, by a product at a
// rate. A rate of active per acre is put as a rate by weight of a product whose
// density is its active per gallon, which is what turns one into the other.
type worked struct {
	id, source       string
	tank, gpa, acres string
	rate, rateUnit   string // none where only the spray is asked for
	stock            string // unit of the answer
	density          string
	ask              question
	printed          string
	rounding         rounding
}

// workedExamples leaves out what the model does not do: percent of active by
// weight, areas in square feet, nozzle flow.
var workedExamples = []worked{
	{"active to product", "MU", "500", "20", "1", "1.5", "lb/ac", "gal", "4", amount, "0.375", nearest},
	{"active to product in pints", "MU", "500", "20", "1", "1.5", "lb/ac", "pt", "4", amount, "3", nearest},
	{"acres a tank", "CSD", "500", "20", "100", "", "", "", "", acresOfLoad, "25", nearest},
	{"pints a tank", "CSD", "500", "20", "25", "3", "pt/ac", "pt", "", amount, "75", nearest},
	{"gallons a tank", "CSD", "500", "20", "25", "3", "pt/ac", "gal", "", amount, "9.37", truncated},
	{"500 gal of mix", "SDSU", "500", "15", "100", "32", "floz/ac", "floz", "", amount, "1067", nearest},
	{"acres a tank", "MT", "500", "30", "100", "", "", "", "", acresOfLoad, "16.6", truncated},
	{"acres of half a tank", "MT", "250", "30", "100", "", "", "", "", acresOfLoad, "8.3", nearest},
	{"product of 30 ac", "MT", "500", "10", "30", "1", "pt/ac", "pt", "", amount, "30", nearest},
	{"product of 30 ac in gallons", "MT", "500", "10", "30", "1", "pt/ac", "gal", "", amount, "3.75", nearest},
	{"8 lb/gal", "MT", "500", "30", "1", "3", "lb/ac", "gal", "8", amount, "0.375", nearest},
	{"8 lb/gal in quarts", "MT", "500", "30", "1", "3", "lb/ac", "qt", "8", amount, "1.5", nearest},
	{"8 lb/gal in pints", "MT", "500", "30", "1", "3", "lb/ac", "pt", "8", amount, "3", nearest},
	{"acres a 300 gal tank", "MT", "300", "40", "100", "", "", "", "", acresOfLoad, "7.5", nearest},
	{"2 lb/gal", "MT", "300", "40", "1", "0.5", "lb/ac", "gal", "2", amount, "0.25", nearest},
	{"2 lb/gal a tank", "MT", "300", "40", "100", "0.5", "lb/ac", "qt", "2", amount, "7.5", nearest},
	{"partial tank", "HANDBOOK", "500", "15", "3.5", "", "", "", "", spray, "52.5", nearest},
	{"dry product of a partial tank", "HANDBOOK", "500", "15", "3.5", "3", "lb/ac", "lb", "", amount, "10.5", nearest},
	{"2 lb/gal", "UMN", "500", "20", "1", "3", "lb/ac", "gal", "2", amount, "1.5", nearest},
	{"1 gal treats 32 ac", "MSU", "500", "10", "32", "4", "floz/ac", "gal", "", amount, "1", nearest},
	{"50 gal load", "COUNTY", "100", "100", "0.5", "7", "oz/ac", "oz", "", amount, "3.5", nearest},
	{"2 % v/v at 25 gal/ac", "UGA", "500", "25", "1", "2", "%v/v", "pt", "", amount, "4", nearest},
	{"2 % v/v of 2 gal", "UGA", "2", "1", "2", "2", "%v/v", "floz", "", amount, "5.1", nearest},
	{"per gallon of mix", "NAFEX", "500", "65", "1", "3", "pt/ac", "pt", "", amountPerGal, "0.046", nearest},
	{"per gallon of mix in fluid ounces", "NAFEX", "500", "65", "1", "3", "pt/ac", "floz", "", amountPerGal, "0.74", nearest},
	{"2.5 gal jug", "APPX-C", "500", "10", "1", "2.5", "gal/ac", "floz", "", amount, "320", nearest},
	{"75 lb of N", "UNL", "500", "30", "1", "75", "lb/ac", "gal", "2.982", amount, "25.151", nearest},

	{"1 qt/100 gal in 25 gal", "NEVG", "25", "25", "1", "1", "qt/100gal", "pt", "", amount, "0.5", nearest},
	{"1 gal/100 gal in 25 gal", "NEVG", "25", "25", "1", "1", "gal/100gal", "qt", "", amount, "1", nearest},
	{"2 lb/100 gal in 25 gal", "NEVG", "25", "25", "1", "2", "lb/100gal", "lb", "", amount, "0.5", nearest},
	{"3 lb/100 gal in 25 gal", "NEVG", "25", "25", "1", "3", "lb/100gal", "lb", "", amount, "0.75", nearest},
	{"1 lb active of a 2 EC", "NEVG", "100", "20", "5", "1", "lb/100gal", "qt", "2", amount, "2", nearest},
	{"1 lb active of a 4 EC", "NEVG", "100", "20", "5", "1", "lb/100gal", "qt", "4", amount, "1", nearest},
	{"1 lb active of a 6 EC", "NEVG", "100", "20", "5", "1", "lb/100gal", "pt", "6", amount, "4/3", nearest},
	{"1 lb active of an 8 EC", "NEVG", "100", "20", "5", "1", "lb/100gal", "pt", "8", amount, "1", nearest},
}

// pintsPerAcre is the PNW table: pints of product an acre by pounds of active a
// gallon (row) and an acre (column). Cells that are farther than 0.05 from the
// arithmetic are left blank: the source's own slips.
var pintsPerAcre = struct {
	active []string
	rows   []pintsRow
}{
	[]string{"0.25", "0.5", "0.75", "1", "1.5", "2"},
	[]pintsRow{
		{"2.64", []string{".75", "1.5", "2.25", "3", "4.5", ""}},
		{"3.00", []string{".7", "1.33", "2", "2.7", "4", "5.33"}},
		{"3.34", []string{".6", "1.2", "1.8", "2.4", "3.6", "4.8"}},
		{"4.00", []string{".5", "1", "1.5", "2", "3", "4"}},
		{"5.00", []string{".4", ".8", "1.2", "1.6", "2.4", "3.2"}},
		{"6.00", []string{".33", ".7", "1", "1.33", "2", "2.7"}},
		{"6.70", []string{".3", ".6", ".9", "1.2", "1.8", "2.4"}},
		{"8.00", []string{".25", ".5", ".75", "1.0", "1.5", "2.0"}},
	},
}

type pintsRow struct {
	perGal  string
	printed []string
}

// densities in lb/gal as UNL prints them.
var densities = []struct{ liquid, lbPerGal string }{
	{"water", "8.34"}, {"kerosene", "6.6"}, {"20 % calcium chloride", "9.91"}, {"28-0-0", "10.65"}, {"30-0-0", "10.8"},
	{"32-0-0", "11.06"}, {"10-34-0", "11.4"}, {"12-0-0-26", "11.5"}, {"11-37-0", "11.6"},
}

// capacities are rows of printed tables of effective field capacity, ac/h.
var capacities = []struct{ source, ft, mph, efficiency, printed string }{
	{"ISU-A3-24", "40", "6", "0.70", "20.4"},
	{"ISU-PM-696", "50", "6", "0.70", "25.5"},
	{"ISU-A3-24", "60", "6", "0.68", "29.7"},
	{"ISU-A3-24", "60", "12", "0.68", "59.3"},
	{"ISU-A3-24", "80", "6", "0.68", "39.6"},
	{"ISU-A3-24", "80", "12", "0.68", "79.1"},
	{"ISU-A3-24", "15", "5", "0.63", "5.7"},
	{"ISU-A3-24", "20", "6", "0.63", "9.2"},
	{"ISU-A3-24", "30", "6", "0.60", "13.1"},
}

// unitConstants are the sizes of the units as Handbook 44, appendix C, has them
// in full, and as SP 811, appendix B.8, prints them to seven digits (from
// memory, but for the gallon of 231 cubic inches and the acre).
var unitConstants = []struct{ unit, in, handbook44, sp811 string }{
	{"gal", "L", "3.785411784", "3.785412"},
	{"qt", "L", "0.946352946", "0.9463529"},
	{"pt", "L", "0.473176473", "0.4731765"},
	{"floz", "mL", "29.5735295625", "29.57353"},
	{"lb", "kg", "0.45359237", "0.4535924"},
	{"lb", "g", "453.59237", "453.5924"},
	{"oz", "g", "28.349523125", "28.34952"},
	{"ac", "ha", "0.40468564224", "0.4046856"}, // the international acre
	{"gal", "qt", "4", "4"},
	{"gal", "pt", "8", "8"},
	{"gal", "floz", "128", "128"},
	{"qt", "floz", "32", "32"},
	{"lb", "oz", "16", "16"},
	{"L", "mL", "1000", "1000"},
	{"kg", "g", "1000", "1000"},
}
