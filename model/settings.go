package model

// DefaultSettings returns the settings of a day.yaml that says nothing. The
// basis of each value stands beside it; none is a rule for a particular pad.
func DefaultSettings() Settings {
	return Settings{
		Units:       "us",
		SprayFrom:   6 * 3600,         // common practice: after sunrise, when an inversion has cleared
		SprayUntil:  21 * 3600,        // common practice: about sunset in the season
		Split:       "even",           // avoids a tiny last load
		ShareMaxMin: WholeDecimal(15), // judgement: neighbouring fields
		AddingOrder: DefaultAddingOrder,
		FreezeMin:   WholeDecimal(15), // judgement: what is set out and who is on the way
		Pad: PadSettings{
			Opens:           6 * 3600,
			Closes:          19 * 3600,
			Bays:            []BaySettings{DefaultBay()},
			CarrierGpm:      WholeDecimal(200), // 150-200 gal/min overall is shown reachable; Western Producer 2016-09
			CarrierFirst:    One / 2,           // published mixing orders start with 1/3 to 3/4 of the carrier
			MeterGpm:        WholeDecimal(10),  // tote pump, from memory
			HookupMin:       WholeDecimal(3),   // common practice: connect, check, paperwork
			UnhookMin:       WholeDecimal(2),   // common practice
			JugSec:          WholeDecimal(75),  // drain 30 s and pressure rinse at least 30 s; EPA farm pesticide program
			BagSec:          WholeDecimal(90),  // from memory
			HopperLbPerMin:  WholeDecimal(60),  // judgement: an eductor's slow side
			PushMin:         One / 2,           // judgement: pushes one manifold volume through
			PushGal:         WholeDecimal(5),   // judgement: about 1.5 volumes of 20 ft of 2-inch pipe
			SettleDryMin:    WholeDecimal(3),   // "a few minutes" after dry products; Oklahoma State PSS-2789
			SettleLiquidMin: WholeDecimal(1),   // common practice
			ChangeoverMin:   WholeDecimal(8),   // from memory, 4-15 min
		},
		RinseLevels: []LevelSettings{
			{Name: "flush", Min: WholeDecimal(2), Gal: WholeDecimal(10)}, // three pipe volumes
			{Name: "wash", Min: WholeDecimal(10), Gal: WholeDecimal(40)}, // from memory: hose and meter too
		},
		CleanoutLevels: []LevelSettings{
			{Name: "water flush", Min: WholeDecimal(10), Gal: WholeDecimal(50)},     // at least 5 min through the boom; NDSU
			{Name: "triple rinse", Min: WholeDecimal(40), Gal: WholeDecimal(120)},   // 30-45 min, 10 % of the tank; ISO 16119
			{Name: "agent cleanout", Min: WholeDecimal(90), Gal: WholeDecimal(300)}, // agent recirculated at least 15 min, then rinses; SDSU
		},
		Costs: CostSettings{
			WaitPerH:         WholeDecimal(250), // $100-300/h depreciation, fuel and labour; judgement
			CrewPerH:         WholeDecimal(68),  // two people at $34/h; from memory
			Changeover:       WholeDecimal(5),   // judgement: handling and drips, beside the minutes
			RinsatePerGal:    One / 2,           // judgement: storing and reusing it
			LatePerH:         WholeDecimal(50),  // judgement
			OvertimePerH:     WholeDecimal(102), // the crew at time and a half
			TimelinessPerAcH: One / 100,         // small, after the timeliness cost of ASABE EP496
			ChangeTold:       WholeDecimal(20),  // judgement: about five minutes of a sprayer and its crew, on the radio and to set out anew
		},
	}
}

// DefaultBay is a bay that says only its name: three tote connections (a small
// pad's manifold, common practice) and water.
func DefaultBay() BaySettings {
	return BaySettings{Name: "bay 1", Connections: 3, Carriers: []string{Water}}
}

// Water is the name of the carrier that is not a product.
const Water = "water"
