package planfile

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"

	"padturn/model"
)

// The samples are made by hand, so that these tests need no planner: their
// plans are there to be written down, not to be good.

func clock(t testing.TB, text string) model.Clock {
	t.Helper()
	at, err := model.ParseClock(text)
	require.NoError(t, err)
	return at
}

func dec(t testing.TB, text string) model.Decimal {
	t.Helper()
	d, err := model.ParseDecimal(text)
	require.NoError(t, err)
	return d
}

func unit(t testing.TB, name string) model.Unit {
	t.Helper()
	u, ok := model.FindUnit(name)
	require.True(t, ok, name)
	return u
}

func form(t testing.TB, code string) model.Formulation {
	t.Helper()
	f, ok := model.FindFormulation(code)
	require.True(t, ok, code)
	return f
}

// Products of the long day.
const (
	glyphosate = iota
	atrazine
	ams
	oil
	uan
	mesotrione
)

func longProblem(t testing.TB) *model.Problem {
	product := func(name, code, stock string, metered bool) model.Product {
		return model.Product{
			Name: name, Form: form(t, code), Unit: unit(t, stock), Metered: metered,
			TankLife: model.Seconds(model.Never),
		}
	}
	p := &model.Problem{Settings: model.DefaultSettings()}
	s := &p.Settings
	s.Date, s.SprayUntil = "2026-05-04", clock(t, "04:00:00+1")
	s.Pad.Closes, s.Pad.OvertimeUntil = clock(t, "22:00:00"), new(clock(t, "02:00:00+1"))
	s.Pad.Water = &model.WaterSettings{OnHandGal: dec(t, "2000"), CapacityGal: dec(t, "5000"), RefillGpm: dec(t, "20")}
	s.Pad.RinsateGal = new(dec(t, "300"))

	p.Products = []model.Product{
		glyphosate: product("glyphosate 5.4 SL", "SL", "gal", true),
		atrazine:   product("atrazine 4 SC", "SC", "gal", true),
		ams:        product("ammonium sulfate", "SG", "lb", false),
		oil:        product("Öl-Zusatz 農 (crop oil), 2.5 gal jugs", "SO", "gal", false),
		uan:        product("UAN 32", "SL", "lb", true),
		mesotrione: product("mesotrione 4 SC", "SC", "gal", true),
	}
	p.Products[glyphosate].ReorderAt = new(dec(t, "60"))
	p.Products[atrazine].Restricted, p.Products[atrazine].EPARegNo = true, "99999-12"
	p.Products[ams].Pack = new(dec(t, "51"))
	p.Products[oil].Pack = new(dec(t, "2.5"))
	p.Products[uan].Density, p.Products[uan].Bulk = new(dec(t, "11.06")), true
	p.Products[mesotrione].SignalWord, p.Products[mesotrione].PPE = "DANGER", "gloves; eyewear"
	tote := func(left string, opened bool) model.Container {
		return model.Container{Kind: "tote", Size: dec(t, "45"), Left: dec(t, left), Opened: opened}
	}
	p.Products[glyphosate].Containers = []model.Container{tote("10", true), tote("45", false), tote("45", false)}
	p.Products[oil].Containers = []model.Container{{Kind: "jug", Size: dec(t, "25"), Left: dec(t, "25")}}
	p.Products[oil].Density, p.Products[oil].RainfastH = new(dec(t, "7.5")), new(dec(t, "1"))
	p.Deliveries = []model.Delivery{{
		At: clock(t, "07:00:00"), Product: atrazine, Count: 1,
		Container: model.Container{Kind: "tote", Size: dec(t, "110"), Left: dec(t, "110")},
	}}
	p.Products[mesotrione].TankLife = 4 * 3600

	p.Mixes = []model.Mix{
		{Name: "burndown", GPA: dec(t, "15"), Carrier: model.None, Note: "½ rate near the creek", Recipe: []model.Ingredient{
			{Product: ams, Rate: dec(t, "8.5"), Written: "lb/100gal"},
			{Product: glyphosate, Rate: dec(t, "32"), Written: "floz/ac"},
			{Product: oil, Rate: dec(t, "1"), Written: "%v/v"},
		}},
		{Name: "corn pre, two-way residual", GPA: dec(t, "20"), Carrier: uan, Recipe: []model.Ingredient{
			{Product: atrazine, Rate: dec(t, "1.5"), Written: "qt/ac"},
			{Product: mesotrione, Rate: dec(t, "6"), Written: "floz/ac"},
		}},
	}
	job := func(name, field string, mix int, acres, crop string) model.Job {
		return model.Job{
			Name: name, Field: field, Sprayer: model.None, Mix: mix, Acres: dec(t, acres), GPA: p.Mixes[mix].GPA,
			Crop: crop, Due: model.Never, Priority: model.One,
		}
	}
	p.Jobs = []model.Job{
		job("J1", "Home 80", 0, "80", "soybean"),
		job("J2", "Creek", 0, "66.666666667", "soybean"),
		job("J3", "Nord 農", 1, "25", "corn"),
		job("J4", "Süd", 1, "15.5", "corn"),
		job("J5", "=far", 1, "120", "corn"),
	}
	p.Jobs[0].Sprayer, p.Jobs[0].Due = 0, clock(t, "12:00:00")
	p.Jobs[2].Customer, p.Jobs[2].Earliest = "K. Åberg", clock(t, "08:00:00")
	p.Jobs[2].Lat, p.Jobs[2].Lon = new(41.9203), new(-93.4572)
	p.Holds = []model.Hold{
		{From: clock(t, "13:00:00"), To: clock(t, "14:00:00"), Kind: "wind", Reason: "gusts",
			Scope: model.HoldScope{Sprayer: model.None, Bay: model.None, Group: "drifts"}},
		{From: clock(t, "10:00:00"), To: clock(t, "10:30:00"), Kind: "rain", Scope: model.HoldScope{Sprayer: model.None, Bay: model.None}},
	}

	sprayer := func(name string) model.Sprayer {
		return model.Sprayer{
			Name: name, TankGal: dec(t, "1200"), SecondsPerAcre: big.NewRat(60, 1), AvailableFrom: s.Pad.Opens,
			AvailableUntil: model.Never, LastMix: model.None,
		}
	}
	p.Sprayers = []model.Sprayer{sprayer("R1"), sprayer("R2"), sprayer("Flèche 農場 rouge à très longue rampe")}
	p.Bays = []model.Bay{
		{Name: "north", Connections: 2, Plumbed: []int{glyphosate}, Hooked: []int{atrazine}, LastMix: 0, Carriers: []int{model.None, uan}},
		{Name: "south", Connections: 2, LastMix: model.None, Carriers: []int{model.None, uan}},
	}
	return p
}

