package model

import "slices"

// productName returns the name of a product, or of water for None.
func (p *Problem) productName(product int) string {
	if product == None {
		return Water
	}
	return p.Products[product].Name
}

// ProductName returns the name of a product or of a carrier; None is water.
func (p *Problem) ProductName(product int) string { return p.productName(product) }

// contents lists the products of a mix with its carrier; None is water.
func (p *Problem) contents(mix int) []int {
	m := &p.Mixes[mix]
	list := make([]int, 0, len(m.Recipe)+1)
	list = append(list, m.Carrier)
	for _, g := range m.Recipe {
		list = append(list, g.Product)
	}
	return list
}

// selects says whether a selector names a product that is in a mix. A crop
// names no product.
func (p *Problem) selects(s Selector, product, mix int) bool {
	switch s.Kind {
	case SelectAll:
		return true
	case SelectProduct:
		return p.productName(product) == s.Name
	case SelectGroup:
		return product != None && slices.Contains(p.Products[product].Groups, s.Name)
	case SelectMix:
		return p.Mixes[mix].Name == s.Name
	}
	return false
}

// selectsAny says whether a selector names any product of a mix that is not
// also in the mix `without` (None: all of them count).
func (p *Problem) selectsAny(s Selector, mix, without int) bool {
	var excluded []int
	if without != None {
		excluded = p.contents(without)
	}
	for _, product := range p.contents(mix) {
		if !slices.Contains(excluded, product) && p.selects(s, product, mix) {
			return true
		}
	}
	return false
}

// leavesBehind says whether a rule lies between two mixes: it names a product
// of the earlier one that is not in the later one, and a product of the later.
func (p *Problem) leavesBehind(r *Rule, earlier, later int) bool {
	return earlier != later && p.selectsAny(r.After, earlier, later) && p.selectsAny(r.Before, later, None)
}

// RinseBetween returns the rinse level between two loads of a bay (R5), or
// None. An earlier mix of None needs no rinse.
func (p *Problem) RinseBetween(earlier, later int) int {
	level := None
	if earlier == None {
		return level
	}
	for i := range p.Rules {
		r := &p.Rules[i]
		if r.Where == InManifold && r.Level > level && p.leavesBehind(r, earlier, later) {
			level = r.Level
		}
	}
	return level
}

// TankContents is a mix that was in a sprayer, and the crops it went on. A mix
// from before the day went on crops that are not known: Crops is nil.
type TankContents struct {
	Mix   int
	Crops []string
}

// CleanoutBetween returns the cleanout level that sprayer rules ask between
// two loads of a sprayer (R8), or None. A crop rule also holds for a product
// that both mixes have, unless the earlier load went on that crop too: residue
// of what the crop takes at full rate does it no harm.
func (p *Problem) CleanoutBetween(earlier, later TankContents) int {
	level := None
	for i := range p.Rules {
		r := &p.Rules[i]
		if r.Where == InSprayer && r.Level > level && p.needsCleanout(r, earlier, later) {
			level = r.Level
		}
	}
	return level
}

func (p *Problem) needsCleanout(r *Rule, earlier, later TankContents) bool {
	if r.Before.Kind != SelectCrop {
		return p.leavesBehind(r, earlier.Mix, later.Mix)
	}
	crop := r.Before.Name
	if !slices.Contains(later.Crops, crop) {
		return false
	}
	if slices.Contains(earlier.Crops, crop) {
		return p.selectsAny(r.After, earlier.Mix, later.Mix)
	}
	return p.selectsAny(r.After, earlier.Mix, None)
}

// separates says whether a sprayer rule treats two crops differently.
func (p *Problem) separates(crop, other string) bool {
	return crop != other && slices.ContainsFunc(p.Rules, func(r Rule) bool {
		return r.Where == InSprayer && r.Before.Kind == SelectCrop && (r.Before.Name == crop || r.Before.Name == other)
	})
}

// tankBreach looks for two products of a mix that a tank rule forbids to share
// it; the rule holds both ways. Here * is every product but plain water: a
// product that may share a tank with nothing still needs its carrier.
func (p *Problem) tankBreach(mix int, r Rule) (x, y int, broken bool) {
	list := p.contents(mix)
	meet := func(s Selector, product int) bool {
		return (s.Kind != SelectAll || product != None) && p.selects(s, product, mix)
	}
	for i, x := range list {
		for _, y := range list[i+1:] {
			if meet(r.After, x) && meet(r.Before, y) || meet(r.After, y) && meet(r.Before, x) {
				return x, y, true
			}
		}
	}
	return None, None, false
}

// Applies says whether a hold keeps a part of a load from being sprayed (R9).
func (h *Hold) Applies(p *Problem, sprayer, job int) bool {
	s := &h.Scope
	j := &p.Jobs[job]
	switch {
	case s.Bay != None:
		return false
	case s.Sprayer != None:
		return s.Sprayer == sprayer
	case s.Field != "":
		return s.Field == j.Field
	case s.Product != "":
		return p.selectsAny(Selector{SelectProduct, s.Product}, j.Mix, None)
	case s.Group != "":
		return p.selectsAny(Selector{SelectGroup, s.Group}, j.Mix, None)
	}
	return true
}

// anyBayGives says whether some bay has a carrier.
func (p *Problem) anyBayGives(carrier int) bool {
	return slices.ContainsFunc(p.Bays, func(b Bay) bool { return slices.Contains(b.Carriers, carrier) })
}

// connectedAnywhere says whether a product is on a connection at the opening.
func (p *Problem) connectedAnywhere(product int) bool {
	return slices.ContainsFunc(p.Bays, func(b Bay) bool {
		return slices.Contains(b.Plumbed, product) || slices.Contains(b.Hooked, product)
	})
}

// stocked says whether any of a product is in stock or comes today.
func (p *Problem) stocked(product int) bool {
	return p.Products[product].OnHand() > 0 ||
		slices.ContainsFunc(p.Deliveries, func(d Delivery) bool { return d.Product == product })
}
