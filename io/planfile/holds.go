package planfile

import (
	"cmp"
	"math/big"
	"slices"

	"padturn/model"
)

func (b builder) holds() []Hold {
	out := each(b.p.Holds, func(h model.Hold) Hold {
		return Hold{From: Time(h.From), To: Time(h.To), Kind: h.Kind, Scope: b.scope(h.Scope), Reason: h.Reason}
	})
	slices.SortStableFunc(out, func(a, b Hold) int { return cmp.Compare(a.From, b.From) })
	return out
}

// scope writes what a hold applies to as holds.csv has it.
func (b builder) scope(s model.HoldScope) string {
	switch {
	case s.Sprayer != model.None:
		return "sprayer:" + b.p.Sprayers[s.Sprayer].Name
	case s.Bay != model.None:
		return "bay:" + b.p.Bays[s.Bay].Name
	case s.Field != "":
		return "field:" + s.Field
	case s.Product != "":
		return "product:" + s.Product
	case s.Group != "":
		return "@" + s.Group
	}
	return ""
}

// degrees keeps nine decimals, a tenth of a millimetre on the ground.
func degrees(d float64) *Number {
	r := new(big.Rat)
	if r.SetFloat64(d) == nil {
		return nil // not a number, which the input's check does not let through
	}
	return new(Number(model.RoundRat(r)))
}