func longPlan(t testing.TB) *model.Plan {
	at := func(text string) model.Clock { return clock(t, text) }
	d := func(text string) model.Decimal { return dec(t, text) }
	burndown := func(gal string) model.Load {
		return model.Load{Sprayer: 0, Mix: 0, Gal: d(gal), Doses: []model.Dose{
			{Ingredient: 0, Product: ams, Amount: d("102")},
			{Ingredient: 1, Product: glyphosate, Amount: d("20"), Gal: d("20")},
			{Ingredient: 2, Product: oil, Amount: d("12.000000001"), Gal: d("12.000000001")},
		}, DriveOut: 600, DriveBack: 600}
	}
	pre := func(gal string) model.Load {
		return model.Load{Sprayer: 1, Mix: 1, Gal: d(gal), Doses: []model.Dose{
			{Ingredient: 0, Product: atrazine, Amount: d("15.1875"), Gal: d("15.1875")},
			{Ingredient: 1, Product: mesotrione, Amount: d("1.898437500"), Gal: d("1.8984375")},
		}, DriveOut: 900, DriveBack: 900}
	}
	first, second, third, fourth := burndown("1200"), pre("810"), burndown("1000"), pre("800")
	first.Run, first.Parts = []int{0}, []model.Part{{Job: 0, Acres: d("80"), Spray: 4800}}
	first.First, first.Carrier = d("600"), d("1167.999999999")
	second.Run, second.Parts = []int{2, 3}, []model.Part{{Job: 2, Acres: d("25"), Spray: 1500}, {Job: 3, Acres: d("15.5"), Spray: 930}}
	second.First, second.Carrier = d("405"), d("792.9140625")
	third.Sprayer, third.Run, third.Parts = 2, []int{1}, []model.Part{{Job: 1, Acres: d("66.666666667"), Spray: 4000}}
	third.First, third.Carrier = d("967.999999999"), d("967.999999999")
	fourth.Sprayer, fourth.Run, fourth.Parts = 0, []int{4}, []model.Part{{Job: 4, Acres: d("40"), Spray: 2400}}
	fourth.First, fourth.Carrier = d("400"), d("782.9140625")

	plan := &model.Plan{
		Loads: []model.PlannedLoad{
			{Load: first, ID: "R1-1", Bay: 0, Seq: 1, CleanoutFrom: at("06:00:00"), Ready: at("06:00:00"),
				SetupStart: at("06:00:00"), Start: at("06:00:00"), End: at("06:21:40"), BackAt: at("08:01:40"),
				SprayedAt: []model.Clock{at("07:51:40")}, Cleanout: model.None, Rinse: model.None},
			{Load: third, ID: "Flèche 農場 rouge à très longue rampe-1", Bay: 1, Seq: 1,
				CleanoutFrom: at("06:00:00"), Ready: at("06:00:00"),
				SetupStart: at("06:00:00"), Start: at("06:08:00"), End: at("06:40:00"), BackAt: at("08:06:40"),
				SprayedAt: []model.Clock{at("07:56:40")}, Wait: 480, Cleanout: model.None, Rinse: model.None, Changeovers: 2},
			{Load: second, ID: "R2-1", Bay: 0, Seq: 2, CleanoutFrom: at("06:00:00"), Ready: at("06:00:00"),
				SetupStart: at("06:21:40"), Start: at("07:30:00"), End: at("07:55:01"), BackAt: at("09:05:31"),
				SprayedAt: []model.Clock{at("08:35:01"), at("08:50:31")}, Wait: 1901, Held: 3499,
				Cleanout: model.None, Rinse: 1, Changeovers: 1},
			{Load: fourth, ID: "R1-2", Bay: 1, Seq: 2, CleanoutFrom: at("08:01:40"), Ready: at("09:31:40"),
				SetupStart: at("06:40:00"), Start: at("23:40:00"), End: at("00:05:10+1"), BackAt: at("01:15:10+1"),
				SprayedAt: []model.Clock{at("01:00:10+1")}, Wait: 50900, Cleanout: 2, Rinse: 0, Changeovers: 2},
		},
		Changes: []model.Changeover{
			{Bay: 1, Connection: 0, At: at("06:00:00"), Off: model.None, On: glyphosate, Load: 1},
			{Bay: 1, Connection: 0, At: at("06:20:00"), Off: glyphosate, On: glyphosate, Load: 1, Inside: true},
			{Bay: 1, Connection: 0, At: at("06:42:00"), Off: glyphosate, On: atrazine, Load: 3},
			{Bay: 1, Connection: 1, At: at("06:50:00"), Off: model.None, On: mesotrione, Load: 3},
			{Bay: 0, Connection: 1, At: at("07:40:00"), Off: atrazine, On: mesotrione, Load: 2, Inside: true},
		},
		Unsprayed: []model.Unsprayed{{Job: 4, Acres: d("80"), Reason: "no room before the pad closes at 02:00+1"}},
		Left:      d("80"),
		Warnings:  []string{"R1-2: rinsate 390 gal is over the tank's 300 gal"},
	}
	plan.Spans = longSpans(at)
	plan.Stock = longStock(at, d)
	plan.Water = []model.WaterEvent{
		{At: at("06:00:00"), Event: "opening", Water: new(d("2000")), Rinsate: 0},
		{At: at("06:00:00"), Event: "load R1-1", Water: new(d("832.000000001")), Rinsate: 0},
		{At: at("06:21:40"), Event: "rinse R2-1", Water: new(d("1225.333333334")), Rinsate: d("40")},
		{At: at("08:01:40"), Event: "cleanout R1-2", Water: new(d("2925.333333334")), Rinsate: d("340")},
	}
	plan.Cost.Amount[model.CostWait] = d("14.800277778")
	plan.Cost.Money[model.CostWait] = model.RatePerHour(d("250")).For(53281)
	plan.Cost.Amount[model.CostOvertime] = d("2.086111111")
	plan.Cost.Money[model.CostOvertime] = model.RatePerHour(d("102")).For(7510)
	plan.Cost.Amount[model.CostChangeover] = d("5")
	plan.Cost.Money[model.CostChangeover] = model.MoneyFromRat(big.NewRat(25, 1))
	return plan
}

