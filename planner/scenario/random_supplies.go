package scenario

import (
	"fmt"
	"slices"

	"padturn/model"
)

// bays draws the bays, with nothing on their connections yet.
func (r *random) bays() {
	bays := []model.BaySettings{}
	for i := range r.whole(1, 3) {
		bay := model.BaySettings{Name: fmt.Sprintf("bay %d", i+1), Connections: r.whole(1, 4), Carriers: []string{model.Water}}
		if r.chance(40) {
			bay.LastMix = pick(r.dice, r.in.Mixes...).Mix
		}
		if r.has(fertilizer) && r.chance(60) {
			bay.Carriers = pick(r.dice, []string{model.Water, fertilizer}, []string{fertilizer})
		}
		bays = append(bays, bay)
	}
	r.in.Settings.Pad.Bays = bays
}

// supplies draws what is in stock and what comes, beside what the day's jobs
// take: less, just as much, or more.
func (r *random) supplies() {
	p, _ := model.NewProblem(r.in) // not sound yet: there is no stock
	need := demand(p)
	for i := range r.in.Products {
		row := &r.in.Products[i]
		kind := pick(r.dice, "jug", "bag", "bulk")
		if row.Handling == "metered" {
			kind = pick(r.dice, "tote", "tote", "drum", "bulk")
		}
		share := pick(r.dice, 6, 9, 10, 10, 11, 12, 15, 15, 20, 20)
		r.supply(row.Product, kind, max(need[i]*model.Decimal(share)/10, model.One))
	}
	r.water(p)
}

// supply spreads an amount over containers in stock and to come.
func (r *random) supply(product, kind string, amount model.Decimal) {
	parts := r.whole(1, 5)
	size := max(amount/model.Decimal(parts), model.One/100)
	if r.chance(50) {
		size = max(size/model.One*model.One, model.One) // whole units
	}
	coming := 0
	if r.chance(40) {
		coming = r.whole(1, parts)
	}
	stock := model.StockRow{Product: product, Container: kind, Size: size, Full: model.WholeDecimal(int64(parts - coming))}
	if r.chance(40) {
		stock.Open = model.Some(size * model.Decimal(r.IntN(11)) / 10)
	}
	r.in.Stock = append(r.in.Stock, stock)
	if r.chance(20) {
		small := max(size/3, model.One/100)
		r.in.Stock = append(r.in.Stock, model.StockRow{
			Product: product, Container: kind, Size: small, Full: model.One, Open: model.Some(small / 2),
		})
	}
	for coming > 0 {
		n := r.whole(1, coming)
		coming -= n
		r.in.Deliveries = append(r.in.Deliveries, model.DeliveryRow{
			At: r.clock(5, 12, 60), Product: product, Container: kind, Size: size, Count: model.WholeDecimal(int64(n)),
		})
	}
}

// water limits the pad's water in some days, in some so that it runs short.
func (r *random) water(p *model.Problem) {
	if !r.chance(35) {
		return
	}
	var gal model.Decimal
	for _, j := range p.Jobs {
		if j.Mix != model.None && p.Mixes[j.Mix].Carrier == model.None {
			gal += j.Acres * (j.GPA / model.One)
		}
	}
	capacity := max(gal*model.Decimal(r.whole(3, 20))/10, model.WholeDecimal(500)) / model.One * model.One
	r.in.Settings.Pad.Water = &model.WaterSettings{
		CapacityGal: capacity,
		OnHandGal:   capacity * model.Decimal(r.IntN(11)) / 10,
		RefillGpm:   pick(r.dice, 0, r.decimal(2, 40, 2), r.decimal(10, 100, 1), r.decimal(10, 100, 0)),
	}
}

// demand is what the jobs of a day take of each product, in its stock unit.
func demand(p *model.Problem) []model.Decimal {
	need := make([]model.Decimal, len(p.Products))
	for i, j := range p.Jobs {
		if j.Mix == model.None {
			continue
		}
		for _, l := range p.RunLoads(max(j.Sprayer, 0), []int{i}) {
			for _, d := range l.Doses {
				need[d.Product] += d.Amount
			}
			if c := p.Mixes[l.Mix].Carrier; c != model.None {
				need[c] += p.CarrierAmount(&l)
			}
		}
	}
	return need
}

