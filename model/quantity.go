package model

import (
	"fmt"
	"math/big"
	"strconv"
	"strings"
)

// Decimal is an exact decimal number in billionths. A field's comment names
// the unit; Decimal(1_500_000_000) in a field of acres is 1.5 acres.
type Decimal int64

// One is the Decimal 1.
const One Decimal = 1_000_000_000

// DecimalPlaces is how many digits after the point a Decimal keeps.
const DecimalPlaces = 9

// WholeDecimal returns n as a Decimal.
func WholeDecimal(n int64) Decimal { return Decimal(n) * One }

// Some returns a pointer to v, for fields that may be left out.
func Some[T any](v T) *T { return &v }

// Rat returns d exactly.
func (d Decimal) Rat() *big.Rat { return big.NewRat(int64(d), int64(One)) }

// Float returns d rounded to the nearest float64, for printing and for bounds
// of display only.
func (d Decimal) Float() float64 { return float64(d) / float64(One) }

// Fixed returns d with exactly places digits after the point (0 to 9), rounded
// half away from zero.
func (d Decimal) Fixed(places int) string {
	scale := int64(1)
	for range DecimalPlaces - places {
		scale *= 10
	}
	n, sign := int64(d), ""
	if n < 0 {
		n, sign = -n, "-"
	}
	n = (n + scale/2) / scale
	if n == 0 {
		sign = ""
	}
	digits := strconv.FormatInt(n, 10)
	if places == 0 {
		return sign + digits
	}
	if len(digits) <= places {
		digits = strings.Repeat("0", places+1-len(digits)) + digits
	}
	return sign + digits[:len(digits)-places] + "." + digits[len(digits)-places:]
}

// String returns d without trailing zeros: 12.5, 40, 0.375.
func (d Decimal) String() string {
	s := d.Fixed(DecimalPlaces)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// RoundRat returns r to the nearest Decimal, half away from zero.
func RoundRat(r *big.Rat) Decimal {
	scaled := new(big.Rat).Mul(r, new(big.Rat).SetInt64(int64(One)))
	num := new(big.Int).Abs(scaled.Num())
	num.Add(num.Lsh(num, 1), scaled.Denom()) // 2·|n| + d
	num.Quo(num, new(big.Int).Lsh(scaled.Denom(), 1))
	if r.Sign() < 0 {
		num.Neg(num)
	}
	return Decimal(num.Int64())
}

// Seconds is a duration in whole seconds.
type Seconds int64

// Hours returns s in hours.
func (s Seconds) Hours() float64 { return float64(s) / 3600 }

// CeilSeconds rounds an exact number of seconds up to whole ones: the one
// rounding that a duration gets. What takes longer than until [Never], as with
// absurd settings, takes just that.
func CeilSeconds(seconds *big.Rat) Seconds {
	if seconds.Cmp(big.NewRat(int64(Never), 1)) >= 0 {
		return Seconds(Never)
	}
	return Seconds(ceil(seconds))
}

// ceil returns the smallest whole number that is not below r.
func ceil(r *big.Rat) int64 {
	q, m := new(big.Int).DivMod(r.Num(), r.Denom(), new(big.Int))
	if m.Sign() > 0 {
		q.Add(q, big.NewInt(1))
	}
	return q.Int64()
}

// CeilMinutes returns a duration given in minutes, rounded up to whole seconds.
func CeilMinutes(minutes Decimal) Seconds {
	return CeilSeconds(new(big.Rat).Mul(minutes.Rat(), big.NewRat(60, 1)))
}

// Clock is a moment in whole seconds after 00:00 local time of the day that is
// planned; moments past midnight are 86,400 and more.
type Clock int64

const (
	secondsPerDay Clock = 86_400
	// Never is later than any moment of a day.
	Never Clock = 1 << 40
)

// String returns c as HH:MM:SS, with "+1" after midnight, as plan files have it.
func (c Clock) String() string {
	day, rest := c/secondsPerDay, c%secondsPerDay
	s := fmt.Sprintf("%02d:%02d:%02d", rest/3600, rest/60%60, rest%60)
	if day > 0 {
		s += "+" + strconv.FormatInt(int64(day), 10)
	}
	return s
}

// HHMM returns c as HH:MM, rounded down to the minute, for people.
func (c Clock) HHMM() string {
	s := (c - c%60).String()
	return s[:5] + s[8:]
}

// Money is a sum in 1/3600 micro-dollars, so that seconds × (dollars an hour)
// stays a whole number.
type Money int64

// Dollar is one dollar.
const Dollar Money = 3600 * 1_000_000

// Dollars returns m in dollars, for printing.
func (m Money) Dollars() float64 { return float64(m) / float64(Dollar) }

// DollarsDecimal returns m in dollars, rounded to the nearest billionth.
func (m Money) DollarsDecimal() Decimal {
	return RoundRat(big.NewRat(int64(m), int64(Dollar)))
}

// HourlyRate is a price of time in micro-dollars an hour; a rate times Seconds
// is Money.
type HourlyRate int64

// RatePerHour turns dollars an hour into an HourlyRate, to the micro-dollar.
func RatePerHour(dollars Decimal) HourlyRate { return HourlyRate(roundDiv(int64(dollars), 1000)) }

// For returns the price of a duration.
func (r HourlyRate) For(s Seconds) Money { return Money(int64(r) * int64(s)) }

// MoneyFromRat turns exact dollars into Money, rounded to the nearest unit.
func MoneyFromRat(dollars *big.Rat) Money {
	micro := new(big.Rat).Mul(dollars, big.NewRat(int64(Dollar), int64(One)))
	return Money(RoundRat(micro))
}

// roundDiv divides to the nearest whole number, half away from zero.
func roundDiv(a, b int64) int64 {
	if a < 0 {
		return -roundDiv(-a, b)
	}
	return (a + b/2) / b
}
