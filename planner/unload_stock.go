package planner

import (
	"cmp"
	"fmt"
	"slices"

	"padturn/model"
)

// stockChange notes a change of a product's stock.
type stockChange func(product int, at model.Clock, event string, change model.Decimal)

// stockEvents projects the stock of every product over the day. What more there
// is comes, at one moment, behind so many loads.
func (in *instance) stockEvents(loads []model.PlannedLoad, more func(stockChange), behind int) []model.StockEvent {
	var all []model.StockEvent
	byProduct := make([][]model.StockEvent, len(in.p.Products))
	add := func(product int, at model.Clock, event string, change model.Decimal) {
		byProduct[product] = append(byProduct[product], model.StockEvent{Product: product, At: at, Event: event, Change: change})
	}
	for i := range in.p.Products {
		add(i, 0, "opening", in.p.Products[i].OnHand())
	}
	for _, d := range in.p.Deliveries {
		add(d.Product, d.At, "delivery", d.Amount())
	}
	for i := range loads {
		if i == behind && more != nil {
			more(add)
		}
		pl := &loads[i]
		for _, d := range pl.Doses {
			add(d.Product, pl.Start, "load "+pl.ID, -d.Amount)
		}
		if carrier, amount := carrierDraw(in.p, &pl.Load); carrier != model.None && amount > 0 {
			add(carrier, pl.Start, "load "+pl.ID, -amount)
		}
	}
	if behind == len(loads) && more != nil {
		more(add)
	}
	for i, events := range byProduct {
		// Stable: the opening and then the deliveries stand first at ties.
		slices.SortStableFunc(events, func(x, y model.StockEvent) int { return cmp.Compare(x.At, y.At) })
		var level model.Decimal
		for k := range events {
			level += events[k].Change
			events[k].Level = level
			events[k].Low = in.p.Products[i].ReorderAt != nil && level < *in.p.Products[i].ReorderAt
		}
		all = append(all, events...)
	}
	return all
}

// waterEvents lists the water drawn and the rinsate made. Loads are among them
// only where the pad's water is limited.
func (in *instance) waterEvents(loads []model.PlannedLoad) []model.WaterEvent {
	return in.waterLevels(in.waterDraws(loads))
}

// waterDraws lists the water that loads take, with their rinses and cleanouts,
// by time.
func (in *instance) waterDraws(loads []model.PlannedLoad) []waterDraw {
	var draws []waterDraw
	for i := range loads {
		pl := &loads[i]
		if pl.Cleanout != model.None {
			gal := in.cleanouts[pl.Cleanout].gal
			draws = append(draws, waterDraw{pl.CleanoutFrom, "cleanout " + pl.ID, gal, gal})
		}
		if pl.Rinse != model.None {
			gal := in.rinses[pl.Rinse].gal
			draws = append(draws, waterDraw{pl.SetupStart, "rinse " + pl.ID, gal, gal})
		}
		if in.water != nil && in.p.Mixes[pl.Mix].Carrier == model.None {
			draws = append(draws, waterDraw{pl.Start, "load " + pl.ID, pl.Carrier, 0})
		}
	}
	slices.SortStableFunc(draws, func(x, y waterDraw) int { return cmp.Compare(x.at, y.at) })
	return draws
}

// waterDraw is water taken, and how much of it becomes rinsate.
type waterDraw struct {
	at           model.Clock
	event        string
	gal, rinsate model.Decimal
}

func (in *instance) waterLevels(draws []waterDraw) []model.WaterEvent {
	list := []model.WaterEvent{{Event: "opening"}}
	e := evaluator{in: in}
	if in.water != nil {
		e.water, e.waterAt = in.water.onHand, in.water.from
		list[0].At = e.waterAt
		list[0].Water = model.Some(model.Decimal(e.water / waterScale))
	}
	rinsate := in.rinsateBefore()
	list[0].Rinsate = rinsate
	for _, d := range draws {
		rinsate += d.rinsate
		event := model.WaterEvent{At: d.at, Event: d.event, Rinsate: rinsate}
		if in.water != nil {
			e.drawWater(d.at, int64(d.gal)*waterScale)
			event.Water = model.Some(model.Decimal(e.waterLevel(d.at) / waterScale))
		}
		list = append(list, event)
	}
	return list
}

// warnings lists what a dispatcher should know of a plan that breaks no rule.
func (in *instance) warnings(plan *model.Plan) []string {
	var list []string
	if size := in.p.Settings.Pad.RinsateGal; size != nil {
		for _, w := range plan.Water {
			if w.Rinsate > *size {
				list = append(list, fmt.Sprintf("%s fills the rinsate tank over its %s gal; empty it before", w.Event, size))
				break
			}
		}
	}
	return list
}
