package main

import (
	"slices"

	"padturn/model"
)

// shrink takes away from a day whatever can go while it still fails.
func shrink(in model.Input, fails func(model.Input) bool) model.Input {
	for again := true; again; {
		again = false
		for _, smaller := range smallerDays(in) {
			if fails(smaller) {
				in, again = smaller, true
				break
			}
		}
	}
	return in
}

// smallerDays lists days with one thing less than a day has.
func smallerDays(in model.Input) []model.Input {
	var days []model.Input
	add := func(change func(*model.Input)) {
		day := in
		change(&day)
		days = append(days, day)
	}
	dropEach(in.Jobs, func(rows []model.JobRow) { add(func(d *model.Input) { d.Jobs = rows }) })
	dropEach(in.Sprayers, func(rows []model.SprayerRow) { add(func(d *model.Input) { d.Sprayers = rows }) })
	dropEach(in.Rules, func(rows []model.RuleRow) { add(func(d *model.Input) { d.Rules = rows }) })
	dropEach(in.Holds, func(rows []model.HoldRow) { add(func(d *model.Input) { d.Holds = rows }) })
	dropEach(in.Forecast, func(rows []model.ForecastRow) { add(func(d *model.Input) { d.Forecast = rows }) })
	dropEach(in.Deliveries, func(rows []model.DeliveryRow) { add(func(d *model.Input) { d.Deliveries = rows }) })
	dropEach(in.Stock, func(rows []model.StockRow) { add(func(d *model.Input) { d.Stock = rows }) })
	dropEach(in.Recipes, func(rows []model.RecipeRow) { add(func(d *model.Input) { d.Recipes = rows }) })
	dropEach(in.Mixes, func(rows []model.MixRow) { add(func(d *model.Input) { d.Mixes = rows }) })
	dropEach(in.Products, func(rows []model.ProductRow) { add(func(d *model.Input) { d.Products = rows }) })
	dropEach(in.Settings.Pad.Bays, func(rows []model.BaySettings) { add(func(d *model.Input) { d.Settings.Pad.Bays = rows }) })
	plainerRows(&in, add)
	plainerSettings(&in, add)
	return days
}

// dropEach offers a list without each of its rows.
func dropEach[T any](rows []T, offer func([]T)) {
	for i := range rows {
		offer(slices.Delete(slices.Clone(rows), i, i+1))
	}
}

// plainerRows offers days in which one row says less.
func plainerRows(in *model.Input, add func(func(*model.Input))) {
	for i, row := range in.Jobs {
		plain := model.JobRow{Job: row.Job, Field: row.Field, Sprayer: row.Sprayer, Mix: row.Mix, Acres: row.Acres, DriveMin: row.DriveMin}
		if row.DriveMin == nil {
			plain.DriveMin = model.Some(model.WholeDecimal(10))
		}
		if row.Earliest != nil || row.Due != nil || row.Priority != nil || row.Lat != nil || row.Crop != "" || row.GPA != nil {
			add(func(d *model.Input) { d.Jobs = slices.Clone(d.Jobs); d.Jobs[i] = plain })
		}
		if whole := max(row.Acres/model.One*model.One, model.One); whole < row.Acres {
			add(func(d *model.Input) { d.Jobs = slices.Clone(d.Jobs); d.Jobs[i].Acres = whole })
		}
	}
	for i, row := range in.Sprayers {
		if row.AvailableFrom != nil || row.AvailableUntil != nil || row.LastMix != "" || row.WaitPerH != nil || row.RoadMph != nil {
			plain := model.SprayerRow{Sprayer: row.Sprayer, TankGal: row.TankGal, AcPerH: row.AcPerH, BoomFt: row.BoomFt, Mph: row.Mph, Efficiency: row.Efficiency}
			add(func(d *model.Input) { d.Sprayers = slices.Clone(d.Sprayers); d.Sprayers[i] = plain })
		}
	}
	for i, row := range in.Products {
		if row.TankLifeH != nil || row.MaxWindMph != nil || row.ReorderAt != nil {
			row.TankLifeH, row.MaxWindMph, row.ReorderAt = nil, nil, nil
			add(func(d *model.Input) { d.Products = slices.Clone(d.Products); d.Products[i] = row })
		}
	}
	for i, row := range in.Settings.Pad.Bays {
		if len(row.Hooked)+len(row.Plumbed) > 0 {
			add(func(d *model.Input) { dropHooked(d, i) })
		}
		if row.LastMix != "" {
			add(func(d *model.Input) {
				d.Settings.Pad.Bays = slices.Clone(d.Settings.Pad.Bays)
				d.Settings.Pad.Bays[i].LastMix = ""
			})
		}
	}
}

// dropHooked takes what is hooked up and plumbed off a bay.
func dropHooked(d *model.Input, bay int) {
	d.Settings.Pad.Bays = slices.Clone(d.Settings.Pad.Bays)
	b := &d.Settings.Pad.Bays[bay]
	if len(b.Hooked) > 0 {
		b.Hooked = b.Hooked[1:]
	} else if len(b.Plumbed) > 0 {
		b.Plumbed = b.Plumbed[1:]
	}
}

// plainerSettings offers days in which day.yaml says less.
func plainerSettings(in *model.Input, add func(func(*model.Input))) {
	s, usual := &in.Settings, model.DefaultSettings()
	if s.Pad.Water != nil {
		add(func(d *model.Input) { d.Settings.Pad.Water = nil })
	}
	if s.Pad.OvertimeUntil != nil {
		add(func(d *model.Input) { d.Settings.Pad.OvertimeUntil = nil })
	}
	if s.Pad.RinsateGal != nil {
		add(func(d *model.Input) { d.Settings.Pad.RinsateGal = nil })
	}
	if s.Costs != usual.Costs {
		add(func(d *model.Input) { d.Settings.Costs = usual.Costs })
	}
	if s.Split != usual.Split {
		add(func(d *model.Input) { d.Settings.Split = usual.Split })
	}
	if s.SprayFrom != 0 || s.SprayUntil != usual.SprayUntil {
		add(func(d *model.Input) { d.Settings.SprayFrom, d.Settings.SprayUntil = 0, usual.SprayUntil })
	}
	if s.AddingOrder != usual.AddingOrder {
		add(func(d *model.Input) { d.Settings.AddingOrder = usual.AddingOrder })
	}
}
