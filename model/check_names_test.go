package model_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/model"
)

func TestMixFaults(t *testing.T) {
	recipe := func(i int, edit func(*model.RecipeRow)) func(*model.Input) {
		return func(in *model.Input) { edit(&in.Recipes[i]) }
	}
	carrier := func(edit func(*model.ProductRow)) func(*model.Input) {
		return func(in *model.Input) {
			uan := model.ProductRow{Product: "uan", Form: "SL", Unit: "gal", Handling: "metered"}
			edit(&uan)
			in.Products = append(in.Products, uan)
			in.Mixes[0].Carrier = "uan"
			in.Settings.Pad.Bays[0].Carriers = []string{"water", "uan"}
		}
	}
	checkFaults(t, []faultRow{
		{"volume rate", func(in *model.Input) { in.Mixes[0].GPA = 0 }, []string{`mixes[0].gpa "0": expected more than 0 and at most 1000 gal/ac`}},
		{"twice", func(in *model.Input) { in.Mixes = append(in.Mixes, in.Mixes[0]) }, []string{`mixes[1].mix "corn": stands twice; each name may be used once`}},
		{"unknown carrier", func(in *model.Input) { in.Mixes[0].Carrier = "watr" }, []string{`mixes[0].carrier "watr": is not in products.csv`}},
		{"sound carrier", carrier(func(*model.ProductRow) {}), nil},
		{"dry carrier", carrier(func(r *model.ProductRow) { r.Form, r.Handling = "SG", "hopper" }),
			[]string{`mixes[0].carrier "uan": is a dry product; a carrier is a liquid`}},
		{"carrier by weight", carrier(func(r *model.ProductRow) { r.Unit = "lb" }),
			[]string{`mixes[0].carrier "uan": is kept by weight, so it needs density_lb_gal to turn a weight into a volume or back`}},
		{"carrier on no bay", func(in *model.Input) {
			carrier(func(*model.ProductRow) {})(in)
			in.Settings.Pad.Bays[0].Carriers = nil
		}, []string{`jobs[0].mix "corn": needs uan as carrier; no bay in day.yaml has it among its carriers`}},
		{"carrier in the recipe too", func(in *model.Input) {
			in.Mixes[0].Carrier = "glyphosate"
			in.Settings.Pad.Bays[0].Carriers = []string{"glyphosate"}
		},
			[]string{`recipes[1].product "glyphosate": is the carrier of mix "corn" already`}},
		{"unknown mix", recipe(0, func(r *model.RecipeRow) { r.Mix = "com" }), []string{`recipes[0].mix "com": is not in mixes.csv; did you mean "corn"?`}},
		{"unknown product", recipe(0, func(r *model.RecipeRow) { r.Product = "oill" }), []string{`recipes[0].product "oill": is not in products.csv; did you mean "oil"?`}},
		{"rate", recipe(1, func(r *model.RecipeRow) { r.Rate = 0 }), []string{`recipes[1].rate "0": expected more than 0 and at most 100000 floz/ac`}},
		{"step", recipe(1, func(r *model.RecipeRow) { r.Step = some("-1") }), []string{`recipes[1].step "-1": expected at least 0 and at most 1000 (a place in the adding order)`}},
		{"rate unit", recipe(1, func(r *model.RecipeRow) { r.Unit = "oz/a" }),
			[]string{`recipes[1].unit "oz/a": expected one of gal, qt, pt, floz, L, mL, lb, oz, kg, g per ac, ha, 100gal or 100L (such as floz/ac, kg/ha, lb/100gal), or %v/v`}},
		{"product twice", recipe(0, func(r *model.RecipeRow) { r.Product = "glyphosate" }), []string{`recipes[1].product "glyphosate": stands twice in mix "corn"`}},
		{"rate by weight, stock by volume", recipe(1, func(r *model.RecipeRow) { r.Unit = "lb/ac" }),
			[]string{`recipes[1].unit "lb/ac": does not fit: glyphosate is kept in gal, so it needs density_lb_gal to turn a weight into a volume or back`}},
		{"the same with a density", func(in *model.Input) {
			in.Recipes[1].Unit = "lb/ac"
			in.Recipes[1].Rate = dec("2")
			in.Products[0].DensityLbGal = some("10")
		}, nil},
		{"liquid by weight", func(in *model.Input) { in.Products[0].Unit = "lb"; in.Recipes[1].Unit = "lb/ac" },
			[]string{`recipes[1].product "glyphosate": is a liquid kept in lb, so it needs density_lb_gal to turn a weight into a volume or back`}},
		{"hopper without a pack", func(in *model.Input) { in.Products[2].Pack = nil },
			[]string{`recipes[0].product "oil": goes through the hopper without a pack size, so it needs density_lb_gal to turn a weight into a volume or back (or give its pack in products.csv)`}},
		{"dry product in the hopper without a pack", func(in *model.Input) { in.Products[1].Pack = nil }, nil},
		{"more product than spray", recipe(1, func(r *model.RecipeRow) { r.Rate = dec("2000") }),
			[]string{`mixes[0].gpa "15": is too little: the products of mix "corn" alone take 15.775 gal an acre, more than the spray volume`}},
		{"exactly as much as the spray", recipe(1, func(r *model.RecipeRow) { r.Rate = dec("1900.8") }), nil}, // 14.85 gal and 1 %
		{"more product than a job's spray", func(in *model.Input) { in.Jobs[0].GPA = some("0.25") },
			[]string{`jobs[0].gpa "0.25": is too little: the products of mix "corn" alone take 0.253 gal an acre, more than the spray volume`}},
	})
}

