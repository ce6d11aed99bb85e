package table

import (
	"fmt"
	"strings"
	"unicode"
)

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
