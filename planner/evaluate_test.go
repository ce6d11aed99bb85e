package planner

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
)

// In plainDay a load of 90 ac takes 900 gal of spray, 810 of them carrier, so
// 1 + 8.1 = 9.1 min to fill; it comes back 10 + 90 + 10 = 110 min later.
// An acre takes 9 gal of carrier and 1 gal of product.

func TestTwoSprayersAtOneBay(t *testing.T) {
	in := plainDay()
	addJob(&in, "J1", "S1", "mix A", 90)
	addJob(&in, "J2", "S2", "mix A", 50)
	plan := evaluateInFileOrder(t, problem(t, in), Slot{0, 0}, Slot{1, 0})
	require.Len(t, plan.Loads, 2)

	first, second := plan.Loads[0], plan.Loads[1]
	assert.Equal(t, at(0), first.SetupStart)
	assert.Equal(t, at(5), first.Start, "A goes on the empty connection in 5 min")
	assert.Equal(t, at(5)+546, first.End, "9.1 min are 546 s")
	assert.Equal(t, first.End+110*minute, first.BackAt)
	assert.Equal(t, model.Seconds(5*60), first.Wait, "a set-up is paid like any waiting")
	assert.Equal(t, first.End, second.Start, "the bay is free, A is on, same mix")
	assert.Equal(t, second.Start-at(0), model.Clock(second.Wait))
	assert.Equal(t, second.Start+60+270, second.End, "1 min and 450 gal of carrier")
	// 5 min and 14.1 min of waiting at a dollar a minute.
	assert.InDelta(t, 19.1, plan.Cost.Total().Dollars(), 1e-9)
}

func TestRinseAndChangeoverWhileTheBayWaits(t *testing.T) {
	in := plainDay()
	in.Rules = []model.RuleRow{{Where: "manifold", After: "A", Before: "*", Level: "flush"}}
	in.Settings.Costs.CrewPerH, in.Settings.Costs.RinsatePerGal, in.Settings.Costs.Changeover = dec(30), dec(0.5), dec(7)
	addJob(&in, "J1", "S1", "mix A", 90)
	addJob(&in, "J2", "S1", "mix B", 90)
	plan := evaluateInFileOrder(t, problem(t, in), Slot{0, 0}, Slot{0, 0})

	second := plan.Loads[1]
	assert.Equal(t, plan.Loads[0].End, second.SetupStart, "set-up starts when the bay is free")
	assert.Equal(t, plan.Loads[0].BackAt, second.Start)
	assert.Zero(t, second.Wait, "7 min of set-up fit into the turn")
	assert.Equal(t, 0, second.Rinse)
	require.Len(t, plan.Changes, 2)
	assert.Equal(t, second.SetupStart+2*minute, plan.Changes[1].At, "the rinse comes first")
	assert.InDelta(t, 5, plan.Cost.Money[model.CostWait].Dollars(), 1e-9, "the first set-up")
	assert.InDelta(t, 1, plan.Cost.Money[model.CostRinse].Dollars(), 1e-9, "2 min at $30 an hour")
	assert.InDelta(t, 5, plan.Cost.Money[model.CostRinsate].Dollars(), 1e-9, "10 gal")
	assert.InDelta(t, 14, plan.Cost.Money[model.CostChangeover].Dollars(), 1e-9)
}

func TestCleanoutLooksBackPastLighterOnes(t *testing.T) {
	in := plainDay()
	in.Rules = []model.RuleRow{
		{Where: "sprayer", After: "A", Before: "B", Level: "light"},
		{Where: "sprayer", After: "A", Before: "C", Level: "full"},
	}
	addJob(&in, "J1", "S1", "mix A", 50)
	addJob(&in, "J2", "S1", "mix B", 50)
	addJob(&in, "J3", "S1", "mix C", 50)
	addJob(&in, "J4", "S1", "mix B", 50)
	plan := evaluateInFileOrder(t, problem(t, in), Slot{0, 0}, Slot{0, 0}, Slot{0, 0}, Slot{0, 0})
	var levels []int
	for _, l := range plan.Loads {
		levels = append(levels, l.Cleanout)
	}
	assert.Equal(t, []int{model.None, 0, 1, model.None}, levels,
		"the light cleanout does not clear A for C; the full one clears it for B too")
	assert.Equal(t, plan.Loads[1].BackAt+30*minute, plan.Loads[2].Ready)
}