func longSpans(at func(string) model.Clock) []model.Span {
	span := func(sprayer, load int, what model.SpanKind, from, to string) model.Span {
		return model.Span{Sprayer: sprayer, Load: load, What: what, From: at(from), To: at(to)}
	}
	return []model.Span{
		span(0, 0, model.SpanFill, "06:00:00", "06:21:40"),
		span(0, 0, model.SpanDrive, "06:21:40", "06:31:40"),
		span(0, 0, model.SpanSpray, "06:31:40", "07:51:40"),
		span(0, 0, model.SpanDrive, "07:51:40", "08:01:40"),
		span(0, 3, model.SpanCleanout, "08:01:40", "09:31:40"),
		span(0, 3, model.SpanWait, "09:31:40", "23:40:00"),
		span(0, 3, model.SpanFill, "23:40:00", "00:05:10+1"),
		span(0, 3, model.SpanDrive, "00:05:10+1", "00:20:10+1"),
		span(0, 3, model.SpanSpray, "00:20:10+1", "01:00:10+1"),
		span(0, 3, model.SpanDrive, "01:00:10+1", "01:15:10+1"),
		span(1, 2, model.SpanHeld, "06:00:00", "06:58:19"),
		span(1, 2, model.SpanWait, "06:58:19", "07:30:00"),
		span(1, 2, model.SpanFill, "07:30:00", "07:55:01"),
		span(1, 2, model.SpanDrive, "07:55:01", "08:10:01"),
		span(1, 2, model.SpanSpray, "08:10:01", "08:35:01"),
		span(1, 2, model.SpanSpray, "08:35:01", "08:50:31"),
		span(1, 2, model.SpanDrive, "08:50:31", "09:05:31"),
		span(2, 1, model.SpanWait, "06:00:00", "06:08:00"),
		span(2, 1, model.SpanFill, "06:08:00", "06:40:00"),
		span(2, 1, model.SpanDrive, "06:40:00", "06:50:00"),
		span(2, 1, model.SpanSpray, "06:50:00", "07:56:40"),
		span(2, 1, model.SpanDrive, "07:56:40", "08:06:40"),
	}
}

