package planner

import (
	"cmp"
	"math/big"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"padturn/model"
)

// splitDay is a day cut at a moment: what of its plan has begun, and the rest as
// an input of its own.
type splitDay struct {
	in    model.Input
	p     *model.Problem
	plan  *model.Plan
	at    model.Clock
	totes [][]container   // by product
	came  [][]model.Clock // by product and container: when it came to the pad
	on    [][]int         // by bay and connection: product
	hung  [][]int         // by bay and connection: container of the product
	used  [][]int         // by bay and connection: the bay's last load that drew from it
	done  []int           // by bay: loads begun
}

// split makes the rest of a day from at on. It plays the totes a second time, by
// the rules, so that what the evaluator did before at is not taken from it.
func split(t testing.TB, in model.Input, p *model.Problem, plan *model.Plan, at model.Clock) model.Input {
	s := &splitDay{in: in, p: p, plan: plan, at: at, totes: make([][]container, len(p.Products)), came: make([][]model.Clock, len(p.Products)), done: make([]int, len(p.Bays))}
	s.open()
	s.play(t)
	rest := in
	rest.Underway = &model.Underway{At: at}
	s.bays(&rest)
	s.sprayers(&rest)
	s.jobs(&rest)
	s.supplies(&rest)
	s.water(&rest)
	return rest
}

func (s *splitDay) begun(l *model.PlannedLoad) bool { return l.Start < s.at }

// open hangs up what hangs at the opening.
func (s *splitDay) open() {
	for i := range s.p.Products {
		for k, c := range s.p.Products[i].Containers {
			opened := neverOpened
			if c.Opened {
				opened = int32(k) - neverOpened
			}
			s.totes[i], s.came[i] = append(s.totes[i], container{left: c.Left, opened: opened}), append(s.came[i], 0)
		}
		for _, d := range s.p.Deliveries {
			for range d.Count {
				if d.Product == i && s.discrete(i) {
					s.totes[i] = append(s.totes[i], container{left: d.Container.Size, from: d.At, opened: neverOpened})
					s.came[i] = append(s.came[i], d.At)
				}
			}
		}
	}
	for b := range s.p.Bays {
		bay := &s.p.Bays[b]
		on := slices.Concat(bay.Plumbed, bay.Hooked)
		for len(on) < bay.Connections {
			on = append(on, model.None)
		}
		s.on, s.hung, s.used = append(s.on, on), append(s.hung, make([]int, len(on))), append(s.used, make([]int, len(on)))
		for c, product := range on {
			s.hung[b][c], s.used[b][c] = model.None, -1
			if product != model.None && s.discrete(product) {
				s.hang(b, c, product, 0)
			}
		}
	}
}

func (s *splitDay) discrete(product int) bool {
	return s.p.Products[product].Metered && !s.p.Products[product].Bulk
}

func (s *splitDay) hang(b, c, product int, at model.Clock) {
	s.on[b][c], s.hung[b][c] = product, model.None
	if s.discrete(product) {
		if k := nextContainer(s.totes[product], at); k >= 0 {
			s.hung[b][c] = k
			s.totes[product][k].onBay = true
		}
	}
}

func (s *splitDay) takeOff(b, c int, from model.Clock) {
	if product, k := s.on[b][c], s.hung[b][c]; k != model.None {
		s.totes[product][k].onBay = false
		s.totes[product][k].from = max(s.totes[product][k].from, from)
	}
}

// play does the set-up changeovers and loads that have begun, in time order.
func (s *splitDay) play(t testing.TB) {
	type event struct {
		at     model.Clock
		isLoad int
		do     func()
	}
	var list []event
	change := model.CeilMinutes(s.p.Settings.Pad.ChangeoverMin)
	for _, c := range s.plan.Changes {
		if !c.Inside && c.At < s.at {
			list = append(list, event{c.At, 0, func() {
				s.takeOff(c.Bay, c.Connection, c.At+model.Clock(change))
				s.hang(c.Bay, c.Connection, c.On, c.At)
				s.used[c.Bay][c.Connection] = s.done[c.Bay]
			}})
		}
	}
	opened := int32(0)
	for i := range s.plan.Loads {
		if l := &s.plan.Loads[i]; s.begun(l) {
			list = append(list, event{l.Start, 1, func() { s.draw(t, i, l, &opened) }})
		}
	}
	slices.SortStableFunc(list, func(x, y event) int { return cmp.Or(cmp.Compare(x.at, y.at), cmp.Compare(x.isLoad, y.isLoad)) })
	for _, e := range list {
		e.do()
	}
}

