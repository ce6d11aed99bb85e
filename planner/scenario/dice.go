package scenario

import (
	"math/rand/v2"

	"padturn/model"
)

// dice draws what a day is made of.
type dice struct{ *rand.Rand }

// chance is true percent times in a hundred.
func (d dice) chance(percent int) bool { return d.IntN(100) < percent }

// whole draws a whole number, both ends included.
func (d dice) whole(low, high int) int { return low + d.IntN(high-low+1) }

// decimal draws a number between two whole ones, with at most places digits
// after the point.
func (d dice) decimal(low, high, places int) model.Decimal {
	step := model.One
	for range places {
		step /= 10
	}
	return model.WholeDecimal(int64(low)) + step*model.Decimal(d.Int64N(int64(high-low)*int64(model.One/step)+1))
}

// clock draws a moment between two hours, on a step of so many seconds.
func (d dice) clock(fromHour, toHour, step int) model.Clock {
	return model.Clock(fromHour*3600 + d.IntN((toHour-fromHour)*3600/step+1)*step)
}

// pick draws one of a list.
func pick[T any](d dice, list ...T) T { return list[d.IntN(len(list))] }

// maybe draws a value percent times in a hundred, else a blank cell.
func maybe[T any](d dice, percent int, draw func() T) *T {
	if !d.chance(percent) {
		return nil
	}
	return model.Some(draw())
}