// hookUp puts products on connections at the opening, as far as there are
// containers of them.
func (r *random) hookUp() {
	bays := r.in.Settings.Pad.Bays
	free := map[string]int{} // containers at the opening, by product
	for _, s := range r.in.Stock {
		free[s.Product] += int(s.Full / model.One)
		if s.Open != nil && *s.Open > 0 {
			free[s.Product]++
		}
		if s.Container == "bulk" {
			free[s.Product] = 1000
		}
	}
	for i := range bays {
		bay := &bays[i]
		for _, k := range r.Perm(len(r.in.Products)) {
			p := &r.in.Products[k]
			full := len(bay.Plumbed)+len(bay.Hooked) == bay.Connections
			if p.Handling != "metered" || full || free[p.Product] == 0 || !r.chance(45) {
				continue
			}
			free[p.Product]--
			if r.chance(30) {
				bay.Plumbed = append(bay.Plumbed, p.Product)
			} else {
				bay.Hooked = append(bay.Hooked, p.Product)
			}
		}
	}
}

// rules draws rules.csv.
func (r *random) rules() {
	for range r.IntN(7) {
		rule := model.RuleRow{Where: pick(r.dice, "manifold", "manifold", "sprayer", "sprayer", "tank")}
		switch rule.Where {
		case "tank":
			rule.After, rule.Before, rule.Level = r.selector(false, false), r.selector(false, false), "forbid"
		case "manifold":
			rule.After, rule.Before = r.selector(true, false), r.selector(true, false)
			rule.Level = pick(r.dice, r.in.Settings.RinseLevels...).Name
		case "sprayer":
			rule.After, rule.Before = r.selector(true, false), r.selector(true, true)
			rule.Level = pick(r.dice, r.in.Settings.CleanoutLevels...).Name
		}
		r.in.Rules = append(r.in.Rules, rule)
	}
}

// selector draws the after or before of a rule.
func (r *random) selector(mixes, crops bool) string {
	if crops && r.chance(40) {
		if crop := pick(r.dice, r.crops...); crop != "" {
			return "crop:" + crop
		}
	}
	switch used := r.usedGroups(); {
	case mixes && r.chance(15):
		return "mix:" + pick(r.dice, r.in.Mixes...).Mix
	case mixes && r.chance(15):
		return "*"
	case len(used) > 0 && r.chance(40):
		return "@" + pick(r.dice, used...)
	case r.chance(10):
		return model.Water
	}
	return pick(r.dice, r.in.Products...).Product
}

func (r *random) usedGroups() []string {
	var used []string
	for _, g := range r.groups {
		if slices.ContainsFunc(r.in.Products, func(p model.ProductRow) bool { return slices.Contains(p.Groups, g) }) {
			used = append(used, g)
		}
	}
	return used
}

// holds draws holds.csv and forecast.csv.
func (r *random) holds() {
	for range max(r.IntN(6)-2, 0) {
		from := r.clock(5, 14, 60)
		r.in.Holds = append(r.in.Holds, model.HoldRow{
			From: from, To: from + model.Clock(r.whole(1, 9000)),
			Kind: pick(r.dice, "rain", "wind", "inversion", "other", ""), Scope: r.scope(),
		})
	}
	for range max(r.IntN(5)-2, 0) {
		from := r.clock(5, 14, 3600)
		r.in.Forecast = append(r.in.Forecast, model.ForecastRow{
			From: from, To: from + model.Clock(3600*r.whole(1, 2)),
			WindMph: maybe(r.dice, 80, func() model.Decimal { return r.decimal(2, 18, 0) }),
			GustMph: maybe(r.dice, 50, func() model.Decimal { return r.decimal(5, 25, 0) }),
			RainIn:  maybe(r.dice, 30, func() model.Decimal { return r.decimal(0, 1, 1) }),
		})
	}
}

func (r *random) scope() string {
	used := r.usedGroups()
	switch k := r.IntN(6); {
	case k == 0:
		return "sprayer:" + pick(r.dice, r.in.Sprayers...).Sprayer
	case k == 1:
		return fmt.Sprintf("field:field %d", r.whole(1, 6))
	case k == 2:
		return "product:" + pick(r.dice, pick(r.dice, r.in.Products...).Product, model.Water)
	case k == 3 && len(used) > 0:
		return "@" + pick(r.dice, used...)
	case k == 4:
		return "bay:" + pick(r.dice, r.in.Settings.Pad.Bays...).Name
	}
	return ""
}
