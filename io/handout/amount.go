package handout

import (
	"math/big"
	"strconv"
	"strings"

	"padturn/model"
)

// Scale is what an amount is printed in: a unit of model, and how many digits
// follow the point.
type Scale struct {
	Unit   string
	Places int
}

// Amount is a printed amount: a whole number of a scale's smallest steps.
type Amount struct {
	Steps int64
	Scale Scale
}

// perUnit is how many steps a unit has.
func (s Scale) perUnit() *big.Rat {
	return new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(s.Places)), nil))
}

// round returns how many whole steps an exact number of units is, half a step
// up. The number is not negative.
func (s Scale) round(units *big.Rat) int64 {
	steps := new(big.Rat).Mul(units, s.perUnit())
	twice := new(big.Int).Lsh(steps.Num(), 1)
	twice.Add(twice, steps.Denom())
	return twice.Quo(twice, new(big.Int).Lsh(steps.Denom(), 1)).Int64()
}

// Exact returns the amount in its unit.
func (a Amount) Exact() *big.Rat {
	return new(big.Rat).Quo(new(big.Rat).SetInt64(a.Steps), a.Scale.perUnit())
}

// Number returns the amount without its unit: 93.8.
func (a Amount) Number() string {
	digits := strconv.FormatInt(a.Steps, 10)
	if a.Scale.Places == 0 {
		return digits
	}
	if short := a.Scale.Places + 1 - len(digits); short > 0 {
		digits = strings.Repeat("0", short) + digits
	}
	point := len(digits) - a.Scale.Places
	return digits[:point] + "." + digits[point:]
}

// String returns the amount with its unit: 93.8 gal.
func (a Amount) String() string { return a.Number() + " " + unitWord(a.Scale.Unit) }

// plus adds an amount of the same scale.
func (a Amount) plus(b Amount) Amount {
	a.Steps += b.Steps
	return a
}

// unitWord is a unit of model, or a rate's, as people write it.
func unitWord(unit string) string { return strings.Replace(unit, "floz", "fl oz", 1) }

// A ladder lists scales from the coarsest to the finest.
type ladder []Scale

// The ladders of the two systems of units. Meters and tank gauges read
// gallons, jugs are finished with a measuring cup, bags on a scale.
type ladders struct {
	area, spray, metered, poured, weighed ladder
}

var usLadders = ladders{
	area:    ladder{{"ac", 1}, {"ac", 2}},
	spray:   ladder{{"gal", 0}, {"gal", 1}},
	metered: ladder{{"gal", 1}, {"gal", 2}, {"floz", 1}, {"floz", 2}},
	poured:  ladder{{"floz", 0}, {"floz", 1}, {"floz", 2}, {"floz", 3}},
	weighed: ladder{{"lb", 1}, {"oz", 1}, {"oz", 2}, {"oz", 3}},
}

var metricLadders = ladders{
	area:    ladder{{"ha", 1}, {"ha", 2}},
	spray:   ladder{{"L", 0}, {"L", 1}},
	metered: ladder{{"L", 1}, {"L", 2}, {"mL", 0}, {"mL", 1}},
	poured:  ladder{{"L", 2}, {"mL", 0}, {"mL", 1}},
	weighed: ladder{{"kg", 1}, {"kg", 2}, {"g", 0}, {"g", 1}},
}

// finest is what a step may be of the smallest amount that is printed to it.
var finest = big.NewRat(1, 100)

// pick returns the coarsest scale whose step is at most a hundredth of an
// exact amount in unit, else the finest there is.
func (l ladder) pick(smallest *big.Rat, unit model.Unit) Scale {
	most := new(big.Rat).Mul(smallest, finest)
	for _, s := range l {
		of, _ := model.FindUnit(s.Unit)
		step := new(big.Rat).Quo(of.Per(unit), s.perUnit())
		if step.Cmp(most) <= 0 {
			return s
		}
	}
	return l[len(l)-1]
}

// tally hands out the rounded shares of a growing sum: each is what the
// rounded sum grew by, so that all of them add up to the rounded total.
type tally struct {
	sum  *big.Rat
	told int64
}

func (t *tally) add(units *big.Rat, s Scale) Amount {
	if t.sum == nil {
		t.sum = new(big.Rat)
	}
	t.sum.Add(t.sum, units)
	before := t.told
	t.told = s.round(t.sum)
	return Amount{t.told - before, s}
}
