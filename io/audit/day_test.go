package audit

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/model"
)

// Each row changes the day under the sound plan, so that the plan no longer
// keeps it; the check must see that and name the rule.
func TestChangedDayIsCaught(t *testing.T) {
	days := []struct {
		name   string
		change func(*model.Input)
		rule   string
		says   string
	}{
		{"given sprayer", func(in *model.Input) {
			in.Sprayers = append(in.Sprayers, model.SprayerRow{Sprayer: "S2", TankGal: *n(600), AcPerH: n(60)})
			in.Jobs[2].Sprayer = "S2"
		}, "R1", "job J2 is sprayed by S1, expected S2"},
		{"smaller tank", func(in *model.Input) { in.Sprayers[0].TankGal = *n(400) }, "R1", "is filled as 2 loads, expected 3"},
		{"full loads first", func(in *model.Input) { in.Settings.Split = "full_first" }, "R1", "takes J1=45.0000 of the run of J1, J4, expected J1=60.0000"},
		{"fields too far apart", func(in *model.Input) { in.Settings.ShareMaxMin = *n(4) }, "R1", "expected at most 4"},
		{"other gpa", func(in *model.Input) { in.Jobs[1].GPA = n(11) }, "R1", "different gpa"},
		{"crops kept apart", func(in *model.Input) {
			in.Jobs[1].Crop = "grapes"
			in.Rules = append(in.Rules, model.RuleRow{Where: "sprayer", After: "@fungicide", Before: "crop:grapes", Level: "water flush"})
		}, "R1", "a sprayer rule is about crop grapes"},
		{"other rate", func(in *model.Input) { in.Recipes[2].Rate = *n(9) }, "R2", "2.5000 of fungicide 4 SC, expected 2.8125"},
		{"tank rule", func(in *model.Input) {
			in.Rules = append(in.Rules, model.RuleRow{Where: "tank", After: "AMS", Before: "@herbicide", Level: "forbid"})
		}, "R2", "AMS and glyphosate 5.4 SL are in one tank"},
		{"more carrier first", func(in *model.Input) { in.Settings.Pad.CarrierFirst = model.One * 3 / 4 }, "R2", "is 225.0000, expected 337.5000"},
		{"step", func(in *model.Input) { in.Recipes[1].Step = n(9) }, "R3", "glyphosate 5.4 SL (place 6) goes in after AMS (place 9)"},
		{"slower meter", func(in *model.Input) { in.Settings.Pad.MeterGpm = *n(5) }, "R4", "expected 1020 s"},
		{"pounds instead of bags", func(in *model.Input) { in.Products[1].Pack = nil }, "R4", "expected 849 s"},
		{"heavier rinse", func(in *model.Input) { in.Rules[0].Level = "wash" }, "R5", `expected "wash"`},
		{"last mix of the bay", func(in *model.Input) {
			in.Settings.Pad.Bays[0].LastMix = "blight"
			in.Rules = append(in.Rules, model.RuleRow{Where: "manifold", After: fungicide, Before: "*", Level: "wash"})
		}, "R5", `load S1-1: rinse is "", expected "wash"`},
		{"plumbed", func(in *model.Input) {
			bay := &in.Settings.Pad.Bays[0]
			bay.Plumbed, bay.Hooked = bay.Hooked, nil
		}, "R6", "glyphosate 5.4 SL is plumbed and never comes off"},
		{"nothing hooked up", func(in *model.Input) { in.Settings.Pad.Bays[0].Hooked = nil }, "R6", "load S1-1: 0 of its 1 metered products"},
		{"fuller tote", func(in *model.Input) { in.Stock[0].Open = n(30) }, "R6", "1 fresh containers of glyphosate 5.4 SL inside, expected 0"},
		{"emptier tote", func(in *model.Input) { in.Stock[0].Open = new(model.Decimal(11_250_000_000)) }, "R6", "is empty when it starts"},
		{"bulk", func(in *model.Input) { in.Stock[0].Container = "bulk" }, "R6", "1 fresh containers"},
		{"no such carrier", func(in *model.Input) { in.Settings.Pad.Bays[0].Carriers = []string{"28-0-0"} }, "R6", "needs water as carrier"},
		{"opens later", func(in *model.Input) { in.Settings.Pad.Opens = clock(6, 10) }, "R7", "begins 06:00:00, expected not before 06:10:00"},
		{"bay shut while filling", func(in *model.Input) {
			in.Holds = append(in.Holds, model.HoldRow{From: clock(9, 30), To: clock(9, 31), Scope: "bay:north"})
		}, "R7", "its filling from 09:28:00 to 09:38:59 runs into the hold"},
		{"bay shut while rinsing", func(in *model.Input) {
			in.Holds = append(in.Holds, model.HoldRow{From: clock(8, 5), To: clock(8, 6), Scope: "bay:north"})
		}, "R7", "rinse from 08:04:46 to 08:06:46 runs into the hold"},
		{"earlier delivery", func(in *model.Input) { in.Deliveries[0].At = clock(9, 0) }, "R7", "changeover to fungicide 4 SC begins 09:20:00, expected 09:00:00"},
		{"longer drive", func(in *model.Input) { in.Jobs[2].DriveMin = n(13) }, "R8", "back_at is 10:42:59, expected 10:44:59"},
		{"fields farther apart", func(in *model.Input) { in.Settings.Pad.BetweenMin = nil }, "R8", "expected drive 08:29:46 to 08:50:46"},
		{"slower sprayer", func(in *model.Input) { in.Sprayers[0].AcPerH = n(50) }, "R8", "back_at"},
		{"heavier cleanout", func(in *model.Input) { in.Rules[1].Level = "triple rinse" }, "R8", `expected "triple rinse"`},
		{"last mix of the sprayer", func(in *model.Input) {
			in.Sprayers[0].LastMix = "blight"
			in.Rules = append(in.Rules, model.RuleRow{Where: "sprayer", After: "mix:blight", Before: "@herbicide", Level: "water flush"})
		}, "R8", `load S1-1: cleanout is "", expected "water flush"`},
		{"hold of the field", func(in *model.Input) {
			in.Holds = append(in.Holds, model.HoldRow{From: clock(10, 0), To: clock(10, 5), Scope: "field:hill"})
		}, "R9", "may be sprayed next from 09:50:59 to 10:00:00"},
		{"hold of a group", func(in *model.Input) {
			in.Holds = append(in.Holds, model.HoldRow{From: clock(10, 0), To: clock(10, 5), Scope: "@fungicide"})
		}, "R9", "may be sprayed next from 09:50:59 to 10:00:00"},
		{"hold of water", func(in *model.Input) {
			in.Holds = append(in.Holds, model.HoldRow{From: clock(10, 0), To: clock(10, 5), Scope: "product:water"})
		}, "R9", "may be sprayed next from 09:50:59 to 10:00:00"},
		{"hold of the sprayer", func(in *model.Input) {
			in.Holds = append(in.Holds, model.HoldRow{From: clock(10, 0), To: clock(10, 5), Scope: "sprayer:S1"})
		}, "R9", "may be sprayed next from 09:50:59 to 10:00:00"},
		{"gusts", func(in *model.Input) {
			in.Products[2].MaxWindMph = n(10)
			in.Forecast = append(in.Forecast, model.ForecastRow{From: clock(10, 0), To: clock(11, 0), WindMph: n(8), GustMph: n(12)})
		}, "R9", "may be sprayed next from 09:50:59 to 10:00:00"},
		{"rain in the forecast", func(in *model.Input) {
			in.Forecast = append(in.Forecast, model.ForecastRow{From: clock(10, 0), To: clock(10, 30), RainIn: n(1)})
		}, "R9", "may be sprayed next from 09:50:59 to 10:00:00"},
		{"earliest", func(in *model.Input) { in.Jobs[2].Earliest = at(9, 55) }, "R9", "may be sprayed next from 09:55:00"},
		{"dusk", func(in *model.Input) { in.Settings.SprayUntil = clock(10, 30) }, "R9", "can't be sprayed out by 10:30:00"},
		{"dawn", func(in *model.Input) { in.Settings.SprayFrom = clock(6, 30) }, "R9", "spray 06:25:53"},
		{"tank life", func(in *model.Input) { in.Products[2].TankLifeH = n(1) }, "R9", "3779 s after its start, expected at most the tank life of 3600 s"},
		{"sprayer leaves", func(in *model.Input) { in.Sprayers[0].AvailableUntil = at(10, 42) }, "R9", "expected at most 10:42:00"},
		{"less stock", func(in *model.Input) { in.Stock[1].Full = *n(2) }, "R10", "starts 07:40:53 with 51.0000 lb of AMS too little"},
		{"reorder point", func(in *model.Input) { in.Products[1].ReorderAt = n(60) }, "R10", "low is false at 51.0000 of AMS"},
		{"less water", func(in *model.Input) { in.Settings.Pad.Water.OnHandGal = *n(800) }, "R10", "too little"},
		{"slower refill", func(in *model.Input) { in.Settings.Pad.Water.RefillGpm = *n(1) }, "R10", "water_gal is 1324.2667"},
		{"water not watched", func(in *model.Input) { in.Settings.Pad.Water = nil }, "R10", "expected blank"},
		{"no overtime", func(in *model.Input) { in.Settings.Pad.OvertimeUntil = nil }, "R11", "ends 09:38:59, expected by 09:30:00"},
		{"price of waiting", func(in *model.Input) { in.Sprayers[0].WaitPerH = n(250) }, "cost", "dollars of wait"},
		{"price of lateness", func(in *model.Input) { in.Settings.Costs.LatePerH = *n(51) }, "cost", "dollars of late"},
		{"priority", func(in *model.Input) { in.Jobs[2].Priority = nil }, "cost", "amount of timeliness"},
		{"job bound to its sprayer", func(in *model.Input) { in.Jobs[2].Sprayer = "S1" }, "cost", "any_sprayer"},
		{"price of a changeover", func(in *model.Input) { in.Settings.Costs.Changeover = *n(6) }, "cost", "dollars of changeover"},
		{"price of overtime", func(in *model.Input) { in.Settings.Costs.OvertimePerH = *n(99) }, "cost", "dollars of overtime"},
		{"price of the crew", func(in *model.Input) { in.Settings.Costs.CrewPerH = *n(68) }, "cost", "dollars of rinse"},
		{"price of rinsate", func(in *model.Input) { in.Settings.Costs.RinsatePerGal = *n(1) }, "cost", "dollars of rinsate"},
	}
	for _, d := range days {
		t.Run(d.name, func(t *testing.T) {
			in := exampleDay()
			d.change(in)
			assertCaught(t, Check(in, examplePlan()), d.rule, d.says)
		})
	}
}

