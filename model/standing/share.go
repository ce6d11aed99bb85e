package standing

import (
	"math/big"

	"padturn/model"
)

// share is the part of an amount that work of one length makes of another,
// rounded to the nearest billionth.
func share(amount model.Decimal, done, length model.Clock) model.Decimal {
	if length <= 0 || done >= length {
		return amount
	}
	part := new(big.Rat).Mul(amount.Rat(), big.NewRat(int64(done), int64(length)))
	return model.RoundRat(part)
}

// partOf is the time that some of a part's acres take, rounded up.
func partOf(whole model.Seconds, acres, of model.Decimal) model.Clock {
	if acres >= of {
		return model.Clock(whole)
	}
	part := new(big.Rat).Mul(big.NewRat(int64(whole), 1), big.NewRat(int64(acres), int64(of)))
	return model.Clock(model.CeilSeconds(part))
}