func TestJobAndSprayerFaults(t *testing.T) {
	job := func(edit func(*model.JobRow)) func(*model.Input) {
		return func(in *model.Input) { edit(&in.Jobs[0]) }
	}
	sprayer := func(edit func(*model.SprayerRow)) func(*model.Input) {
		return func(in *model.Input) { edit(&in.Sprayers[0]) }
	}
	checkFaults(t, []faultRow{
		{"no job", func(in *model.Input) { in.Jobs = nil }, []string{`jobs.field "": at least one job is needed`}},
		{"no sprayer", func(in *model.Input) { in.Sprayers, in.Jobs[0].Sprayer = nil, "" }, []string{`sprayers.sprayer "": at least one sprayer is needed`}},
		{"no field", job(func(r *model.JobRow) { r.Field = "" }), []string{`jobs[0].field "": a field is required`}},
		{"no mix", job(func(r *model.JobRow) { r.Mix = "" }), []string{`jobs[0].mix "": a mix is required`}},
		{"unknown mix and sprayer", job(func(r *model.JobRow) { r.Mix, r.Sprayer = "con", "S2" }), []string{
			`jobs[0].sprayer "S2": is not in sprayers.csv; did you mean "S1"?`,
			`jobs[0].mix "con": is not in mixes.csv; did you mean "corn"?`}},
		{"numbers", job(func(r *model.JobRow) {
			r.Acres, r.Priority, r.GPA, r.DriveMin = 0, some("0"), some("1001"), some("601")
		}), []string{
			`jobs[0].acres "0": expected more than 0 and at most 100000 acres`,
			`jobs[0].drive_min "601": expected at least 0 and at most 600 minutes`,
			`jobs[0].priority "0": expected more than 0 and at most 1000`,
			`jobs[0].gpa "1001": expected more than 0 and at most 1000 gal/ac`}},
		{"more loads than a day has", func(in *model.Input) { in.Sprayers[0].TankGal, in.Jobs[0].Acres = dec("15"), dec("2001") },
			[]string{`jobs[0].acres "2001": takes 2001 loads of sprayer S1 (15 gal); at most 2000 can be planned`}},
		{"acres beyond all limits, said once", job(func(r *model.JobRow) { r.Acres = dec("120500000") }),
			[]string{`jobs[0].acres "120500000": expected more than 0 and at most 100000 acres`}},
		{"half a place", job(func(r *model.JobRow) { r.Lat = model.Some(41.0) }), []string{`jobs[0].lat "": lat and lon go together`}},
		{"no way to the field", job(func(r *model.JobRow) { r.DriveMin = nil }),
			[]string{`jobs[0].drive_min "": give drive_min, or lat and lon here and for the pad in day.yaml`}},
		{"due before earliest", job(func(r *model.JobRow) { r.Earliest, r.Due = model.Some(clock("10:00")), model.Some(clock("09:00")) }),
			[]string{`jobs[0].due "09:00": must not be before earliest (10:00)`}},
		{"name twice", func(in *model.Input) { in.Jobs = append(in.Jobs, in.Jobs[0]) },
			[]string{`jobs[1].job "J1": stands twice (first as job number 1 of the file); a blank job is called by its row number`}},
		{"name of a blank job", func(in *model.Input) { in.Jobs = append(in.Jobs, in.Jobs[0]); in.Jobs[0].Job, in.Jobs[1].Job = "2", "" },
			[]string{`jobs[1].job "": a blank job is called by its row number, and job number 1 has the name "2" already`}},
		{"blank jobs", func(in *model.Input) { in.Jobs = append(in.Jobs, in.Jobs[0]); in.Jobs[0].Job, in.Jobs[1].Job = "", "" }, nil},
		{"sprayer twice", func(in *model.Input) { in.Sprayers = append(in.Sprayers, in.Sprayers[0]) },
			[]string{`sprayers[1].sprayer "S1": stands twice; each name may be used once`}},
		{"sprayer's numbers", sprayer(func(r *model.SprayerRow) {
			r.TankGal, r.RoadMph, r.WaitPerH, r.AcPerH = 0, some("0"), some("-1"), some("0")
		}), []string{
			`sprayers[0].tank_gal "0": expected more than 0 and at most 20000 gal`,
			`sprayers[0].road_mph "0": expected more than 0 and at most 70 mph`,
			`sprayers[0].wait_per_h "-1": expected at least 0 and at most 100000 dollars`,
			`sprayers[0].ac_per_h "0": expected more than 0 and at most 2000 ac/h`}},
		{"sprayer's work rate", sprayer(func(r *model.SprayerRow) {
			r.AcPerH, r.BoomFt, r.Mph, r.Efficiency = nil, some("0"), some("-1"), some("85")
		}), []string{
			`sprayers[0].boom_ft "0": expected more than 0 and at most 300 ft`,
			`sprayers[0].mph "-1": expected more than 0 and at most 70 mph`,
			`sprayers[0].efficiency "85": expected more than 0 and at most 1 (a share)`}},
		{"no work rate", sprayer(func(r *model.SprayerRow) { r.AcPerH = nil }), []string{`sprayers[0].boom_ft "": give either ac_per_h, or boom_ft (and mph and efficiency)`}},
		{"gone before it comes", sprayer(func(r *model.SprayerRow) { r.AvailableUntil = model.Some(clock("06:00")) }),
			[]string{`sprayers[0].available_until "06:00": must be later than available_from (06:00)`}},
		{"last mix", sprayer(func(r *model.SprayerRow) { r.LastMix = "corm" }), []string{`sprayers[0].last_mix "corm": is not in mixes.csv; did you mean "corn"?`}},
		{"tank too small, said once", func(in *model.Input) {
			in.Sprayers[0].TankGal = dec("14")
			in.Jobs = append(in.Jobs, in.Jobs[0], in.Jobs[0])
			in.Jobs[1].Job, in.Jobs[1].GPA = "J2", some("20")
			in.Jobs[2].Job = "J3"
		}, []string{`sprayers[0].tank_gal "14": is less than one acre's spray of job "J2" (20 gal/ac)`}},
		{"any sprayer must do", func(in *model.Input) {
			in.Jobs[0].Sprayer = ""
			in.Sprayers = append(in.Sprayers, model.SprayerRow{Sprayer: "S2", TankGal: dec("5"), AcPerH: some("50")})
		}, []string{`sprayers[1].tank_gal "5": is less than one acre's spray of job "J1" (15 gal/ac)`}},
	})
}

