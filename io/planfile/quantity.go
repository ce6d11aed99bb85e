package planfile

import (
	"fmt"
	"math/big"

	"padturn/model"
)

// Number is an exact decimal that plan.json has as a plain number, without
// trailing zeros and never with an exponent.
type Number model.Decimal

// String returns the number as plan.json has it.
func (n Number) String() string { return model.Decimal(n).String() }

// Fixed returns the number rounded to that many decimals, as the CSV files
// have it.
func (n Number) Fixed(places int) string { return model.Decimal(n).Fixed(places) }

// In turns an amount of one unit into another, to the nearest billionth; of a
// unit that there is not it stays as it is.
func (n Number) In(from, to string) Number {
	a, known := model.FindUnit(from)
	b, alsoKnown := model.FindUnit(to)
	if !known || !alsoKnown {
		return n
	}
	return Number(model.RoundRat(new(big.Rat).Mul(model.Decimal(n).Rat(), a.Per(b))))
}

// MarshalJSON writes the number digit by digit.
func (n Number) MarshalJSON() ([]byte, error) { return []byte(n.String()), nil }

// UnmarshalJSON reads a plain number; what [model.ParseDecimal] refuses is an
// error.
func (n *Number) UnmarshalJSON(text []byte) error {
	d, err := model.ParseDecimal(string(text))
	if err != nil {
		return fmt.Errorf("%s %w", text, err)
	}
	*n = Number(d)
	return nil
}

// Time is a moment of the day as the files have it: HH:MM:SS local time, with
// +1 after midnight.
type Time model.Clock

// String returns the time as the files have it.
func (t Time) String() string { return model.Clock(t).String() }

// MarshalText returns the time as the files have it.
func (t Time) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

// UnmarshalText reads a time as the files have it.
func (t *Time) UnmarshalText(text []byte) error {
	at, err := model.ParseClock(string(text))
	if err != nil {
		return fmt.Errorf("%q %w", text, err)
	}
	*t = Time(at)
	return nil
}

// timeOrNone leaves out a moment that never comes.
func timeOrNone(c model.Clock) *Time {
	if c >= model.Never {
		return nil
	}
	return new(Time(c))
}

func numberOrNone(d *model.Decimal) *Number {
	if d == nil {
		return nil
	}
	return new(Number(*d))
}
