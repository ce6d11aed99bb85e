package audit

import (
	"math/big"
	"slices"
	"strings"

	"padturn/model"
)

func upper(s string) string { return strings.ToUpper(s) }

// mix is a line of mixes.csv with its recipe in file order.
type mix struct {
	name     string
	gpa      *big.Rat
	carrier  string
	recipe   []*ingredient
	contents []string // the recipe's products and the carrier
	d        *day
}

// ingredient is a line of recipes.csv; amounts are in the product's stock unit.
type ingredient struct {
	*product
	perAcre *big.Rat
	perGal  *big.Rat // for each gallon of spray
	place   *big.Rat // in the adding order
	unknown bool     // the rate can't be turned into the stock unit
}

func (d *day) addMixes(in *model.Input) {
	for _, r := range in.Mixes {
		m := &mix{name: r.Mix, gpa: r.GPA.Rat(), carrier: r.Carrier, d: d}
		if m.carrier == "" {
			m.carrier = model.Water
		}
		m.contents = []string{m.carrier}
		d.mixes[m.name] = m
	}
	order, _ := model.FindAddingOrder(d.set.AddingOrder)
	for _, r := range in.Recipes {
		m, p := d.mixes[r.Mix], d.products[r.Product]
		if m == nil || p == nil {
			continue
		}
		m.recipe = append(m.recipe, newIngredient(p, r, order))
		m.contents = append(m.contents, p.Product)
	}
}

func newIngredient(p *product, r model.RecipeRow, order model.AddingOrder) *ingredient {
	g := &ingredient{product: p, perAcre: new(big.Rat), perGal: new(big.Rat)}
	g.place = decimal(r.Step, whole(int64(order.Class[p.form.Code])))
	unit, err := model.ParseRateUnit(r.Unit)
	stock, known := model.FindUnit(p.Unit)
	if err != nil || !known || stock.Dim == model.Area {
		g.unknown = true
		return g
	}
	factor, err := model.Convert(unit.Unit, stock, p.DensityLbGal)
	if err != nil {
		g.unknown = true
		return g
	}
	rate := mul(mul(r.Rate.Rat(), unit.Factor), factor)
	if unit.Base == model.PerAcre {
		g.perAcre = rate
	} else {
		g.perGal = rate // per cent by volume is gallons for each gallon
	}
	return g
}

// has says whether a product, or water, is in the mix.
func (m *mix) has(name string) bool { return slices.Contains(m.contents, name) }

// inGroup says whether a product of that name belongs to a group.
func (d *day) inGroup(name, group string) bool {
	p := d.products[name]
	return p != nil && slices.Contains(p.Groups, group)
}

// stands says whether the after or before of a rule speaks of this product of
// this mix. A crop speaks of no product.
func (m *mix) stands(selector, product string) bool {
	if selector == "*" {
		return true
	}
	if group, ok := strings.CutPrefix(selector, "@"); ok {
		return m.d.inGroup(product, group)
	}
	if name, ok := strings.CutPrefix(selector, "mix:"); ok {
		return m.name == name
	}
	return selector == product
}

// anyStands says whether the selector speaks of any product of the mix.
func (m *mix) anyStands(selector string) bool {
	return slices.ContainsFunc(m.contents, func(p string) bool { return m.stands(selector, p) })
}

// leaves says whether the selector speaks of a product of the mix that is not
// in the one that follows.
func (m *mix) leaves(selector string, next *mix) bool {
	return slices.ContainsFunc(m.contents, func(p string) bool { return !next.has(p) && m.stands(selector, p) })
}

// forbidden returns two products of the mix that a tank rule keeps apart.
func (m *mix) forbidden() (x, y string, found bool) {
	for _, r := range m.d.rules {
		if r.Where != "tank" {
			continue
		}
		for _, x := range m.contents {
			for _, y := range m.contents {
				if x != y && m.stands(r.After, x) && m.stands(r.Before, y) {
					return x, y, true
				}
			}
		}
	}
	return "", "", false
}