func longStock(at func(string) model.Clock, d func(string) model.Decimal) []model.StockEvent {
	return []model.StockEvent{
		{Product: glyphosate, At: at("06:00:00"), Event: "opening", Change: d("90"), Level: d("90")},
		{Product: glyphosate, At: at("06:00:00"), Event: "load R1-1", Change: -d("20"), Level: d("70")},
		{Product: glyphosate, At: at("06:08:00"), Event: "load Flèche 農場 rouge à très longue rampe-1", Change: -d("20"), Level: d("50"), Low: true},
		{Product: atrazine, At: at("06:00:00"), Event: "opening", Change: d("10"), Level: d("10")},
		{Product: atrazine, At: at("07:00:00"), Event: "delivery", Change: d("110"), Level: d("120")},
		{Product: atrazine, At: at("07:30:00"), Event: "load R2-1", Change: -d("15.1875"), Level: d("104.8125")},
		{Product: atrazine, At: at("23:40:00"), Event: "load R1-2", Change: -d("15.1875"), Level: d("89.625")},
		{Product: ams, At: at("06:00:00"), Event: "opening", Change: d("1020"), Level: d("1020")},
		{Product: ams, At: at("06:00:00"), Event: "load R1-1", Change: -d("102"), Level: d("918")},
	}
}

