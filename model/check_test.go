package model_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/model"
)

// told writes faults with the row's index for the line.
func told(faults []model.Fault) []string {
	var lines []string
	for _, f := range faults {
		place := string(f.Table)
		if f.Row >= 0 {
			place = fmt.Sprintf("%s[%d]", f.Table, f.Row)
		}
		lines = append(lines, fmt.Sprintf("%s.%s %q: %s", place, f.Column, f.Value, f.Want))
	}
	return lines
}

// faultRow is an edit of the small day, and all errors that must be told of it.
type faultRow struct {
	name string
	edit func(*model.Input)
	want []string
}

func checkFaults(t *testing.T, rows []faultRow) {
	t.Helper()
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			in := smallDay()
			row.edit(&in)
			_, report := model.NewProblem(in)
			assert.Equal(t, row.want, told(report.Errors))
			assert.Equal(t, len(row.want) == 0, report.OK())
		})
	}
}

func TestSmallDayIsSound(t *testing.T) {
	p, report := model.NewProblem(smallDay())
	assert.True(t, report.OK())
	assert.Empty(t, told(report.Errors))
	assert.Empty(t, told(report.Warnings))
	assert.Len(t, p.Jobs, 1)
}

func TestFaultsOfSettings(t *testing.T) {
	checkFaults(t, []faultRow{
		{"date", func(in *model.Input) { in.Settings.Date = "2026-02-30" }, []string{`day.date "2026-02-30": expected a date such as 2026-05-04`}},
		{"units", func(in *model.Input) { in.Settings.Units = "usa" }, []string{`day.units "usa": expected us or metric; did you mean "us"?`}},
		{"split", func(in *model.Input) { in.Settings.Split = "evn" }, []string{`day.split "evn": expected even or full_first; did you mean "even"?`}},
		{"adding order", func(in *model.Input) { in.Settings.AddingOrder = "dry-sc-sl-ce" },
			[]string{`day.adding_order "dry-sc-sl-ce": expected dry-sc-sl-ec, soluble-dry-sc-ec-sl or dry-cs-ec-sl-soluble; did you mean "dry-sc-sl-ec"?`}},
		{"spraying hours", func(in *model.Input) { in.Settings.SprayUntil = clock("05:00") }, []string{`day.spray_until "05:00": must be later than spray_from (06:00)`}},
		{"opening hours", func(in *model.Input) { in.Settings.Pad.Closes = clock("06:00") }, []string{`day.pad.closes "06:00": must be later than pad.opens (06:00)`}},
		{"overtime before closing", func(in *model.Input) { in.Settings.Pad.OvertimeUntil = model.Some(clock("18:00")) },
			[]string{`day.pad.overtime_until "18:00": must not be earlier than pad.closes (19:00)`}},
		{"half a place", func(in *model.Input) { in.Settings.Pad.Lat = model.Some(42.0) }, []string{`day.pad.lat "": lat and lon go together`}},
		{"no bay", func(in *model.Input) { in.Settings.Pad.Bays = nil }, []string{`day.pad.bays "": at least one bay is needed`,
			`jobs[0].mix "corn": needs water as carrier; no bay in day.yaml has it among its carriers`}},
		{"bays of one name", func(in *model.Input) {
			in.Settings.Pad.Bays = []model.BaySettings{model.DefaultBay(), model.DefaultBay()}
		}, []string{`day.pad.bays[1].name "bay 1": stands twice; each name may be used once`}},
		{"still carrier", func(in *model.Input) { in.Settings.Pad.CarrierGpm = 0 }, []string{`day.pad.carrier_gpm "0": expected more than 0 and at most 10000 gal/min`}},
		{"still meter", func(in *model.Input) { in.Settings.Pad.MeterGpm = 0 }, []string{`day.pad.meter_gpm "0": expected more than 0 and at most 10000 gal/min`}},
		{"still hopper", func(in *model.Input) { in.Settings.Pad.HopperLbPerMin = 0 }, []string{`day.pad.hopper_lb_per_min "0": expected more than 0 and at most 10000 lb/min`}},
		{"per cent for a share", func(in *model.Input) { in.Settings.Pad.CarrierFirst = dec("50") }, []string{`day.pad.carrier_first "50": expected at least 0 and at most 1 (a share)`}},
		{"negative minutes", func(in *model.Input) { in.Settings.Pad.HookupMin = dec("-1") }, []string{`day.pad.hookup_min "-1": expected at least 0 and at most 1440 minutes`}},
		{"negative seconds", func(in *model.Input) { in.Settings.Pad.JugSec = dec("-1") }, []string{`day.pad.jug_sec "-1": expected at least 0 and at most 3600 seconds`}},
		{"negative gallons", func(in *model.Input) { in.Settings.Pad.PushGal = dec("-1") }, []string{`day.pad.push_gal "-1": expected at least 0 and at most 10000000 gal`}},
		{"negative dollars", func(in *model.Input) { in.Settings.Costs.WaitPerH = dec("-1") }, []string{`day.costs.wait_per_h "-1": expected at least 0 and at most 100000 dollars`}},
		{"more water than fits", func(in *model.Input) {
			in.Settings.Pad.Water = &model.WaterSettings{OnHandGal: dec("5000"), CapacityGal: dec("4000")}
		}, []string{`day.pad.water.on_hand_gal "5000": is more than capacity_gal (4000)`}},
		{"levels of one name", func(in *model.Input) { in.Settings.RinseLevels[1].Name = "flush" },
			[]string{`day.rinse_levels[1].name "flush": stands twice; each name may be used once`}},
		{"level of no name", func(in *model.Input) { in.Settings.CleanoutLevels[0].Name = "" }, []string{`day.cleanout_levels[0].name "": a name is required`}},
		{"endless level", func(in *model.Input) { in.Settings.CleanoutLevels[2].Min = dec("1441") },
			[]string{`day.cleanout_levels[2].min "1441": expected at least 0 and at most 1440 minutes`}},
	})
}