func TestHoldPausesSprayingAndTankLifeDelaysTheStart(t *testing.T) {
	in := plainDay()
	in.Holds = []model.HoldRow{{From: at(30), To: at(90), Kind: "rain"}}
	addJob(&in, "J1", "S1", "mix A", 90)
	plan := evaluateInFileOrder(t, problem(t, in), Slot{0, 0})
	l := plan.Loads[0]
	assert.Equal(t, at(5), l.Start)
	// There at 06:24:06; 5 min 54 s sprayed, 60 min paused, the rest after.
	assert.Equal(t, l.End+(10+90+60)*minute, l.SprayedAt[0])

	// Filling, driving and spraying take 109.1 min; with 110 min of tank life
	// no pause fits, so the sprayer is held until it arrives as the rain ends.
	in.Products[0].TankLifeH = model.Some(dec(110.0 / 60))
	l = evaluateInFileOrder(t, problem(t, in), Slot{0, 0}).Loads[0]
	assert.LessOrEqual(t, l.SprayedAt[0]-l.Start, 110*minute)
	assert.Equal(t, at(90)+90*minute, l.SprayedAt[0], "it waits no longer than it must")
	assert.Zero(t, l.Wait)
	assert.Equal(t, l.Start-at(0), model.Clock(l.Held))
}

func TestTotesRunDryAndWaitForDeliveries(t *testing.T) {
	in := plainDay()
	in.Stock[0] = model.StockRow{Product: "A", Container: "tote", Size: dec(100), Full: dec(1), Open: model.Some(dec(40))}
	in.Deliveries = []model.DeliveryRow{{At: at(300), Product: "A", Container: "tote", Size: dec(100), Count: dec(1)}}
	addJob(&in, "J1", "S1", "mix A", 90)
	addJob(&in, "J2", "S2", "mix A", 60)
	plan := evaluateInFileOrder(t, problem(t, in), Slot{0, 0}, Slot{1, 0})

	first, second := plan.Loads[0], plan.Loads[1]
	assert.Equal(t, 2, first.Changeovers, "the opened tote in set-up, a fresh one inside")
	assert.Equal(t, at(5)+model.Clock(546), first.End, "5 min of changing hide behind 8.1 min of carrier")
	assert.Equal(t, at(300), second.Start, "50 gal are left of the 60 it needs")
	assert.Equal(t, 1, second.Changeovers)
	inside := 0
	for _, c := range plan.Changes {
		if c.Inside {
			inside++
			assert.Equal(t, c.Off, c.On)
		}
	}
	assert.Equal(t, 2, inside)
}

// A bay that waits for the only tote takes it when another bay lets go of it,
// not at the next delivery.
func TestToteIsTakenWhenAnotherBayLetsGo(t *testing.T) {
	in := plainDay()
	in.Settings.Pad.Bays = append(in.Settings.Pad.Bays, model.BaySettings{Name: "south", Connections: 1, Carriers: []string{model.Water}})
	in.Stock[0] = model.StockRow{Product: "A", Container: "tote", Size: dec(500), Full: dec(1)}
	in.Deliveries = []model.DeliveryRow{{At: at(600), Product: "A", Container: "tote", Size: dec(500), Count: dec(1)}}
	addJob(&in, "J1", "S1", "mix A", 90)
	addJob(&in, "J2", "S1", "mix B", 90)
	addJob(&in, "J3", "S2", "mix A", 90)
	plan := evaluateInFileOrder(t, problem(t, in), Slot{0, 0}, Slot{1, 1}, Slot{0, 0})
	north := plan.Loads[0]
	var south model.PlannedLoad
	for _, l := range plan.Loads {
		if l.Bay == 1 {
			south = l
		}
	}
	assert.Equal(t, north.End+5*minute, south.SetupStart, "A is off north when B's changeover ends")
}

func TestWaterRefills(t *testing.T) {
	in := plainDay()
	in.Settings.Pad.Water = &model.WaterSettings{OnHandGal: dec(900), CapacityGal: dec(1000), RefillGpm: dec(10)}
	addJob(&in, "J1", "S1", "mix A", 90)
	addJob(&in, "J2", "S2", "mix A", 90)
	plan := evaluateInFileOrder(t, problem(t, in), Slot{0, 0}, Slot{1, 0})
	// Of 900 gal at 06:00 and 50 more, 810 go at 06:05 and 140 are left, so the
	// next 810 are there 67 min later.
	assert.Equal(t, at(5), plan.Loads[0].Start)
	assert.Equal(t, at(5+67), plan.Loads[1].Start)
	last := plan.Water[len(plan.Water)-1]
	assert.Equal(t, model.Decimal(0), *last.Water)
}

