package outside

import (
	"fmt"

	"padturn/model"
)

// horizon is late enough for every instance: 100 days after the opening.
const horizon model.Clock = 100 * 86_400

// bareDay is a day on which nothing takes longer than it must and nothing
// costs: carrier runs at the fastest a pad may have, and the pad is open from
// midnight until the horizon. What an instance is about is put in afterwards.
func bareDay() model.Input {
	s := model.DefaultSettings()
	s.SprayFrom, s.SprayUntil = 0, horizon
	s.Pad = model.PadSettings{
		Opens: 0, Closes: horizon,
		CarrierGpm: model.WholeDecimal(10_000), MeterGpm: model.WholeDecimal(10_000),
		HopperLbPerMin: model.WholeDecimal(10_000),
	}
	s.RinseLevels, s.CleanoutLevels = nil, nil
	s.Costs = model.CostSettings{}
	return model.Input{Settings: s}
}

// addBays adds alike bays.
func addBays(in *model.Input, count, connections int) {
	for b := range count {
		in.Settings.Pad.Bays = append(in.Settings.Pad.Bays, model.BaySettings{
			Name: fmt.Sprintf("bay %d", b+1), Connections: connections, Carriers: []string{model.Water},
		})
	}
}

// addMetered adds a liquid that goes through a connection and never runs short.
func addMetered(in *model.Input, product string) {
	in.Products = append(in.Products, model.ProductRow{Product: product, Form: "SL", Unit: "gal", Handling: "metered"})
	in.Stock = append(in.Stock, model.StockRow{Product: product, Container: "bulk", Size: model.WholeDecimal(1_000_000), Full: model.One})
}

// addBags adds a dry product in bags of pack lb, which goes through the hopper
// and so touches no connection.
func addBags(in *model.Input, product string, pack int) {
	in.Products = append(in.Products, model.ProductRow{
		Product: product, Form: "WG", Unit: "lb", Handling: "hopper", Pack: model.Some(model.WholeDecimal(int64(pack))),
	})
	in.Stock = append(in.Stock, model.StockRow{Product: product, Container: "bulk", Size: model.WholeDecimal(1_000_000), Full: model.One})
}

// addMix adds a mix sprayed at gal/ac with a pound an acre of each dry product.
func addMix(in *model.Input, mix string, gpa model.Decimal, products ...string) {
	in.Mixes = append(in.Mixes, model.MixRow{Mix: mix, GPA: gpa})
	for _, p := range products {
		in.Recipes = append(in.Recipes, model.RecipeRow{Mix: mix, Product: p, Rate: model.One, Unit: "lb/ac"})
	}
}

// addJob adds a job whose field lies at the pad; a blank sprayer is any.
func addJob(in *model.Input, name, sprayer, mix string, acres model.Decimal) {
	in.Jobs = append(in.Jobs, model.JobRow{
		Job: name, Field: "field " + name, Sprayer: sprayer, Mix: mix, Acres: acres, DriveMin: model.Some(model.Decimal(0)),
	})
}

// addSprayer adds a sprayer.
func addSprayer(in *model.Input, name string, tankGal, acPerH int) *model.SprayerRow {
	in.Sprayers = append(in.Sprayers, model.SprayerRow{
		Sprayer: name, TankGal: model.WholeDecimal(int64(tankGal)), AcPerH: model.Some(model.WholeDecimal(int64(acPerH))),
	})
	return &in.Sprayers[len(in.Sprayers)-1]
}

// payMakespan makes the latest end of a load cost a dollar for each minute
// after the first: the pad closes a minute after it opens, and all else is
// overtime.
func payMakespan(in *model.Input) {
	in.Settings.Pad.Closes = makespanFree * 60
	in.Settings.Pad.OvertimeUntil = model.Some(horizon)
	in.Settings.Costs.OvertimePerH = model.WholeDecimal(60)
}

// makespanFree is how many minutes of a makespan payMakespan leaves unpaid.
const makespanFree = 1

// order returns the jobs of a bay's loads in the order they are filled.
func order(plan *model.Plan, bay int) []int {
	var jobs []int
	for i := range plan.Loads {
		if l := &plan.Loads[i]; l.Bay == bay {
			jobs = append(jobs, l.Parts[0].Job)
		}
	}
	return jobs
}

func total(list []int) int {
	sum := 0
	for _, n := range list {
		sum += n
	}
	return sum
}