func TestRuleAndHoldFaults(t *testing.T) {
	rule := func(where, after, before, level string) func(*model.Input) {
		return func(in *model.Input) {
			in.Rules = []model.RuleRow{{Where: where, After: after, Before: before, Level: level}}
		}
	}
	hold := func(from, to, kind, scope string) func(*model.Input) {
		return func(in *model.Input) {
			in.Holds = []model.HoldRow{{From: clock(from), To: clock(to), Kind: kind, Scope: scope}}
		}
	}
	forecast := func(edit func(*model.ForecastRow)) func(*model.Input) {
		return func(in *model.Input) {
			row := model.ForecastRow{From: clock("09:00"), To: clock("10:00")}
			edit(&row)
			in.Forecast = []model.ForecastRow{row}
		}
	}
	const selector = "expected a product, @group, mix:NAME, crop:NAME or *"
	checkFaults(t, []faultRow{
		{"where", rule("bay", "*", "*", "flush"), []string{`rules[0].where "bay": expected tank, manifold or sprayer`}},
		{"tank level", rule("tank", "glyphosate", "oil", "no"), []string{`rules[0].level "no": expected forbid`,
			`mixes[0].mix "corn": holds glyphosate and oil, which may not share a tank (rules.csv)`}},
		{"no level", rule("manifold", "*", "*", ""), []string{`rules[0].level "": expected one of the rinse_levels of day.yaml: flush, wash`}},
		{"rinse level", rule("manifold", "*", "*", "flsh"), []string{`rules[0].level "flsh": is not in rinse_levels of day.yaml; did you mean "flush"?`}},
		{"cleanout level", rule("sprayer", "*", "*", "wash"), []string{`rules[0].level "wash": is not in cleanout_levels of day.yaml`}},
		{"blank selectors", rule("manifold", "", "", "flush"), []string{`rules[0].after "": ` + selector, `rules[0].before "": ` + selector}},
		{"product", rule("manifold", "glyphosat", "water", "flush"), []string{`rules[0].after "glyphosat": is not in products.csv; did you mean "glyphosate"?`}},
		{"group", rule("manifold", "@triazin", "*", "flush"), []string{`rules[0].after "triazin": is not in the groups of products.csv; did you mean "triazine"?`}},
		{"mix", rule("manifold", "mix:cron", "*", "flush"), []string{`rules[0].after "cron": is not in mixes.csv; did you mean "corn"?`}},
		{"mix in a tank rule", rule("tank", "mix:corn", "oil", "forbid"), []string{`rules[0].after "mix:corn": names a mix, but a tank rule is about products; expected a product, @group or *`}},
		{"crop in after", rule("sprayer", "crop:corn", "*", "triple rinse"), []string{`rules[0].after "crop:corn": names a crop, which can only stand in the before of a sprayer rule`}},
		{"crop of a manifold rule", rule("manifold", "*", "crop:corn", "flush"), []string{`rules[0].before "crop:corn": names a crop, which can only stand in the before of a sprayer rule`}},
		{"forbidden pair with its reason", func(in *model.Input) {
			rule("tank", "@triazine", "oil", "forbid")(in)
			in.Rules[0].Reason = "curdles"
		}, []string{`mixes[0].mix "corn": holds atrazine and oil, which may not share a tank (rules.csv: curdles)`}},
		{"hold backwards", hold("10:00", "10:00", "rain", ""), []string{`holds[0].to "10:00": must be later than from (10:00)`}},
		{"hold kind", hold("10:00", "11:00", "rian", ""), []string{`holds[0].kind "rian": expected rain, wind, inversion or other; did you mean "rain"?`}},
		{"hold scope", hold("10:00", "11:00", "", "everything"), []string{`holds[0].scope "everything": expected blank (all), sprayer:NAME, field:NAME, product:NAME, @group or bay:NAME`}},
		{"hold scope without a name", hold("10:00", "11:00", "", "sprayer:"), []string{`holds[0].scope "sprayer:": expected blank (all), sprayer:NAME, field:NAME, product:NAME, @group or bay:NAME`}},
		{"hold of an unknown sprayer", hold("10:00", "11:00", "", "sprayer:S7"), []string{`holds[0].scope "S7": is not in sprayers.csv; did you mean "S1"?`}},
		{"hold of an unknown bay", hold("10:00", "11:00", "", "bay:bay 2"), []string{`holds[0].scope "bay 2": is not in the bays of day.yaml; did you mean "bay 1"?`}},
		{"hold of an unknown product", hold("10:00", "11:00", "", "product:oli"), []string{`holds[0].scope "oli": is not in products.csv`}},
		{"hold of an unknown group", hold("10:00", "11:00", "", "@auxin"), []string{`holds[0].scope "auxin": is not in the groups of products.csv`}},
		{"forecast backwards", forecast(func(r *model.ForecastRow) { r.To = clock("08:00") }), []string{`forecast[0].to "08:00": must be later than from (09:00)`}},
		{"forecast numbers", forecast(func(r *model.ForecastRow) { r.WindMph, r.GustMph, r.RainIn = some("-1"), some("251"), some("101") }), []string{
			`forecast[0].wind_mph "-1": expected at least 0 and at most 250 mph`,
			`forecast[0].gust_mph "251": expected at least 0 and at most 250 mph`,
			`forecast[0].rain_in "101": expected at least 0 and at most 100 inches`}},
	})
}

