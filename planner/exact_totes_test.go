package planner

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/model"
)

// TestToteRunningDryMakesNobodyWait has a tote run dry inside the first load, which
// takes 20 minutes that nobody pays for; then the bay is another's until 07:01. Who is
// back from the first load waits for that from 06:52, and not from 06:32. That is what the
// plan costs, and no bound may be above it.
func TestToteRunningDryMakesNobodyWait(t *testing.T) {
	for _, bays := range []int{1, 2} {
		in := plainDay()
		pad := &in.Settings.Pad
		pad.ChangeoverMin = dec(20)
		pad.Bays[0].Connections, pad.Bays[0].Hooked = 2, []string{"A", "B"}
		if bays == 2 {
			pad.Bays = append(pad.Bays, model.BaySettings{Name: "south", Connections: 1, Carriers: []string{model.Water}})
			in.Holds = append(in.Holds, model.HoldRow{To: 24 * 3600, Kind: "other", Scope: "bay:south"})
		}
		in.Stock[0] = model.StockRow{Product: "A", Container: "tote", Size: dec(100), Full: dec(3), Open: model.Some(dec(5))}
		addJob(&in, "first", "S1", "mix A", 10)
		addJob(&in, "other", "S2", "mix B", 300)
		addJob(&in, "second", "S1", "mix A", 10)
		in.Settings.ShareMaxMin = 0
		in.Sprayers[1].TankGal, in.Sprayers[1].WaitPerH, in.Sprayers[1].AvailableFrom = dec(3000), model.Some(dec(600)), model.Some(at(30))
		day := newInstance(problem(t, in))
		plan := evaluateInFileOrder(t, day.p, Slot{0, 0}, Slot{1, 0}, Slot{0, 0})
		prices := newPricing(day, boundGraphs(newWorkshop(day), scope{inOrder: true}), fewestCells)
		newPriceSearch(prices).improve(t.Context(), 2*plan.Cost.Total(), 3000)
		assert.LessOrEqual(t, prices.bound, plan.Cost.Total(), "prices, %d bays", bays)
		p := newProver(newWorkshop(day), forBounds, scope{inOrder: true}, noWay/8, 1)
		for !p.done {
			p.pass(t.Context(), 1<<40)
		}
		assert.LessOrEqual(t, p.bound, plan.Cost.Total(), "%d bays", bays)
	}
}