func TestFaultsOfBays(t *testing.T) {
	bay := func(change func(b *model.BaySettings)) func(in *model.Input) {
		return func(in *model.Input) { change(&in.Settings.Pad.Bays[0]) }
	}
	checkFaults(t, []faultRow{
		{"negative connections", bay(func(b *model.BaySettings) { b.Connections = -1 }), []string{`day.pad.bays[0].connections "-1": expected 0 to 100`,
			`day.pad.bays[0].connections "-1": is too few connections: 0 products are plumbed or hooked up`}},
		{"one on none", bay(func(b *model.BaySettings) { b.Connections, b.Plumbed = 0, []string{"glyphosate"} }),
			[]string{`day.pad.bays[0].connections "0": is too few connections: 1 product is plumbed or hooked up`}},
		{"not a product", bay(func(b *model.BaySettings) { b.Hooked = []string{"glifosate"} }),
			[]string{`day.pad.bays[0].hooked[0] "glifosate": is not in products.csv; did you mean "glyphosate"?`}},
		{"a hopper product", bay(func(b *model.BaySettings) { b.Plumbed = []string{"oil"} }),
			[]string{`day.pad.bays[0].plumbed[0] "oil": goes through the hopper; only metered products are on connections`}},
		{"twice on a bay", bay(func(b *model.BaySettings) { b.Plumbed, b.Hooked = []string{"glyphosate"}, []string{"glyphosate"} }),
			[]string{`day.pad.bays[0].hooked[0] "glyphosate": is on this bay already; a product is on at most one connection of a bay`}},
		{"last mix", bay(func(b *model.BaySettings) { b.LastMix = "korn" }), []string{`day.pad.bays[0].last_mix "korn": is not in mixes.csv; did you mean "corn"?`}},
		{"carrier", bay(func(b *model.BaySettings) { b.Carriers = []string{"water", "uan"} }), []string{`day.pad.bays[0].carriers[1] "uan": is not in products.csv`}},
		{"no carrier for the mix", bay(func(b *model.BaySettings) { b.Carriers = []string{"glyphosate"} }),
			[]string{`jobs[0].mix "corn": needs water as carrier; no bay in day.yaml has it among its carriers`}},
		{"more bays than totes", func(in *model.Input) {
			in.Stock[0].Full = dec("1")
			for i := range 2 {
				b := model.DefaultBay()
				b.Name, b.Hooked = fmt.Sprint("bay ", i+1), []string{"glyphosate"}
				in.Settings.Pad.Bays = append(in.Settings.Pad.Bays[:i], b)
			}
		}, []string{`day.pad.bays[1].hooked "glyphosate": is on 2 bays at the opening, but stock.csv has 1 container of it`}},
	})
}