func TestWarnings(t *testing.T) {
	for _, row := range []struct {
		name string
		edit func(*model.Input)
		want []string
	}{
		{"nothing odd", func(*model.Input) {}, nil},
		{"weight of a liquid", func(in *model.Input) {
			in.Recipes[1].Unit, in.Products[0].DensityLbGal = "oz/ac", some("10")
		}, []string{`recipes[1].unit "oz/ac": is a weight, and glyphosate a liquid; is floz meant?`}},
		{"ounces of a dry product", func(in *model.Input) { in.Recipes[2].Unit = "oz/ac" }, nil},
		{"unknown crop", func(in *model.Input) {
			in.Rules = []model.RuleRow{{Where: "sprayer", After: "*", Before: "crop:crn", Level: "triple rinse"}}
		}, []string{`rules[0].before "crop:crn": is the crop of no job in jobs.csv; did you mean "corn"?`}},
		{"unknown field", func(in *model.Input) {
			in.Holds = []model.HoldRow{{From: clock("09:00"), To: clock("10:00"), Scope: "field:noth"}}
		}, []string{`holds[0].scope "field:noth": is the field of no job in jobs.csv; did you mean "north"?`}},
		{"mix without a recipe, said once", func(in *model.Input) {
			in.Recipes = nil
			in.Jobs = append(in.Jobs, in.Jobs[0])
			in.Jobs[1].Job = "J2"
		}, []string{`mixes[0].mix "corn": has no row in recipes.csv; its loads are nothing but water`}},
		{"mix without a recipe that no job uses", func(in *model.Input) {
			in.Mixes = append(in.Mixes, model.MixRow{Mix: "other", GPA: dec("10")})
		}, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			in := smallDay()
			row.edit(&in)
			_, report := model.NewProblem(in)
			assert.Empty(t, told(report.Errors))
			assert.Equal(t, row.want, told(report.Warnings))
		})
	}
	t.Run("a faulty row is a recipe too", func(t *testing.T) {
		in := smallDay()
		in.Recipes = in.Recipes[:1]
		in.Recipes[0].Unit = "?"
		_, report := model.NewProblem(in)
		assert.Empty(t, report.Warnings)
	})
}

