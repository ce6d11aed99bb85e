package outside

import (
	"fmt"

	"padturn/model"
)

// Clockwork is a pad whose sprayers are all alike: each wants Turns loads of
// Fill minutes at any bay, and is back Away minutes after it has left. All are
// there at the opening. Only waiting costs, a dollar a minute.
type Clockwork struct {
	Sprayers, Bays, Turns int
	Fill, Away            int // minutes
}

// Day says it as a day.
func (c *Clockwork) Day() model.Input {
	in := bareDay()
	in.Settings.Costs.WaitPerH = model.WholeDecimal(60)
	in.Settings.Pad.BagSec = model.WholeDecimal(int64(60 * c.Fill)) // a bag a load
	addBays(&in, c.Bays, 0)
	addBags(&in, "powder", c.Away)
	addMix(&in, "mix", model.One, "powder")
	for s := range c.Sprayers {
		name := fmt.Sprintf("sprayer %d", s+1)
		addSprayer(&in, name, c.Away, 60) // a gallon is an acre is a minute
		addJob(&in, jobName(s), name, "mix", model.WholeDecimal(int64(c.Away*c.Turns)))
	}
	return in
}

// FirstComeWait returns the minutes that all sprayers wait together when the
// one that is back first is filled first. Each bay serves the same share of the
// sprayers. In the first turn they queue up; from then on they come in the same
// order, and each waits what the others' fillings take longer than its own round.
// It holds where Bays divides Sprayers.
func (c *Clockwork) FirstComeWait() int {
	share := c.Sprayers / c.Bays
	queue := c.Bays * c.Fill * share * (share - 1) / 2
	later := max(share*c.Fill-(c.Fill+c.Away), 0)
	return queue + (c.Turns-1)*c.Sprayers*later
}
