package model

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// Errors of [ParseDecimal], in words that can follow the text.
var (
	ErrNotPlain = errors.New("is not a plain number")
	ErrTooLarge = errors.New("is too large to be kept exactly")
)

var plainNumber = regexp.MustCompile(`^(-?)(0|[1-9][0-9]*)(?:\.([0-9]+))?$`)

// ParseDecimal reads a plain number: digits with at most one point, at most
// nine of them behind it, and a minus where it is negative. It reads all that
// [Decimal.String] writes. Its error is [ErrNotPlain] or [ErrTooLarge], or says
// that there are too many digits after the point.
func ParseDecimal(text string) (Decimal, error) {
	m := plainNumber.FindStringSubmatch(text)
	if m == nil {
		return 0, ErrNotPlain
	}
	sign, whole, fraction := m[1], m[2], m[3]
	if len(fraction) > DecimalPlaces {
		return 0, fmt.Errorf("has %d digits after the point; at most %d are kept exactly", len(fraction), DecimalPlaces)
	}
	fraction += strings.Repeat("0", DecimalPlaces-len(fraction))
	billionths, err := strconv.ParseInt(sign+whole+fraction, 10, 64)
	if err != nil {
		return 0, ErrTooLarge
	}
	return Decimal(billionths), nil
}

var (
	writtenClock = regexp.MustCompile(`^([01][0-9]|2[0-3]):([0-5][0-9]):([0-5][0-9])(?:\+([1-9][0-9]?))?$`)
	writtenHHMM  = regexp.MustCompile(`^([01]?[0-9]|2[0-3]):([0-5][0-9])(?::00)?(?:\+(1))?$`)
)

// ParseClock reads a moment as [Clock.String] writes it: HH:MM:SS, and +1
// behind it for the next day.
func ParseClock(text string) (Clock, error) {
	m := writtenClock.FindStringSubmatch(text)
	if m == nil {
		return 0, errors.New("is not a time; expected HH:MM:SS, or HH:MM:SS+1 after midnight")
	}
	return clockOf(m[1], m[2], m[3], m[4]), nil
}

// ParseHHMM reads a time of day as people and their spreadsheets write it: HH:MM
// (also 6:30 and 06:30:00), and +1 behind it for
// the next day.
func ParseHHMM(text string) (Clock, error) {
	m := writtenHHMM.FindStringSubmatch(text)
	if m == nil {
		return 0, errors.New("expected a time as HH:MM from 00:00 to 23:59, or HH:MM+1 for the next day")
	}
	return clockOf(m[1], m[2], "", m[3]), nil
}

// clockOf adds up the parts of a time, each of them at most two digits; blank
// is none.
func clockOf(hours, minutes, seconds, days string) Clock {
	part := func(digits string) Clock {
		n, _ := strconv.Atoi(digits)
		return Clock(n)
	}
	return part(days)*secondsPerDay + part(hours)*3600 + part(minutes)*60 + part(seconds)
}