func TestFaultsOfProducts(t *testing.T) {
	product := func(i int, change func(r *model.ProductRow)) func(in *model.Input) {
		return func(in *model.Input) { change(&in.Products[i]) }
	}
	checkFaults(t, []faultRow{
		{"water", func(in *model.Input) {
			in.Products = append(in.Products, model.ProductRow{Product: "water", Form: "SL", Unit: "gal", Handling: "metered"})
		}, []string{`products[3].product "water": is the plain carrier and needs no row here`}},
		{"twice", func(in *model.Input) { in.Products = append(in.Products, in.Products[0]) },
			[]string{`products[3].product "glyphosate": stands twice; each name may be used once`}},
		{"form", product(2, func(r *model.ProductRow) { r.Form = "XX" }),
			[]string{`products[2].form "XX": expected a two-letter formulation code: ` + strings.Join(model.FormulationCodes(), " ")}},
		{"unit", product(0, func(r *model.ProductRow) { r.Unit = "gals" }),
			[]string{`products[0].unit "gals": expected gal, qt, pt, floz, L, mL, lb, oz, kg or g; did you mean "gal"?`}},
		{"area as unit", product(0, func(r *model.ProductRow) { r.Unit = "ha" }),
			[]string{`products[0].unit "ha": expected gal, qt, pt, floz, L, mL, lb, oz, kg or g`}},
		{"handling, of a product on a connection", func(in *model.Input) {
			in.Products[0].Handling = "meter"
			in.Settings.Pad.Bays[0].Hooked = []string{"glyphosate"}
		}, []string{`products[0].handling "meter": expected metered or hopper; did you mean "metered"?`}},
		{"dry through a meter", product(1, func(r *model.ProductRow) { r.Handling = "metered" }),
			[]string{`products[1].handling "metered": does not suit a dry product (WG), which can't run through a meter; expected hopper`}},
		{"density", product(0, func(r *model.ProductRow) { r.DensityLbGal = some("113") }), []string{`products[0].density_lb_gal "113": expected at least 1 and at most 40 lb/gal`}},
		{"pack", product(2, func(r *model.ProductRow) { r.Pack = some("0") }), []string{`products[2].pack "0": expected more than 0 and at most 10000000 of the stock unit`}},
		{"reorder level", product(2, func(r *model.ProductRow) { r.ReorderAt = some("-1") }), []string{`products[2].reorder_at "-1": expected at least 0 and at most 10000000 of the stock unit`}},
		{"tank life", product(2, func(r *model.ProductRow) { r.TankLifeH = some("0") }), []string{`products[2].tank_life_h "0": expected more than 0 and at most 336 hours`}},
		{"rainfast", product(2, func(r *model.ProductRow) { r.RainfastH = some("-4") }), []string{`products[2].rainfast_h "-4": expected at least 0 and at most 336 hours`}},
		{"wind", product(2, func(r *model.ProductRow) { r.MaxWindMph = some("0") }), []string{`products[2].max_wind_mph "0": expected more than 0 and at most 100 mph`}},
	})
}

