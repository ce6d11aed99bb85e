package model_test

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"padturn/model"
)

func TestDecimalPrinted(t *testing.T) {
	for _, row := range []struct {
		name   string
		d      model.Decimal
		places int
		fixed  string
		short  string
	}{
		{"whole", dec("40"), 4, "40.0000", "40"},
		{"no places", dec("12.5"), 0, "13", "12.5"},
		{"half goes away from zero", dec("0.00005"), 4, "0.0001", "0.00005"},
		{"half below zero too", dec("-0.00005"), 4, "-0.0001", "-0.00005"},
		{"below half", dec("0.000049999"), 4, "0.0000", "0.000049999"},
		{"never minus nothing", dec("-0.000049999"), 4, "0.0000", "-0.000049999"},
		{"carries into the whole part", dec("9.99995"), 4, "10.0000", "9.99995"},
		{"billionth", 1, 9, "0.000000001", "0.000000001"},
		{"zero", 0, 2, "0.00", "0"},
		{"negative", dec("-53.3333"), 2, "-53.33", "-53.3333"},
		{"a third of 160", dec("53.333333333"), 4, "53.3333", "53.333333333"},
	} {
		t.Run(row.name, func(t *testing.T) {
			assert.Equal(t, row.fixed, row.d.Fixed(row.places))
			assert.Equal(t, row.short, row.d.String())
		})
	}
}

func TestFixedIsWhatRationalsPrint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := model.Decimal(rapid.Int64Range(-1<<60, 1<<60).Draw(t, "d"))
		places := rapid.IntRange(0, 9).Draw(t, "places")
		want := d.Rat().FloatString(places) // rounds half away from zero, and keeps -0
		if rat(want).Sign() == 0 {
			want = new(big.Rat).FloatString(places)
		}
		require.Equal(t, want, d.Fixed(places))
	})
}

func TestRoundRat(t *testing.T) {
	for _, row := range []struct{ name, exact, want string }{
		{"third", "160/3", "53.333333333"},
		{"two thirds", "200/3", "66.666666667"},
		{"half a billionth", "1/2000000000", "0.000000001"},
		{"just under half", "999999999/2000000000000000000", "0"},
		{"half below zero", "-1/2000000000", "-0.000000001"},
		{"exact", "3/8", "0.375"},
		{"zero", "0", "0"},
	} {
		t.Run(row.name, func(t *testing.T) {
			assert.Equal(t, row.want, model.RoundRat(rat(row.exact)).String())
		})
	}
}

func TestDurationsAreRoundedUpOnce(t *testing.T) {
	for _, row := range []struct {
		name, seconds string
		want          model.Seconds
	}{
		{"whole", "60", 60},
		{"a hair over", "60000000001/1000000000", 61},
		{"a hair under", "59999999999/1000000000", 60},
		{"zero", "0", 0},
		{"a third", "1600/3", 534},
		{"longer than anyone waits", "1e40", model.Seconds(model.Never)},
	} {
		t.Run(row.name, func(t *testing.T) {
			assert.Equal(t, row.want, model.CeilSeconds(rat(row.seconds)))
		})
	}
	assert.Equal(t, model.Seconds(150), model.CeilMinutes(dec("2.5")))
	assert.Equal(t, model.Seconds(1), model.CeilMinutes(1), "a billionth of a minute")
	assert.InDelta(t, 1.5, model.Seconds(5400).Hours(), 1e-12)
}

func TestClockPrinted(t *testing.T) {
	for _, row := range []struct {
		name       string
		at         model.Clock
		long, hhmm string
	}{
		{"midnight", 0, "00:00:00", "00:00"},
		{"morning", 6*3600 + 5*60 + 9, "06:05:09", "06:05"},
		{"last second", 86_399, "23:59:59", "23:59"},
		{"next midnight", 86_400, "00:00:00+1", "00:00+1"},
		{"next day", 86_400 + 3600 + 59, "01:00:59+1", "01:00+1"},
		{"day after", 2*86_400 + 60, "00:01:00+2", "00:01+2"},
	} {
		t.Run(row.name, func(t *testing.T) {
			assert.Equal(t, row.long, row.at.String())
			assert.Equal(t, row.hhmm, row.at.HHMM())
		})
	}
}

func TestMoney(t *testing.T) {
	wait := model.RatePerHour(dec("250"))
	assert.Equal(t, 250*model.Dollar, wait.For(3600))
	assert.Equal(t, "0.069444444", wait.For(1).DollarsDecimal().String(), "250 / 3600")
	assert.Equal(t, model.HourlyRate(2), model.RatePerHour(dec("0.0000015")), "to the micro-dollar, half away from zero")
	assert.Equal(t, model.HourlyRate(-2), model.RatePerHour(dec("-0.0000015")))
	assert.Equal(t, model.Dollar/3, model.MoneyFromRat(rat("1/3")))
	assert.InDelta(t, 12.5, model.MoneyFromRat(rat("12.5")).Dollars(), 1e-12)
}

func TestSecondsOfPayAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rate := model.HourlyRate(rapid.Int64Range(0, 1_000_000_000).Draw(t, "micro-dollars an hour"))
		a := model.Seconds(rapid.Int64Range(0, 200_000).Draw(t, "a"))
		b := model.Seconds(rapid.Int64Range(0, 200_000).Draw(t, "b"))
		require.Equal(t, rate.For(a+b), rate.For(a)+rate.For(b))
	})
}