func TestForecastMakesHolds(t *testing.T) {
	in := smallDay()
	in.Products[0].MaxWindMph = some("10")
	in.Products[2].MaxWindMph = some("15")
	in.Holds = []model.HoldRow{{From: clock("05:00"), To: clock("06:30"), Kind: "inversion"}}
	in.Forecast = []model.ForecastRow{
		{From: clock("09:00"), To: clock("10:00"), WindMph: some("10"), GustMph: some("10")}, // not above it
		{From: clock("10:00"), To: clock("11:00"), WindMph: some("8"), GustMph: some("12")},  // gusts count
		{From: clock("11:00"), To: clock("12:00"), WindMph: some("16")},
		{From: clock("12:00"), To: clock("13:00"), RainIn: some("0.01"), WindMph: some("3")},
	}
	p := sound(t, in)
	var got []string
	for _, h := range p.Holds {
		got = append(got, h.From.HHMM()+" "+h.Kind+" "+h.Scope.Product)
	}
	assert.Equal(t, []string{
		"05:00 inversion ", "10:00 wind glyphosate", "11:00 wind glyphosate", "11:00 wind oil", "12:00 rain ",
	}, got)
}

// TestAllFaultsAtOnce has a slip in every table: each is told, in one go.
func TestAllFaultsAtOnce(t *testing.T) {
	in := smallDay()
	in.Settings.Split = "odd"
	in.Products[1].Form = "DF"
	in.Stock[0].Container = "barrel"
	in.Deliveries = []model.DeliveryRow{{Product: "oi", Container: "jug", Size: dec("2.5"), Count: dec("1")}}
	in.Mixes[0].GPA = dec("-15")
	in.Recipes[0].Unit = "%"
	in.Settings.Pad.Bays[0].LastMix = "soy"
	in.Sprayers[0].TankGal = dec("-1")
	in.Rules = []model.RuleRow{{Where: "pipe"}}
	in.Jobs[0].Acres = 0
	in.Holds = []model.HoldRow{{Kind: "hail", To: 1}}
	in.Forecast = []model.ForecastRow{{}}
	_, report := model.NewProblem(in)
	var tables []model.Table
	for _, f := range report.Errors {
		tables = append(tables, f.Table)
	}
	assert.Equal(t, []model.Table{
		"day", "products", "stock", "deliveries", "mixes", "recipes", "day", "sprayers", "rules", "jobs", "holds", "forecast",
	}, tables)
}
