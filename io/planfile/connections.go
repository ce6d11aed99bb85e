package planfile

import (
	"fmt"
	"slices"

	"padturn/model"
)

// hookup is where a load draws a product.
type hookup struct {
	connection int // 0 is the first
	inside     bool
	fresh      int // totes changed inside the load
}

func (h hookup) how() string {
	text := fmt.Sprintf("metered, connection %d", h.connection+1)
	if h.inside {
		text += ", put on inside the load"
	}
	switch {
	case h.fresh == 1:
		text += ", fresh tote inside the load"
	case h.fresh > 1:
		text += fmt.Sprintf(", %d fresh totes inside the load", h.fresh)
	}
	return text
}

// connections replays the changeovers of every bay from the opening and says,
// for each load, where its bay has which product.
func (b builder) connections() []map[int]hookup {
	changes := make([][]model.Changeover, len(b.plan.Loads))
	for _, c := range b.plan.Changes {
		changes[c.Load] = append(changes[c.Load], c)
	}
	out := make([]map[int]hookup, len(b.plan.Loads))
	for bay := range b.p.Bays {
		on := b.opening(bay)
		resumed := b.plan.Resumed
		for _, load := range b.sequence(bay) {
			if resumed != nil && load >= resumed.Loads {
				// What hangs where is known again, whatever was reported before.
				on = slices.Clone(resumed.On[bay])
				changes[load] = slices.DeleteFunc(changes[load], func(c model.Changeover) bool { return c.At < resumed.At })
				resumed = nil
			}
			out[load] = replay(on, changes[load])
		}
	}
	return out
}

// opening says which product is on each connection when the pad opens: the
// plumbed ones first, then the hooked ones, in order.
func (b builder) opening(bay int) []int {
	at := &b.p.Bays[bay]
	on := slices.Concat(at.Plumbed, at.Hooked)
	for len(on) < at.Connections {
		on = append(on, model.None)
	}
	return on
}

// sequence lists a bay's loads in the order they are filled.
func (b builder) sequence(bay int) []int {
	var list []int
	for i := range b.plan.Loads {
		if b.plan.Loads[i].Bay == bay {
			list = append(list, i)
		}
	}
	slices.SortStableFunc(list, func(i, j int) int { return b.plan.Loads[i].Seq - b.plan.Loads[j].Seq })
	return list
}

// replay does a load's changeovers on the bay's connections and returns where each
// product was while the load was filled. A product that made room for another
// inside the load was drawn before that.
func replay(on []int, changes []model.Changeover) map[int]hookup {
	for _, c := range changes {
		if !c.Inside {
			on[c.Connection] = c.On
		}
	}
	where := map[int]hookup{} // looked up, never listed
	for connection, product := range on {
		where[product] = hookup{connection: connection}
	}
	for _, c := range changes {
		if !c.Inside {
			continue
		}
		on[c.Connection] = c.On
		h := where[c.On]
		h.connection = c.Connection
		if c.Off == c.On {
			h.fresh++
		} else {
			h.inside = true
		}
		where[c.On] = h
	}
	return where
}
