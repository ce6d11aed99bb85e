package terminal

import (
	"fmt"
	"math/big"
	"strings"

	"padturn/io/planfile"
	"padturn/model"
)

// units turns the plan's acres and gallons into what the day is printed in,
// exactly, at the last moment.
type units struct{ metric bool }

func (u units) areaUnit() string {
	if u.metric {
		return "ha"
	}
	return "ac"
}

func (u units) volumeUnit() string {
	if u.metric {
		return "L"
	}
	return "gal"
}

// area has one decimal.
func (u units) area(acres planfile.Number) string {
	return acres.In("ac", u.areaUnit()).Fixed(1)
}

// volume has none.
func (u units) volume(gal planfile.Number) string {
	return gal.In("gal", u.volumeUnit()).Fixed(0)
}

// hhmm is a moment to the minute.
func hhmm(t planfile.Time) string { return model.Clock(t).HHMM() }

// minutes are the seconds up to the minute that a moment is printed with, so that
// the span between two printed moments is the printed one.
func minutes(t planfile.Time) int64 { return int64(t) / 60 * 60 }

// hours is a duration as h:mm, to the nearest minute.
func hours(seconds int64) string {
	m := (seconds + 30) / 60
	return fmt.Sprintf("%d:%02d", m/60, m%60)
}

// hoursOrDash keeps a table quiet where there is nothing.
func hoursOrDash(seconds int64) string {
	if seconds == 0 {
		return "-"
	}
	return hours(seconds)
}

// stockAmount has at most two decimals.
func stockAmount(n planfile.Number) string {
	return strings.TrimSuffix(strings.TrimRight(n.Fixed(2), "0"), ".")
}

func dollars(n planfile.Number) string { return "$" + n.Fixed(2) }

// percent is part as a share of whole, with one decimal.
func percent(part, whole planfile.Number) string {
	if whole == 0 {
		return "0.0 %"
	}
	share := new(big.Rat).SetFrac64(int64(part), int64(whole))
	return model.RoundRat(share.Mul(share, big.NewRat(100, 1))).Fixed(1) + " %"
}

// count is a number with its noun.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
