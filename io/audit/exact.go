package audit

import (
	"math/big"

	"padturn/model"
)

var (
	// halfPlace is what a figure of four decimals can be off by rounding, and a
	// millionth for the billionths it was rounded from.
	halfPlace = big.NewRat(51, 1_000_000)
	// enough is by how much a need may be above the stock and still be met.
	enough = big.NewRat(1, 1_000_000)
)

func whole(n int64) *big.Rat { return new(big.Rat).SetInt64(n) }

func add(a, b *big.Rat) *big.Rat { return new(big.Rat).Add(a, b) }

func sub(a, b *big.Rat) *big.Rat { return new(big.Rat).Sub(a, b) }

func mul(a, b *big.Rat) *big.Rat { return new(big.Rat).Mul(a, b) }

// quo divides; what is divided by nothing is nothing, for a day with a zero
// where none belongs is turned away before a plan is made.
func quo(a, b *big.Rat) *big.Rat {
	if b.Sign() == 0 {
		return new(big.Rat)
	}
	return new(big.Rat).Quo(a, b)
}

func less(a, b *big.Rat) bool { return a.Cmp(b) < 0 }

func smaller(a, b *big.Rat) *big.Rat {
	if less(a, b) {
		return a
	}
	return b
}

func larger(a, b *big.Rat) *big.Rat {
	if less(a, b) {
		return b
	}
	return a
}

// near says whether a and b are at most tolerance apart.
func near(a, b, tolerance *big.Rat) bool {
	difference := sub(a, b)
	return difference.Abs(difference).Cmp(tolerance) <= 0
}

// roundUp returns the smallest whole number not below r, held within what a
// day can need.
func roundUp(r *big.Rat) int64 {
	const most = 1 << 40
	quotient, rest := new(big.Int).DivMod(r.Num(), r.Denom(), new(big.Int))
	if rest.Sign() > 0 {
		quotient.Add(quotient, big.NewInt(1))
	}
	if !quotient.IsInt64() || quotient.Int64() > most {
		return most
	}
	return max(quotient.Int64(), -most)
}

// minutes turns minutes into whole seconds, rounded up.
func minutes(m *big.Rat) model.Clock { return model.Clock(roundUp(mul(m, whole(60)))) }

// hours is a span in hours, exactly.
func hours(span model.Clock) *big.Rat { return big.NewRat(int64(span), 3600) }

// decimal returns an optional number of the day, or what stands for a blank.
func decimal(d *model.Decimal, blank *big.Rat) *big.Rat {
	if d == nil {
		return blank
	}
	return d.Rat()
}

// moment returns an optional moment of the day, or what stands for a blank.
func moment(c *model.Clock, blank model.Clock) model.Clock {
	if c == nil {
		return blank
	}
	return *c
}

// fixed writes r with the four decimals of the plan files.
func fixed(r *big.Rat) string { return r.FloatString(4) }
