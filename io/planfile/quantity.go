package planfile

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

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

// MarshalJSON writes the number digit by digit.
func (n Number) MarshalJSON() ([]byte, error) { return []byte(n.String()), nil }

// UnmarshalJSON reads a plain number. More than nine decimals, an exponent, or
// a number too large to be kept exactly is an error.
func (n *Number) UnmarshalJSON(text []byte) error {
	d, err := parseDecimal(string(text))
	if err != nil {
		return err
	}
	*n = Number(d)
	return nil
}

var plainNumber = regexp.MustCompile(`^(-?\d+)(?:\.(\d{1,9}))?$`)

func parseDecimal(s string) (model.Decimal, error) {
	parts := plainNumber.FindStringSubmatch(s)
	if parts == nil {
		return 0, fmt.Errorf("%s is not a plain number with at most %d decimals", s, model.DecimalPlaces)
	}
	fraction := parts[2] + strings.Repeat("0", model.DecimalPlaces-len(parts[2]))
	billionths, err := strconv.ParseInt(parts[1]+fraction, 10, 64)
	if err != nil {
		return 0, fmt.Errorf("%s is too large", s)
	}
	return model.Decimal(billionths), nil
}

// Time is a moment of the day as the files have it: HH:MM:SS local time, with
// +1 after midnight.
type Time model.Clock

// String returns the time as the files have it.
func (t Time) String() string { return model.Clock(t).String() }

// MarshalText returns the time as the files have it.
func (t Time) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

var writtenTime = regexp.MustCompile(`^([01]\d|2[0-3]):([0-5]\d):([0-5]\d)(?:\+([1-9]\d?))?$`)

// UnmarshalText reads a time as the files have it.
func (t *Time) UnmarshalText(text []byte) error {
	parts := writtenTime.FindStringSubmatch(string(text))
	if parts == nil {
		return fmt.Errorf("%q is not a time; expected HH:MM:SS, or HH:MM:SS+1 after midnight", text)
	}
	var total int64
	for i, factor := range []int64{3600, 60, 1, 86_400} {
		n, _ := strconv.ParseInt(parts[i+1], 10, 64) // digits, or nothing for the same day
		total += n * factor
	}
	*t = Time(total)
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
