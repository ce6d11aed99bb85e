package dayfiles

import (
	"padturn/io/table"
	"padturn/model"
)

// readInput reads every table of the day.
func (r *reader) readInput() model.Input {
	return model.Input{
		Settings:   r.readSettings(),
		Jobs:       readTable(r, model.JobsTable, job),
		Mixes:      readTable(r, model.MixesTable, mix),
		Recipes:    readTable(r, model.RecipesTable, recipe),
		Products:   readTable(r, model.ProductsTable, product),
		Stock:      readTable(r, model.StockTable, stock),
		Deliveries: readTable(r, model.DeliveriesTable, delivery),
		Sprayers:   readTable(r, model.SprayersTable, sprayer),
		Rules:      readTable(r, model.RulesTable, rule),
		Holds:      readTable(r, model.HoldsTable, hold),
		Forecast:   readTable(r, model.ForecastTable, forecast),
	}
}

// readTable reads the rows of one table; one that may be left out and is has
// none.
func readTable[T, R any](r *reader, name model.Table, convert func(cells, T) R) []R {
	g, ok := r.source.grid(name, &r.found)
	if !ok {
		r.unread = append(r.unread, name)
	}
	if g == nil {
		return nil
	}
	t := table.Match[T](g, &r.found)
	r.places[name] = t
	if !t.Complete {
		r.unread = append(r.unread, name)
	}
	rows := make([]R, len(t.Rows))
	for i, text := range t.Rows {
		for _, column := range t.Required() {
			if t.Cell(i, column).Text == "" {
				r.fail(cellKey{name, i, column}, "", "is blank; a value is required")
			}
		}
		rows[i] = convert(cells{r, name, i}, text)
	}
	return rows
}

// The structs below are the rows as text, column by column; need:"yes" marks
// the columns that have to be there and filled.

type jobText struct {
	Job      string `csv:"job"`
	Field    string `csv:"field" need:"yes"`
	Sprayer  string `csv:"sprayer"`
	Mix      string `csv:"mix" need:"yes"`
	Acres    string `csv:"acres" need:"yes"`
	Customer string `csv:"customer"`
	Crop     string `csv:"crop"`
	DriveMin string `csv:"drive_min"`
	Lat      string `csv:"lat"`
	Lon      string `csv:"lon"`
	Earliest string `csv:"earliest"`
	Due      string `csv:"due"`
	Priority string `csv:"priority"`
	GPA      string `csv:"gpa"`
	Note     string `csv:"note"`
}

func job(c cells, t jobText) model.JobRow {
	return model.JobRow{
		Job:      c.name("job", t.Job),
		Field:    c.name("field", t.Field),
		Sprayer:  t.Sprayer,
		Mix:      t.Mix,
		Acres:    c.number("acres", t.Acres),
		Customer: c.name("customer", t.Customer),
		Crop:     c.name("crop", t.Crop),
		DriveMin: c.numberOrBlank("drive_min", t.DriveMin),
		Lat:      c.latitude("lat", t.Lat),
		Lon:      c.longitude("lon", t.Lon),
		Earliest: c.clockOrBlank("earliest", t.Earliest),
		Due:      c.clockOrBlank("due", t.Due),
		Priority: c.numberOrBlank("priority", t.Priority),
		GPA:      c.numberOrBlank("gpa", t.GPA),
		Note:     t.Note,
	}
}

type mixText struct {
	Mix     string `csv:"mix" need:"yes"`
	GPA     string `csv:"gpa" need:"yes"`
	Carrier string `csv:"carrier"`
	Note    string `csv:"note"`
}

func mix(c cells, t mixText) model.MixRow {
	return model.MixRow{Mix: c.name("mix", t.Mix), GPA: c.number("gpa", t.GPA), Carrier: t.Carrier, Note: t.Note}
}

type recipeText struct {
	Mix     string `csv:"mix" need:"yes"`
	Product string `csv:"product" need:"yes"`
	Rate    string `csv:"rate" need:"yes"`
	Unit    string `csv:"unit" need:"yes"`
	Step    string `csv:"step"`
}

func recipe(c cells, t recipeText) model.RecipeRow {
	return model.RecipeRow{
		Mix:     t.Mix,
		Product: t.Product,
		Rate:    c.number("rate", t.Rate),
		Unit:    t.Unit,
		Step:    c.numberOrBlank("step", t.Step),
	}
}

type productText struct {
	Product      string `csv:"product" need:"yes"`
	Form         string `csv:"form" need:"yes"`
	Unit         string `csv:"unit" need:"yes"`
	Handling     string `csv:"handling" need:"yes"`
	DensityLbGal string `csv:"density_lb_gal"`
	Groups       string `csv:"groups"`
	Pack         string `csv:"pack"`
	ReorderAt    string `csv:"reorder_at"`
	TankLifeH    string `csv:"tank_life_h"`
	RainfastH    string `csv:"rainfast_h"`
	MaxWindMph   string `csv:"max_wind_mph"`
	EPARegNo     string `csv:"epa_reg_no"`
	Restricted   string `csv:"restricted"`
	SignalWord   string `csv:"signal_word"`
	PPE          string `csv:"ppe"`
}