// draw draws a load, with the changeovers inside it.
func (s *splitDay) draw(t testing.TB, index int, l *model.PlannedLoad, opened *int32) {
	var inside []model.Changeover
	for _, c := range s.plan.Changes {
		if c.Inside && c.Load == index {
			inside = append(inside, c)
		}
	}
	next := func(product int) int {
		k := slices.IndexFunc(inside, func(c model.Changeover) bool { return c.On == product })
		require.GreaterOrEqual(t, k, 0, "a changeover inside %s", l.ID)
		c := inside[k].Connection
		inside = slices.Delete(inside, k, k+1)
		s.takeOff(l.Bay, c, l.End)
		s.hang(l.Bay, c, product, l.Start)
		return c
	}
	for _, d := range l.Doses {
		if !s.p.Products[d.Product].Metered {
			continue
		}
		c := slices.Index(s.on[l.Bay], d.Product)
		if c < 0 {
			c = next(d.Product)
		}
		s.used[l.Bay][c] = s.done[l.Bay]
		for rest := d.Amount; s.discrete(d.Product); {
			tote := &s.totes[d.Product][s.hung[l.Bay][c]]
			if tote.opened == neverOpened {
				tote.opened = *opened
				*opened++
			}
			taken := min(rest, tote.left)
			if tote.left -= taken; tote.left <= stockSlack {
				tote.left = 0
			}
			if rest -= taken; rest <= stockSlack {
				break
			}
			next(d.Product)
		}
	}
	s.done[l.Bay]++
}

func (s *splitDay) bays(rest *model.Input) {
	u := rest.Underway
	rest.Settings.Pad.Bays = slices.Clone(rest.Settings.Pad.Bays)
	for b := range s.p.Bays {
		set := &rest.Settings.Pad.Bays[b]
		state := model.BayUnderway{FreeFrom: s.p.Settings.Pad.Opens, Loads: s.done[b]}
		next := model.None
		for i := range s.plan.Loads {
			l := &s.plan.Loads[i]
			if l.Bay == b && s.begun(l) {
				state.FreeFrom, set.LastMix = l.End, s.p.Mixes[l.Mix].Name
			} else if l.Bay == b && (next == model.None || l.Seq < s.plan.Loads[next].Seq) {
				next = i
			}
		}
		if next != model.None {
			s.setUp(&state, next)
		}
		set.Hooked = nil
		for c, product := range s.on[b] {
			state.Unused = append(state.Unused, s.done[b]-1-s.used[b][c])
			if product != model.None && c >= len(s.p.Bays[b].Plumbed) {
				set.Hooked = append(set.Hooked, s.p.Products[product].Name)
			}
		}
		u.Bays = append(u.Bays, state)
	}
}

// setUp notes what of a load's set-up has begun.
func (s *splitDay) setUp(state *model.BayUnderway, load int) {
	l := &s.plan.Loads[load]
	if l.Rinse != model.None && l.SetupStart < s.at {
		level := s.p.Settings.RinseLevels[l.Rinse]
		state.Rinsed, state.FreeFrom = level.Name, l.SetupStart+model.Clock(model.CeilMinutes(level.Min))
	}
	for _, c := range s.plan.Changes {
		if c.Load == load && !c.Inside && c.At < s.at {
			state.FreeFrom = c.At + model.Clock(model.CeilMinutes(s.p.Settings.Pad.ChangeoverMin))
		}
	}
}

func (s *splitDay) sprayers(rest *model.Input) {
	for i := range s.p.Sprayers {
		var state model.SprayerUnderway
		var next *model.PlannedLoad
		for k := range s.plan.Loads {
			l := &s.plan.Loads[k]
			if l.Sprayer != i {
				continue
			}
			if !s.begun(l) {
				next = l
				break
			}
			state.BackAt = l.BackAt
			tank := model.TankUnderway{Mix: s.p.Mixes[l.Mix].Name, Cleanout: s.cleanoutName(l.Cleanout)}
			for _, part := range l.Parts {
				tank.Crops = append(tank.Crops, s.p.Jobs[part.Job].Crop)
			}
			state.Sprayed = append(state.Sprayed, tank)
		}
		if next != nil && next.Cleanout != model.None && next.CleanoutFrom < s.at {
			state.Cleaned, state.BackAt = s.cleanoutName(next.Cleanout), next.Ready
		}
		rest.Underway.Sprayers = append(rest.Underway.Sprayers, state)
	}
}

func (s *splitDay) cleanoutName(level int) string {
	if level == model.None {
		return ""
	}
	return s.p.Settings.CleanoutLevels[level].Name
}

