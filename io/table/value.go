package table

import (
	"fmt"
	"regexp"
	"strings"
	"unicode"

	"github.com/agnivade/levenshtein"

	"padturn/model"
)

var clockTime = regexp.MustCompile(`^([01][0-9]|2[0-3]):([0-5][0-9])(\+1)?$`)

// ParseClock reads a time of day as HH:MM, with +1 behind it for the next day.
func ParseClock(text string) (model.Clock, error) {
	m := clockTime.FindStringSubmatch(text)
	if m == nil {
		return 0, fmt.Errorf("expected a time as HH:MM from 00:00 to 23:59, or HH:MM+1 for the next day")
	}
	hours, minutes := twoDigits(m[1]), twoDigits(m[2])
	if m[3] != "" {
		hours += 24
	}
	return model.Clock(hours*3600 + minutes*60), nil
}

func twoDigits(s string) int { return int(s[0]-'0')*10 + int(s[1]-'0') }

// ParseYesNo reads yes or no, in any case.
func ParseYesNo(text string) (bool, error) {
	switch strings.ToLower(text) {
	case "yes":
		return true, nil
	case "no":
		return false, nil
	}
	return false, fmt.Errorf("expected yes or no")
}

// CheckName refuses a name that would be misread where names are used: a
// spreadsheet takes = + - @ at the start for a formula, plan files put ; and =
// between names, | is for tables in messages, and characters that cannot be
// seen make two names look like one.
func CheckName(name string) error {
	if name != "" && strings.ContainsRune("=+-@", rune(name[0])) {
		return fmt.Errorf("starts with %q; a name may not start with = + - @", name[:1])
	}
	for _, r := range name {
		switch {
		case strings.ContainsRune(";=|", r):
			return fmt.Errorf("holds %q; a name may not hold ; = |", r)
		case unicode.IsControl(r), unicode.Is(unicode.Cf, r), unicode.Is(unicode.Zl, r), unicode.Is(unicode.Zp, r):
			return fmt.Errorf("holds the invisible character %U; remove it", r)
		}
	}
	return nil
}

// maxTypos is how many letters a word may be off to be offered.
const maxTypos = 2

// DidYouMean returns a half sentence that offers the nearest of the known
// words, or nothing.
func DidYouMean(word string, known []string) string {
	best, bestDistance := "", maxTypos+1
	for _, k := range known {
		d := levenshtein.ComputeDistance(word, k)
		if d < bestDistance && d < max(len(k), 2) {
			best, bestDistance = k, d
		}
	}
	if best == "" {
		return ""
	}
	return fmt.Sprintf("; did you mean %q?", best)
}