func product(c cells, t productText) model.ProductRow {
	return model.ProductRow{
		Product:      c.name("product", t.Product),
		Form:         t.Form,
		Unit:         t.Unit,
		Handling:     t.Handling,
		DensityLbGal: c.numberOrBlank("density_lb_gal", t.DensityLbGal),
		Groups:       c.names("groups", t.Groups),
		Pack:         c.numberOrBlank("pack", t.Pack),
		ReorderAt:    c.numberOrBlank("reorder_at", t.ReorderAt),
		TankLifeH:    c.numberOrBlank("tank_life_h", t.TankLifeH),
		RainfastH:    c.numberOrBlank("rainfast_h", t.RainfastH),
		MaxWindMph:   c.numberOrBlank("max_wind_mph", t.MaxWindMph),
		EPARegNo:     t.EPARegNo,
		Restricted:   c.yesNo("restricted", t.Restricted),
		SignalWord:   t.SignalWord,
		PPE:          t.PPE,
	}
}

type stockText struct {
	Product   string `csv:"product" need:"yes"`
	Container string `csv:"container" need:"yes"`
	Size      string `csv:"size" need:"yes"`
	Full      string `csv:"full" need:"yes"`
	Open      string `csv:"open"`
}

func stock(c cells, t stockText) model.StockRow {
	return model.StockRow{
		Product:   t.Product,
		Container: t.Container,
		Size:      c.number("size", t.Size),
		Full:      c.count("full", t.Full),
		Open:      c.numberOrBlank("open", t.Open),
	}
}

type deliveryText struct {
	At        string `csv:"at" need:"yes"`
	Product   string `csv:"product" need:"yes"`
	Container string `csv:"container" need:"yes"`
	Size      string `csv:"size" need:"yes"`
	Count     string `csv:"count" need:"yes"`
}

func delivery(c cells, t deliveryText) model.DeliveryRow {
	return model.DeliveryRow{
		At:        c.clock("at", t.At),
		Product:   t.Product,
		Container: t.Container,
		Size:      c.number("size", t.Size),
		Count:     c.count("count", t.Count),
	}
}

type sprayerText struct {
	Sprayer        string `csv:"sprayer" need:"yes"`
	TankGal        string `csv:"tank_gal" need:"yes"`
	BoomFt         string `csv:"boom_ft"`
	Mph            string `csv:"mph"`
	Efficiency     string `csv:"efficiency"`
	AcPerH         string `csv:"ac_per_h"`
	RoadMph        string `csv:"road_mph"`
	AvailableFrom  string `csv:"available_from"`
	AvailableUntil string `csv:"available_until"`
	LastMix        string `csv:"last_mix"`
	WaitPerH       string `csv:"wait_per_h"`
}

func sprayer(c cells, t sprayerText) model.SprayerRow {
	return model.SprayerRow{
		Sprayer:        c.name("sprayer", t.Sprayer),
		TankGal:        c.number("tank_gal", t.TankGal),
		BoomFt:         c.numberOrBlank("boom_ft", t.BoomFt),
		Mph:            c.numberOrBlank("mph", t.Mph),
		Efficiency:     c.numberOrBlank("efficiency", t.Efficiency),
		AcPerH:         c.numberOrBlank("ac_per_h", t.AcPerH),
		RoadMph:        c.numberOrBlank("road_mph", t.RoadMph),
		AvailableFrom:  c.clockOrBlank("available_from", t.AvailableFrom),
		AvailableUntil: c.clockOrBlank("available_until", t.AvailableUntil),
		LastMix:        t.LastMix,
		WaitPerH:       c.numberOrBlank("wait_per_h", t.WaitPerH),
	}
}

type ruleText struct {
	Where  string `csv:"where" need:"yes"`
	After  string `csv:"after" need:"yes"`
	Before string `csv:"before" need:"yes"`
	Level  string `csv:"level" need:"yes"`
	Reason string `csv:"reason"`
}

func rule(_ cells, t ruleText) model.RuleRow {
	return model.RuleRow{Where: t.Where, After: t.After, Before: t.Before, Level: t.Level, Reason: t.Reason}
}

type holdText struct {
	From   string `csv:"from" need:"yes"`
	To     string `csv:"to" need:"yes"`
	Kind   string `csv:"kind"`
	Scope  string `csv:"scope"`
	Reason string `csv:"reason"`
}

func hold(c cells, t holdText) model.HoldRow {
	return model.HoldRow{
		From: c.clock("from", t.From), To: c.clock("to", t.To), Kind: t.Kind, Scope: t.Scope, Reason: t.Reason,
	}
}

type forecastText struct {
	From    string `csv:"from" need:"yes"`
	To      string `csv:"to" need:"yes"`
	WindMph string `csv:"wind_mph"`
	GustMph string `csv:"gust_mph"`
	RainIn  string `csv:"rain_in"`
	TempF   string `csv:"temp_f"`
}

func forecast(c cells, t forecastText) model.ForecastRow {
	return model.ForecastRow{
		From:    c.clock("from", t.From),
		To:      c.clock("to", t.To),
		WindMph: c.numberOrBlank("wind_mph", t.WindMph),
		GustMph: c.numberOrBlank("gust_mph", t.GustMph),
		RainIn:  c.numberOrBlank("rain_in", t.RainIn),
		TempF:   c.numberOrBlank("temp_f", t.TempF),
	}
}