// longDay has a rinse, a cleanout, changeovers before and inside a load, a
// carrier kept by weight, work left undone, overtime past midnight, names from
// other alphabets, and a bound.
func longDay(t testing.TB) (*model.Problem, *model.Result) {
	baseline := longPlan(t)
	baseline.Cost.Money[model.CostWait] += model.RatePerHour(model.WholeDecimal(250)).For(7200)
	baseline.Cost.Amount[model.CostWait] += model.WholeDecimal(2)
	baseline.Loads[2].Wait += 7200
	return longProblem(t), &model.Result{
		Plan: longPlan(t), Baseline: baseline,
		Bound:  model.MoneyFromRat(big.NewRat(3600, 1)),
		Status: model.StatusBounded, Steps: 200_000, Seed: 18446744073709551615, Effort: "normal",
	}
}

// shortDay is one load of water alone, printed in metric units and proved.
func shortDay(t testing.TB) (*model.Problem, *model.Result) {
	p := &model.Problem{Settings: model.DefaultSettings()}
	p.Settings.Units = "metric"
	p.Mixes = []model.Mix{{Name: "water only", GPA: dec(t, "10"), Carrier: model.None}}
	p.Jobs = []model.Job{{
		Name: "1", Field: "Feld", Sprayer: 0, Mix: 0, Acres: dec(t, "40"), GPA: dec(t, "10"),
		Due: model.Never, Priority: model.One,
	}}
	p.Sprayers = []model.Sprayer{{
		Name: "S", TankGal: dec(t, "1000"), AvailableFrom: clock(t, "06:00:00"), AvailableUntil: clock(t, "20:00:00"),
		LastMix: 0,
	}}
	p.Bays = []model.Bay{{Name: "bay 1", Connections: 3, LastMix: 0, Carriers: []int{model.None}}}

	six, out, there, sprayed, back := clock(t, "06:00:00"), clock(t, "06:09:00"), clock(t, "06:20:00"),
		clock(t, "07:00:00"), clock(t, "07:11:00")
	plan := &model.Plan{
		Loads: []model.PlannedLoad{{
			Load: model.Load{
				Gal: dec(t, "400"), Carrier: dec(t, "400"), First: dec(t, "200"),
				Run: []int{0}, Parts: []model.Part{{Acres: dec(t, "40"), Spray: 2400}}, DriveOut: 660, DriveBack: 660,
			},
			ID: "S-1", Seq: 1, CleanoutFrom: six, Ready: six, SetupStart: six, Start: six, End: out, BackAt: back,
			SprayedAt: []model.Clock{sprayed}, Cleanout: model.None, Rinse: model.None,
		}},
		Spans: []model.Span{
			{What: model.SpanFill, From: six, To: out}, {What: model.SpanDrive, From: out, To: there},
			{What: model.SpanSpray, From: there, To: sprayed}, {What: model.SpanDrive, From: sprayed, To: back},
		},
		Water: []model.WaterEvent{{At: six, Event: "opening"}, {At: six, Event: "load S-1"}},
	}
	plan.Cost.Amount[model.CostTimeliness] = dec(t, "40")
	plan.Cost.Money[model.CostTimeliness] = model.MoneyFromRat(big.NewRat(2, 5))
	return p, &model.Result{
		Plan: plan, Baseline: plan, Bound: plan.Cost.Total(),
		Status: model.StatusProved, Steps: 1, Seed: 1, Effort: "quick",
	}
}

// emptyDay is a day on which nothing could be sprayed.
func emptyDay(t testing.TB) (*model.Problem, *model.Result) {
	p, r := shortDay(t)
	p.Settings.Units = "us"
	r.Plan = &model.Plan{
		Unsprayed: []model.Unsprayed{{Job: 0, Acres: dec(t, "40"), Reason: "rain from 06:00 to 21:00"}},
		Left:      dec(t, "40"),
	}
	r.Baseline, r.Bound, r.Status = r.Plan, 0, model.StatusInterrupted
	return p, r
}

var samples = []struct {
	name string
	day  func(testing.TB) (*model.Problem, *model.Result)
}{
	{"long", longDay},
	{"short", shortDay},
	{"empty", emptyDay},
}

func build(t testing.TB, day func(testing.TB) (*model.Problem, *model.Result)) *Document {
	t.Helper()
	d, err := Build(day(t))
	require.NoError(t, err)
	return d
}
