package table

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"padturn/model"
)

// tooLarge is the least number with ten digits before the point. Sums of two
// numbers below it fit a [model.Decimal].
const tooLarge = 1_000_000_000 * model.One

var (
	plainNumber = regexp.MustCompile(`^-?(0|[1-9][0-9]*)(\.[0-9]+)?$`)
	thousands   = regexp.MustCompile(`^[-+]?[0-9]{1,3}(,[0-9]{3})+(\.[0-9]*)?$`)
	commaNumber = regexp.MustCompile(`^[-+]?[0-9]+,[0-9]+$`)
	padded      = regexp.MustCompile(`^-?0[0-9]+(\.[0-9]+)?$`)
	nakedPoint  = regexp.MustCompile(`^-?(\.[0-9]+|[0-9]+\.)$`)
	withUnit    = regexp.MustCompile(`^-?[0-9]+(\.[0-9]+)?\s*[\pL%/$].*$`)
	exponent    = regexp.MustCompile(`^[-+]?[0-9.]+[eE][-+]?[0-9]+$`)
	notFinite   = regexp.MustCompile(`(?i)^[-+]?\.?(nan|inf|infinity)$`)
)

// ParseDecimal reads a plain number: digits with at most one point, at most
// nine digits on either side of it, and a minus where it is negative. Nothing
// else is taken for a number, because each guess ("1,200" as 1.2, say) can be
// a wrong tank. Its error says what to write, in words that can follow the
// value.
func ParseDecimal(text string) (model.Decimal, error) {
	d, err := model.ParseDecimal(text)
	switch {
	case errors.Is(err, model.ErrNotPlain):
		return 0, errors.New(whyNotPlain(text))
	case errors.Is(err, model.ErrTooLarge), max(d, -d) >= tooLarge:
		return 0, errors.New("is too large; at most 9 digits may stand before the point")
	}
	return d, err
}

// whyNotPlain says what is wrong with a text that is no plain number, and
// where it can be guessed what was meant, how to write it.
func whyNotPlain(text string) string {
	if len(text) > maxShown {
		return "is not a plain number; it has too many characters for one"
	}
	withoutCommas := strings.ReplaceAll(text, ",", "")
	switch {
	case thousands.MatchString(text) && strings.Count(text, ",") == 1 && !strings.Contains(text, "."):
		point := strings.TrimRight(strings.TrimRight(strings.Replace(text, ",", ".", 1), "0"), ".")
		return fmt.Sprintf("is not a plain number; write %s if the comma is between thousands, %s if it is a decimal comma", withoutCommas, point)
	case thousands.MatchString(text):
		return fmt.Sprintf("is not a plain number; write %s, not %s", withoutCommas, text)
	case commaNumber.MatchString(text):
		return fmt.Sprintf("is not a plain number; write %s, not %s", strings.Replace(text, ",", ".", 1), text)
	case padded.MatchString(text):
		return "is not a plain number; leave out the zeros before it"
	case nakedPoint.MatchString(text):
		return "is not a plain number; a point needs digits on both sides, such as 0.5"
	case exponent.MatchString(text):
		return "is not a plain number; write it without an exponent"
	case notFinite.MatchString(text):
		return "is not a number"
	case withUnit.MatchString(text):
		return "is not a plain number; write only the number, without a unit"
	}
	return "is not a plain number; write digits with at most one point, such as 40.5"
}

// ParseCount reads a whole number.
func ParseCount(text string) (model.Decimal, error) {
	d, err := ParseDecimal(text)
	if err == nil && d%model.One != 0 {
		return 0, fmt.Errorf("is not a whole number")
	}
	return d, err
}

// ParseDegrees reads a latitude (limit 90) or a longitude (limit 180) in
// decimal degrees, with any number of digits after the point.
func ParseDegrees(text string, limit float64) (float64, error) {
	if !plainNumber.MatchString(text) {
		return 0, fmt.Errorf("%s", whyNotPlain(text))
	}
	degrees, err := strconv.ParseFloat(text, 64)
	if err != nil || degrees < -limit || degrees > limit {
		return 0, fmt.Errorf("expected decimal degrees from -%g to %g", limit, limit)
	}
	return degrees, nil
}