// A day that asks for nothing different must leave the plan sound.
func TestHarmlessChangeOfTheDayIsClean(t *testing.T) {
	days := []struct {
		name   string
		change func(*model.Input)
	}{
		{"hold of another product", func(in *model.Input) {
			in.Holds = append(in.Holds, model.HoldRow{From: clock(10, 0), To: clock(10, 5), Scope: "@herbicide"})
		}},
		{"hold that ends as the spraying begins", func(in *model.Input) {
			in.Holds = append(in.Holds, model.HoldRow{From: clock(9, 45), To: clock(9, 50) + 59})
		}},
		{"bay shut between two fillings", func(in *model.Input) {
			in.Holds = append(in.Holds, model.HoldRow{From: clock(6, 20), To: clock(7, 30), Scope: "bay:north"})
		}},
		{"boom instead of ac/h", func(in *model.Input) {
			r := &in.Sprayers[0] // 82.5 ft × 10 mph × 0.6 ÷ 8.25 = 60 ac/h
			r.AcPerH, r.BoomFt, r.Mph, r.Efficiency = nil, new(model.One*825/10), n(10), new(model.One*6/10)
		}},
		{"another rate unit", func(in *model.Input) { in.Recipes[0].Rate, in.Recipes[0].Unit = *n(1), "qt/ac" }},
		{"available until the very moment", func(in *model.Input) { in.Sprayers[0].AvailableUntil = new(clock(10, 42) + 59) }},
		{"sprayed out at the very moment", func(in *model.Input) { in.Settings.SprayUntil = clock(10, 30) + 59 }},
		{"crop rule about a crop of its own", func(in *model.Input) {
			in.Rules = append(in.Rules, model.RuleRow{Where: "sprayer", After: "@herbicide", Before: "crop:grapes", Level: "triple rinse"})
		}},
		{"rule of the lighter level", func(in *model.Input) {
			in.Settings.CleanoutLevels = append([]model.LevelSettings{{Name: "rinse down", Min: *n(1)}}, in.Settings.CleanoutLevels...)
			in.Rules = append(in.Rules, model.RuleRow{Where: "sprayer", After: "*", Before: "*", Level: "rinse down"})
		}},
	}
	for _, d := range days {
		t.Run(d.name, func(t *testing.T) {
			in := exampleDay()
			d.change(in)
			assert.Empty(t, Check(in, examplePlan()))
		})
	}
}