func TestWhyLoadsAreLeftOut(t *testing.T) {
	tests := []struct {
		name   string
		change func(in *model.Input)
		want   string
	}{
		{"pad closes", func(in *model.Input) { in.Settings.Pad.Closes = at(10) }, "can't be filled by 06:10"},
		{"dark", func(in *model.Input) { in.Settings.SprayUntil = at(100) }, "can't be sprayed out by 07:40"},
		{"sprayer leaves", func(in *model.Input) { in.Sprayers[0].AvailableUntil = model.Some(at(100)) }, "sprayer S1 can't be back by 07:40"},
		{"stock", func(in *model.Input) { in.Stock[0].Size = dec(80) }, "short of A: a load needs 90.0 gal, 80.0 left"},
		{"a delivery that is too late", func(in *model.Input) {
			in.Stock[0].Size, in.Settings.Pad.Closes = dec(80), at(500)
			in.Deliveries = []model.DeliveryRow{{At: at(501), Product: "A", Container: "bulk", Size: dec(80), Count: dec(1)}}
		}, "short of A: the jobs need 90.0 gal, 80.0 are there before the pad closes at 14:20, and the planned loads take 0.0"},
		{"water", func(in *model.Input) {
			in.Settings.Pad.Water = &model.WaterSettings{CapacityGal: dec(500), RefillGpm: dec(10)}
		}, "does not have the water"},
		{"tank life", func(in *model.Input) { in.Products[0].TankLifeH = model.Some(dec(1)) }, "within its tank life"},
		{"no connection", func(in *model.Input) { in.Settings.Pad.Bays[0].Connections = 0 }, "no bay has water as carrier"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			in := plainDay()
			addJob(&in, "J1", "S1", "mix A", 90)
			tt.change(&in)
			plan := evaluateInFileOrder(t, problem(t, in), Slot{0, 0})
			require.Len(t, plan.Unsprayed, 1)
			assert.Contains(t, plan.Unsprayed[0].Reason, tt.want)
			assert.Equal(t, dec(90), plan.Left)
			assert.Empty(t, plan.Changes, "no set-up for a load that is not filled")
		})
	}
}

// Five jobs, six tools, three places: the least number of insertions is 4
// after a free first filling of 3 (the worked example of the public repository
// TangDenardo1988_UniformSSP_JuMP, rows 11001/10010/01110/10101/00110/00001).
func TestTakeOffFurthestFindsTheToolSwitchingOptimum(t *testing.T) {
	in := plainDay()
	in.Settings.Pad.Bays[0].Connections = 3
	in.Settings.Costs = model.CostSettings{Changeover: dec(1)}
	in.Products, in.Mixes, in.Recipes, in.Stock, in.Sprayers = nil, nil, nil, nil, nil
	rows := []string{"11001", "10010", "01110", "10101", "00110", "00001"}
	for tool := range rows {
		name := string(rune('a' + tool))
		in.Products = append(in.Products, model.ProductRow{Product: name, Form: "SL", Unit: "gal", Handling: "metered"})
		in.Stock = append(in.Stock, model.StockRow{Product: name, Container: "bulk", Size: dec(1000), Full: dec(1)})
	}
	for job := range 5 {
		name := string(rune('1' + job))
		in.Mixes = append(in.Mixes, model.MixRow{Mix: name, GPA: dec(10)})
		in.Sprayers = append(in.Sprayers, model.SprayerRow{Sprayer: name, TankGal: dec(1000), AcPerH: model.Some(dec(60))})
		addJob(&in, name, name, name, 10)
		for tool, row := range rows {
			if row[job] == '1' {
				in.Recipes = append(in.Recipes, model.RecipeRow{Mix: name, Product: string(rune('a' + tool)), Rate: dec(1), Unit: "gal/ac"})
			}
		}
	}
	result, err := Plan(t.Context(), problem(t, in), Settings{Steps: 5000, Seed: 1})
	require.NoError(t, err)
	assert.InDelta(t, 4+3, result.Plan.Cost.Total().Dollars(), 1e-9)
}
