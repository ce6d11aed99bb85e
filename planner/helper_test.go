package planner

import (
	"testing"

	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner/scenario"
)

// dec makes whole and half numbers readable in tests.
func dec(x float64) model.Decimal { return model.Decimal(x * float64(model.One)) }

// plainDay is a day whose arithmetic is easy: one bay of one connection, a
// filling takes 1 min of hooking up and 1 min for each 100 gal of carrier,
// products go in at once and take no time, an acre takes a minute to spray,
// every field is 10 min from the pad, and only paid waiting costs: $60 an hour.
func plainDay() model.Input {
	s := model.DefaultSettings()
	s.SprayFrom, s.SprayUntil = 0, 24*3600
	s.Pad.Opens, s.Pad.Closes = 6*3600, 20*3600
	s.Pad.CarrierGpm, s.Pad.CarrierFirst = dec(100), dec(0)
	s.Pad.MeterGpm = dec(10_000)
	s.Pad.HookupMin, s.Pad.UnhookMin, s.Pad.PushMin = dec(1), dec(0), dec(0)
	s.Pad.SettleDryMin, s.Pad.SettleLiquidMin = dec(0), dec(0)
	s.Pad.ChangeoverMin = dec(5)
	s.Pad.Bays = []model.BaySettings{{Name: "north", Connections: 1, Carriers: []string{model.Water}}}
	s.RinseLevels = []model.LevelSettings{{Name: "flush", Min: dec(2), Gal: dec(10)}}
	s.CleanoutLevels = []model.LevelSettings{{Name: "light", Min: dec(10), Gal: dec(50)}, {Name: "full", Min: dec(30), Gal: dec(100)}}
	s.Costs = model.CostSettings{WaitPerH: dec(60)}
	in := model.Input{Settings: s}
	for _, name := range []string{"A", "B", "C"} {
		in.Products = append(in.Products, model.ProductRow{Product: name, Form: "SL", Unit: "gal", Handling: "metered", Groups: []string{"g" + name}})
		in.Mixes = append(in.Mixes, model.MixRow{Mix: "mix " + name, GPA: dec(10)})
		in.Recipes = append(in.Recipes, model.RecipeRow{Mix: "mix " + name, Product: name, Rate: dec(1), Unit: "gal/ac"})
		in.Stock = append(in.Stock, model.StockRow{Product: name, Container: "bulk", Size: dec(10_000), Full: dec(1)})
	}
	for _, name := range []string{"S1", "S2"} {
		in.Sprayers = append(in.Sprayers, model.SprayerRow{Sprayer: name, TankGal: dec(1000), AcPerH: model.Some(dec(60))})
	}
	return in
}

// addJob adds a job of 10 gal/ac.
func addJob(in *model.Input, name, sprayer, mix string, acres float64) *model.JobRow {
	in.Jobs = append(in.Jobs, model.JobRow{Job: name, Field: "field " + name, Sprayer: sprayer, Mix: mix, Acres: dec(acres), DriveMin: model.Some(dec(10))})
	return &in.Jobs[len(in.Jobs)-1]
}

func problem(t testing.TB, in model.Input) *model.Problem {
	t.Helper()
	p, report := model.NewProblem(in)
	require.Empty(t, report.Errors)
	return p
}

// evaluateInFileOrder gives each sprayer its jobs in file order, each a run of
// its own, and the loads to the bays as the slots say.
func evaluateInFileOrder(t testing.TB, p *model.Problem, slots ...Slot) *model.Plan {
	t.Helper()
	d := Decisions{Routes: make([][]Run, len(p.Sprayers)), Sequence: slots}
	for i, j := range p.Jobs {
		s := max(j.Sprayer, 0)
		d.Routes[s] = append(d.Routes[s], Run{i})
	}
	plan, err := Evaluate(p, d)
	require.NoError(t, err)
	return plan
}

// generated is a day of the benchmark family.
func generated(t testing.TB, shape scenario.Shape) *model.Problem {
	t.Helper()
	return problem(t, shape.Day(scenario.Busy, 1))
}

const minute model.Clock = 60

// at is a moment after 06:00, the opening of plainDay.
func at(minutes model.Clock) model.Clock { return 6*3600 + minutes*minute }
