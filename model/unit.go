package model

import (
	"fmt"
	"math/big"
	"slices"
	"strings"
)

// Dimension says what a unit measures.
type Dimension int

// The dimensions of a unit.
const (
	Volume Dimension = iota
	Mass
	Area
)

// Unit is a unit of volume, mass or area with its exact size in litres,
// kilograms or square metres.
type Unit struct {
	Name string
	Dim  Dimension
	size *big.Rat
}

// units is exact: NIST SP 811 appendix B and Handbook 44 appendix C. The acre
// is the international one of 43,560 square feet of 0.3048 m, which NIST has
// had in place of the survey acre since 2023 (they differ by 4 in a million).
var units = []Unit{
	{"gal", Volume, rat("3.785411784")},
	{"qt", Volume, rat("0.946352946")},
	{"pt", Volume, rat("0.473176473")},
	{"floz", Volume, rat("0.0295735295625")},
	{"L", Volume, rat("1")},
	{"mL", Volume, rat("0.001")},
	{"lb", Mass, rat("0.45359237")},
	{"oz", Mass, rat("0.028349523125")},
	{"kg", Mass, rat("1")},
	{"g", Mass, rat("0.001")},
	{"ac", Area, rat("4046.8564224")},
	{"ha", Area, rat("10000")},
}

func rat(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic("model: not a number: " + s)
	}
	return r
}

// FindUnit returns the unit of that name: gal, qt, pt, floz, L, mL, lb, oz,
// kg, g, ac or ha. Gallons and what derives from them are US; oz is a weight.
func FindUnit(name string) (Unit, bool) {
	i := slices.IndexFunc(units, func(u Unit) bool { return u.Name == name })
	if i < 0 {
		return Unit{}, false
	}
	return units[i], true
}

func mustUnit(name string) Unit {
	u, ok := FindUnit(name)
	if !ok {
		panic("model: no unit " + name)
	}
	return u
}

// StockUnitNames lists the units a product can be kept in.
func StockUnitNames() []string {
	var names []string
	for _, u := range units {
		if u.Dim != Area {
			names = append(names, u.Name)
		}
	}
	return names
}

// Per returns how many of unit to one unit u is, exactly. Both must have the
// same dimension.
func (u Unit) Per(to Unit) *big.Rat {
	if u.Dim != to.Dim {
		panic(fmt.Sprintf("model: %s and %s measure different things", u.Name, to.Name))
	}
	return new(big.Rat).Quo(u.size, to.size)
}

// ErrNeedsDensity is a conversion between volume and mass of a product whose
// density is not known.
var ErrNeedsDensity = fmt.Errorf("needs density_lb_gal to turn a weight into a volume or back")

// Convert returns how many of unit to one unit from is, exactly, for a product
// of the given density in lb/gal (nil: unknown). Its error is
// [ErrNeedsDensity].
func Convert(from, to Unit, densityLbGal *Decimal) (*big.Rat, error) {
	if from.Dim == to.Dim {
		return from.Per(to), nil
	}
	if densityLbGal == nil {
		return nil, ErrNeedsDensity
	}
	lb, gal := mustUnit("lb"), mustUnit("gal")
	if from.Dim == Volume {
		pounds := new(big.Rat).Mul(from.Per(gal), densityLbGal.Rat())
		return pounds.Mul(pounds, lb.Per(to)), nil
	}
	gallons := new(big.Rat).Quo(from.Per(lb), densityLbGal.Rat())
	return gallons.Mul(gallons, gal.Per(to)), nil
}

// RateBase is what a rate is given for.
type RateBase int

// The bases of a rate.
const (
	PerAcre    RateBase = iota // so much for each acre
	PerGallon                  // so much for each gallon of spray
	SprayShare                 // gallons for each gallon of spray
)

// RateUnit is a rate's unit, such as floz/ac, L/ha, lb/100gal or %v/v.
type RateUnit struct {
	Unit Unit // of the product
	Base RateBase
	// Factor turns a rate's number into Unit per acre, or Unit per gallon of
	// spray: 1 for /ac, 1/100 for /100gal and %v/v.
	Factor *big.Rat
}

// percentByVolume is the unit of a rate in per cent of the spray volume.
const percentByVolume = "%v/v"

// ParseRateUnit reads a rate unit.
func ParseRateUnit(s string) (RateUnit, error) {
	if s == percentByVolume {
		return RateUnit{mustUnit("gal"), SprayShare, big.NewRat(1, 100)}, nil
	}
	name, base, _ := strings.Cut(s, "/")
	unit, ok := FindUnit(name)
	if !ok || unit.Dim == Area {
		return RateUnit{}, errRateUnit
	}
	switch base {
	case "ac":
		return RateUnit{unit, PerAcre, big.NewRat(1, 1)}, nil
	case "ha":
		return RateUnit{unit, PerAcre, mustUnit("ac").Per(mustUnit("ha"))}, nil
	case "100gal":
		return RateUnit{unit, PerGallon, big.NewRat(1, 100)}, nil
	case "100L":
		factor := mustUnit("gal").Per(mustUnit("L"))
		return RateUnit{unit, PerGallon, factor.Quo(factor, big.NewRat(100, 1))}, nil
	}
	return RateUnit{}, errRateUnit
}

var errRateUnit = fmt.Errorf("expected one of %s per ac, ha, 100gal or 100L (such as floz/ac, kg/ha, lb/100gal), or %s",
	strings.Join(StockUnitNames(), ", "), percentByVolume)
