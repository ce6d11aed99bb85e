package model

import "strings"

func (b *builder) buildRules() {
	for i, r := range b.in.Rules {
		rule := Rule{Level: None, Reason: r.Reason}
		if !b.oneOf(RulesTable, i, "where", r.Where, "tank", "manifold", "sprayer") {
			continue
		}
		switch r.Where {
		case "tank":
			rule.Where = InTank
			b.oneOf(RulesTable, i, "level", r.Level, "forbid")
		case "manifold":
			rule.Where = InManifold
			rule.Level = b.level(i, &b.rinses, "rinse_levels", r.Level)
		case "sprayer":
			rule.Where = InSprayer
			rule.Level = b.level(i, &b.cleanouts, "cleanout_levels", r.Level)
		}
		var okAfter, okBefore bool
		rule.After, okAfter = b.selector(i, "after", r.After, rule.Where)
		rule.Before, okBefore = b.selector(i, "before", r.Before, rule.Where)
		if okAfter && okBefore && (rule.Where == InTank || rule.Level != None) {
			b.p.Rules = append(b.p.Rules, rule)
		}
	}
}

func (b *builder) level(row int, n *names, home, level string) int {
	if level == "" {
		b.fail(RulesTable, row, "level", "", "expected one of the %s of day.yaml: %s", home, strings.Join(n.list, ", "))
		return None
	}
	return b.lookUp(n, home+" of day.yaml", RulesTable, row, "level", level)
}

// selector reads an after or a before.
func (b *builder) selector(row int, column, s string, where RuleWhere) (Selector, bool) {
	errorsBefore := len(b.report.Errors)
	sel := ParseSelector(s)
	switch sel.Kind {
	case SelectAll:
	case SelectProduct:
		if s == "" {
			b.fail(RulesTable, row, column, s, "expected a product, @group, mix:NAME, crop:NAME or *")
		}
		b.productOrWater(RulesTable, row, column, sel.Name)
	case SelectGroup:
		b.lookUp(&b.groups, "the groups of products.csv", RulesTable, row, column, sel.Name)
	case SelectMix:
		if where == InTank {
			b.fail(RulesTable, row, column, s, "names a mix, but a tank rule is about products; expected a product, @group or *")
		}
		b.lookUp(&b.mixes, "mixes.csv", RulesTable, row, column, sel.Name)
	case SelectCrop:
		if where != InSprayer || column != "before" {
			b.fail(RulesTable, row, column, s, "names a crop, which can only stand in the before of a sprayer rule")
		}
		if b.crops.find(sel.Name) == None {
			b.warn(RulesTable, row, column, s, "is the crop of no job in jobs.csv%s", Suggest(sel.Name, b.crops.list))
		}
	}
	return sel, len(b.report.Errors) == errorsBefore
}

// ParseSelector reads a selector; a word without a sign is a product.
func ParseSelector(s string) Selector {
	switch {
	case s == "*":
		return Selector{Kind: SelectAll}
	case strings.HasPrefix(s, "@"):
		return Selector{SelectGroup, s[1:]}
	case strings.HasPrefix(s, "mix:"):
		return Selector{SelectMix, s[len("mix:"):]}
	case strings.HasPrefix(s, "crop:"):
		return Selector{SelectCrop, s[len("crop:"):]}
	}
	return Selector{SelectProduct, s}
}

var holdKinds = []string{"rain", "wind", "inversion", "other"}

func (b *builder) buildHolds() {
	for i, r := range b.in.Holds {
		if r.From >= r.To {
			b.fail(HoldsTable, i, "to", r.To.HHMM(), "must be later than from (%s)", r.From.HHMM())
		}
		if r.Kind != "" {
			b.oneOf(HoldsTable, i, "kind", r.Kind, holdKinds...)
		}
		b.p.Holds = append(b.p.Holds, Hold{r.From, r.To, r.Kind, r.Reason, b.holdScope(i, r.Scope)})
	}
	for i, r := range b.in.Forecast {
		b.forecast(i, &r)
	}
}

// holdScope reads the scope of a hold; blank is all.
func (b *builder) holdScope(row int, s string) HoldScope {
	scope := HoldScope{Sprayer: None, Bay: None}
	kind, name, _ := strings.Cut(s, ":")
	switch {
	case s == "":
	case strings.HasPrefix(s, "@"):
		scope.Group = s[1:]
		b.lookUp(&b.groups, "the groups of products.csv", HoldsTable, row, "scope", scope.Group)
	case kind == "sprayer" && name != "":
		scope.Sprayer = b.lookUp(&b.sprayers, "sprayers.csv", HoldsTable, row, "scope", name)
	case kind == "bay" && name != "":
		scope.Bay = b.lookUp(&b.bays, "the bays of day.yaml", HoldsTable, row, "scope", name)
	case kind == "field" && name != "":
		scope.Field = name
		if b.fields.find(name) == None {
			b.warn(HoldsTable, row, "scope", s, "is the field of no job in jobs.csv%s", Suggest(name, b.fields.list))
		}
	case kind == "product" && name != "":
		scope.Product = name
		b.productOrWater(HoldsTable, row, "scope", name)
	default:
		b.fail(HoldsTable, row, "scope", s, "expected blank (all), sprayer:NAME, field:NAME, product:NAME, @group or bay:NAME")
	}
	return scope
}

// forecast turns a row into holds: rain for all, wind for each product whose
// label limit the wind or its gusts exceed.
func (b *builder) forecast(row int, r *ForecastRow) {
	if r.From >= r.To {
		b.fail(ForecastTable, row, "to", r.To.HHMM(), "must be later than from (%s)", r.From.HHMM())
	}
	windLimit := limits{0, WholeDecimal(250), "mph", false}
	b.withinOpt(ForecastTable, row, "wind_mph", r.WindMph, windLimit)
	b.withinOpt(ForecastTable, row, "gust_mph", r.GustMph, windLimit)
	b.withinOpt(ForecastTable, row, "rain_in", r.RainIn, limits{0, WholeDecimal(100), "inches", false})
	all := HoldScope{Sprayer: None, Bay: None}
	if orDefault(r.RainIn, 0) > 0 {
		b.p.Holds = append(b.p.Holds, Hold{r.From, r.To, "rain", "forecast", all})
	}
	wind := max(orDefault(r.WindMph, 0), orDefault(r.GustMph, 0))
	for _, p := range b.p.Products {
		if p.MaxWind != nil && wind > *p.MaxWind {
			scope := all
			scope.Product = p.Name
			b.p.Holds = append(b.p.Holds, Hold{r.From, r.To, "wind", "forecast", scope})
		}
	}
}