func TestFaultsOfStock(t *testing.T) {
	stock := func(change func(r *model.StockRow)) func(in *model.Input) {
		return func(in *model.Input) { change(&in.Stock[0]) }
	}
	delivery := func(change func(r *model.DeliveryRow)) func(in *model.Input) {
		return func(in *model.Input) {
			r := model.DeliveryRow{At: clock("10:00"), Product: "glyphosate", Container: "tote", Size: dec("265"), Count: dec("1")}
			change(&r)
			in.Deliveries = append(in.Deliveries, r)
		}
	}
	checkFaults(t, []faultRow{
		{"unknown product", func(in *model.Input) { in.Stock[2].Product = "oli" }, []string{`stock[2].product "oli": is not in products.csv`}},
		{"kind, and the product counts as there", stock(func(r *model.StockRow) { r.Container = "totes" }),
			[]string{`stock[0].container "totes": expected bulk, tote, drum, jug or bag; did you mean "tote"?`}},
		{"size", stock(func(r *model.StockRow) { r.Size = 0 }), []string{`stock[0].size "0": expected more than 0 and at most 10000000 of the stock unit`}},
		{"half a tote", stock(func(r *model.StockRow) { r.Full = dec("1.5") }), []string{`stock[0].full "1.5": expected a whole number of containers`}},
		{"negative", stock(func(r *model.StockRow) { r.Full = dec("-1") }), []string{`stock[0].full "-1": expected at least 0 and at most 100000 containers`}},
		{"more open than fits", stock(func(r *model.StockRow) { r.Open = some("300") }), []string{`stock[0].open "300": expected at least 0 and at most 265 (the container's size)`}},
		{"more totes than can be told apart", stock(func(r *model.StockRow) { r.Full = dec("10001") }),
			[]string{`stock[0].full "10001": makes more than 10000 containers of glyphosate; give it as bulk`}},
		{"more than any pad has", stock(func(r *model.StockRow) { r.Container, r.Size, r.Full = "bulk", dec("10000000"), dec("101") }),
			[]string{`stock[0].full "101": makes more than 1000000000 of the stock unit in all`}},
		{"more needed than any pad has", func(in *model.Input) {
			in.Products[2].Unit, in.Products[2].Pack = "mL", some("1000")
			second := in.Jobs[0]
			in.Recipes[0].Rate = dec("10") // 1.5 gal/ac, 567,811,768 mL each job
			in.Jobs[0].Acres, second.Acres, second.Job = dec("100000"), dec("100000"), "J2"
			in.Jobs = append(in.Jobs, second, second)
			in.Jobs[2].Job = "J3"
		}, []string{`jobs[1].acres "100000": takes the day's need of oil above 1000000000 mL`}},
		{"none anywhere", func(in *model.Input) { in.Stock = in.Stock[1:] },
			[]string{`jobs[0].mix "corn": needs glyphosate, which is metered but on no connection, not in stock.csv and in no delivery`}},
		{"none anywhere but to come", func(in *model.Input) {
			in.Stock = in.Stock[1:]
			delivery(func(*model.DeliveryRow) {})(in)
		}, nil},
		{"delivery of what", delivery(func(r *model.DeliveryRow) { r.Product = "glyphosat" }),
			[]string{`deliveries[0].product "glyphosat": is not in products.csv; did you mean "glyphosate"?`}},
		{"delivery in what", delivery(func(r *model.DeliveryRow) { r.Container = "box" }), []string{`deliveries[0].container "box": expected bulk, tote, drum, jug or bag`}},
		{"half a delivery", delivery(func(r *model.DeliveryRow) { r.Count = dec("0.5") }), []string{`deliveries[0].count "0.5": expected a whole number of containers`}},
		{"delivery of too much", delivery(func(r *model.DeliveryRow) { r.Size, r.Count = dec("10000000"), dec("100") }),
			[]string{`deliveries[0].count "100": makes more than 1000000000 of the stock unit in all`}},
	})
}

// What follows from a fault that is told is not told as well, and what does not
// follow is.
func TestManyFaultsAreToldAtOnce(t *testing.T) {
	in := smallDay()
	in.Products[0].Unit = "galon"
	in.Mixes[0].Carrier = "uan"
	in.Recipes[2].Product = "atrazin"
	in.Stock[0].Container = "tot"
	in.Sprayers[0].Sprayer = "S9"
	in.Jobs[0].Acres = dec("-3")
	in.Rules = []model.RuleRow{{Where: "manifold", After: "mix:cron", Before: "@acid", Level: "wash"}}
	_, report := model.NewProblem(in)
	assert.Equal(t, []string{
		`products[0].unit "galon": expected gal, qt, pt, floz, L, mL, lb, oz, kg or g`,
		`stock[0].container "tot": expected bulk, tote, drum, jug or bag; did you mean "tote"?`,
		`mixes[0].carrier "uan": is not in products.csv`,
		`recipes[2].product "atrazin": is not in products.csv; did you mean "atrazine"?`,
		`rules[0].after "cron": is not in mixes.csv; did you mean "corn"?`,
		`rules[0].before "acid": is not in the groups of products.csv`,
		`jobs[0].acres "-3": expected more than 0 and at most 100000 acres`,
		`jobs[0].sprayer "S1": is not in sprayers.csv; did you mean "S9"?`,
	}, told(report.Errors))
}