// jobs leaves the acres that are in no tank.
func (s *splitDay) jobs(rest *model.Input) {
	rest.Jobs = nil
	for i, row := range s.in.Jobs {
		row.Job = s.p.Jobs[i].Name
		filled, open := model.Decimal(0), slices.ContainsFunc(s.plan.Unsprayed, func(u model.Unsprayed) bool { return u.Job == i })
		begunBy := ""
		for k := range s.plan.Loads {
			l := &s.plan.Loads[k]
			for _, part := range l.Parts {
				if part.Job != i {
					continue
				}
				if s.begun(l) {
					filled += part.Acres
					begunBy = s.goesOnWith(k)
				} else {
					open = true
				}
			}
		}
		if row.Acres -= filled; !open {
			continue
		}
		rest.Jobs = append(rest.Jobs, row)
		if begunBy != "" {
			rest.Underway.Begun = append(rest.Underway.Begun, model.BegunJob{Job: row.Job, Sprayer: begunBy})
		}
	}
}

// goesOnWith is the sprayer of a load that has begun, where it is its last one.
func (s *splitDay) goesOnWith(load int) string {
	for i := range s.plan.Loads {
		if l := &s.plan.Loads[i]; i > load && s.begun(l) && l.Sprayer == s.plan.Loads[load].Sprayer {
			return ""
		}
	}
	return s.p.Sprayers[s.plan.Loads[load].Sprayer].Name
}

// supplies leaves the stock that is there and the deliveries to come.
func (s *splitDay) supplies(rest *model.Input) {
	rest.Stock, rest.Deliveries = nil, nil
	for _, d := range s.in.Deliveries {
		if d.At > s.at {
			rest.Deliveries = append(rest.Deliveries, d)
		}
	}
	for i := range s.p.Products {
		if s.discrete(i) {
			s.toteRows(rest, i)
			continue
		}
		level := s.p.Products[i].OnHand()
		for _, d := range s.p.Deliveries {
			if d.Product == i && d.At <= s.at {
				level += d.Amount()
			}
		}
		for k := range s.plan.Loads {
			l := &s.plan.Loads[k]
			if !s.begun(l) {
				continue
			}
			for _, d := range l.Doses {
				if d.Product == i {
					level -= d.Amount
				}
			}
			if carrier, amount := carrierDraw(s.p, &l.Load); carrier == i {
				level -= amount
			}
		}
		kind := "jug"
		if s.p.Products[i].Bulk {
			kind = "bulk"
		}
		level = max(level, 0)
		rest.Stock = append(rest.Stock, model.StockRow{Product: s.p.Products[i].Name, Container: kind, Size: max(level, model.One), Open: &level})
	}
}

// comesOff says whether a container is at the pad and just being taken off.
func (s *splitDay) comesOff(product, k int) bool {
	return s.totes[product][k].from > s.at && s.came[product][k] <= s.at
}

func (s *splitDay) toteRows(rest *model.Input, product int) {
	name := s.p.Products[product].Name
	var order []int
	for k := range s.totes[product] {
		if c := &s.totes[product][k]; c.onBay || c.opened != neverOpened || s.comesOff(product, k) {
			order = append(order, k)
		}
	}
	slices.SortStableFunc(order, func(x, y int) int { return cmp.Compare(s.totes[product][x].opened, s.totes[product][y].opened) })
	for _, k := range order {
		c := &s.totes[product][k]
		tote := model.ToteUnderway{Bay: model.None, Product: name, Left: c.left, Opened: c.opened != neverOpened, FreeFrom: c.from}
		for b := range s.on {
			for at := range s.on[b] {
				if s.on[b][at] == product && s.hung[b][at] == k {
					tote.Bay, tote.Connection = b, at
				}
			}
		}
		rest.Underway.Totes = append(rest.Underway.Totes, tote)
	}
	for k := range s.totes[product] {
		if c := &s.totes[product][k]; !c.onBay && c.opened == neverOpened && c.from <= s.at && c.left > 0 {
			rest.Stock = append(rest.Stock, model.StockRow{Product: name, Container: "tote", Size: c.left, Full: model.One})
		}
	}
}

// water leaves the water that is there.
func (s *splitDay) water(rest *model.Input) {
	for _, w := range s.plan.Water {
		if w.At < s.at {
			rest.Underway.Rinsate = w.Rinsate
		}
	}
	if s.p.Settings.Pad.Water == nil {
		return
	}
	whole := newInstance(s.p)
	e := &evaluator{in: whole, water: whole.water.onHand, waterAt: whole.water.from}
	draws := whole.waterDraws(s.plan.Loads)
	for _, d := range draws {
		if d.at < s.at {
			e.drawWater(d.at, int64(d.gal)*waterScale)
		}
	}
	level := e.waterLevel(s.at)
	w := *s.p.Settings.Pad.Water
	w.OnHandGal = max(model.Decimal(level/waterScale), 0)
	rest.Settings.Pad.Water = &w
	rest.Underway.Water = big.NewRat(level, waterScale*int64(model.One))
}
