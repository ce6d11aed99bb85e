package handout

import (
	"fmt"
	"math/big"
	"strings"

	"padturn/io/planfile"
	"padturn/model"
)

// substance is a product as it is measured: in which unit and how finely.
type substance struct {
	planfile.Product
	dry    bool
	unit   model.Unit // stock unit
	amount Scale      // as it is metered, poured or weighed
	weight *Scale     // of a liquid whose density is known
}

// substances looks up every product of the plan, and chooses its scales by the
// smallest dose that a load takes of it.
func substances(d *planfile.Document, by ladders) map[string]*substance {
	smallest := map[string]*big.Rat{}
	for _, l := range d.Loads {
		for _, s := range l.Steps {
			dose := model.Decimal(s.Amount).Rat()
			if least := smallest[s.Product]; dose.Sign() > 0 && (least == nil || dose.Cmp(least) < 0) {
				smallest[s.Product] = dose
			}
		}
	}
	out := map[string]*substance{}
	for _, p := range d.Products {
		out[p.Product] = newSubstance(p, smallest[p.Product], by)
	}
	return out
}

func newSubstance(p planfile.Product, smallest *big.Rat, by ladders) *substance {
	if p.DensityLbGal != nil && *p.DensityLbGal <= 0 {
		p.DensityLbGal = nil
	}
	s := &substance{Product: p}
	if form, ok := model.FindFormulation(p.Form); ok {
		s.dry = form.Dry
	}
	s.unit, _ = model.FindUnit(p.Unit)
	if smallest == nil {
		smallest = new(big.Rat)
	}
	s.amount = s.pick(s.ladder(by), smallest)
	if !s.dry && p.DensityLbGal != nil {
		w := s.pick(by.weighed, smallest)
		s.weight = &w
	}
	return s
}

// ladder is how the product is measured. One that is kept by weight and has no
// density can only be weighed, and so the other way round.
func (s *substance) ladder(by ladders) ladder {
	volume := !s.dry
	if s.DensityLbGal == nil {
		volume = s.unit.Dim == model.Volume
	}
	switch {
	case !volume:
		return by.weighed
	case s.Handling == planfile.SourceMetered:
		return by.metered
	}
	return by.poured
}

func (s *substance) pick(from ladder, smallest *big.Rat) Scale {
	coarsest, _ := model.FindUnit(from[0].Unit)
	return from.pick(s.convert(smallest, s.unit, coarsest), coarsest)
}

// convert turns an exact amount of the product from one unit into another.
func (s *substance) convert(amount *big.Rat, from, to model.Unit) *big.Rat {
	factor, err := model.Convert(from, to, (*model.Decimal)(s.DensityLbGal))
	if err != nil {
		panic(fmt.Sprintf("handout: %s: %s to %s: %v", s.Product.Product, from.Name, to.Name, err))
	}
	return factor.Mul(factor, amount)
}

// exact turns an amount in the stock unit into the unit of a scale.
func (s *substance) exact(stock *big.Rat, to Scale) *big.Rat {
	unit, _ := model.FindUnit(to.Unit)
	return s.convert(stock, s.unit, unit)
}

// pack is what jugs and bags of the product are called.
func (s *substance) pack() string {
	for _, c := range s.Containers {
		if c.Container == "jug" || c.Container == "bag" {
			return c.Container
		}
	}
	if s.dry {
		return "bag"
	}
	return "jug"
}

// measure says how an amount is measured: whole jugs or bags, then what is
// poured or weighed out of the next.
func (s *substance) measure(a Amount) string {
	if s.Handling == planfile.SourceMetered {
		return a.String() // as the meter shows it
	}
	if s.Pack == nil || *s.Pack <= 0 {
		return finely(a)
	}
	packs, rest := s.packs(a)
	size := s.Pack.String() + " " + unitWord(s.Unit)
	switch {
	case packs == 0:
		return finely(a) + " of one " + s.pack()
	case rest.Steps == 0:
		return fmt.Sprintf("%s of %s", model.Count(int(packs), s.pack()), size)
	}
	return fmt.Sprintf("%s of %s + %s", model.Count(int(packs), s.pack()), size, finely(rest))
}

// packs divides a printed amount into whole packs and the rest, to the step.
func (s *substance) packs(a Amount) (whole int64, rest Amount) {
	pack := s.exact(model.Decimal(*s.Pack).Rat(), a.Scale)
	n := new(big.Rat).Quo(a.Exact(), pack)
	whole = new(big.Int).Quo(n.Num(), n.Denom()).Int64()
	taken := new(big.Rat).Mul(pack, new(big.Rat).SetInt64(whole))
	rest = Amount{a.Scale.round(new(big.Rat).Sub(a.Exact(), taken)), a.Scale}
	if rest.Steps > 0 && rest.Steps >= a.Scale.round(pack) {
		return whole + 1, Amount{0, a.Scale}
	}
	return whole, rest
}

// finely is an amount in the units of measuring cups and scales: gallons and
// fluid ounces, or pints where they come out even; pounds and ounces.
func finely(a Amount) string {
	switch a.Scale.Unit {
	case "floz":
		return twoUnits(a, 128, "gal", pints)
	case "oz":
		return twoUnits(a, 16, "lb", Amount.String)
	}
	return a.String()
}

// twoUnits splits an amount into whole large units and the rest.
func twoUnits(a Amount, perLarge int64, large string, small func(Amount) string) string {
	per := perLarge * a.Scale.perUnit().Num().Int64()
	whole, rest := a.Steps/per, Amount{a.Steps % per, a.Scale}
	var parts []string
	if whole > 0 {
		parts = append(parts, fmt.Sprintf("%d %s", whole, large))
	}
	if rest.Steps > 0 || whole == 0 {
		parts = append(parts, small(rest))
	}
	return strings.Join(parts, " ")
}

func pints(a Amount) string {
	perPint := 16 * a.Scale.perUnit().Num().Int64()
	if a.Steps > 0 && a.Steps%perPint == 0 {
		return fmt.Sprintf("%d pt", a.Steps/perPint)
	}
	return a.String()
}
