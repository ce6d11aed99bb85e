package model

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/agnivade/levenshtein"
)

// maxTypos is how many letters even a long word may be off to be offered.
const maxTypos = 3

// typos is how many letters a known word may be off to be offered: half of
// its own (crop for corp, but not soy for corn).
func typos(known string) int {
	return min(max(utf8.RuneCountInString(known)/2, 1), maxTypos)
}

// Suggest returns a half sentence that offers the nearest of the known words,
// such as `; did you mean "corn pre"?`, or nothing where none is near.
func Suggest(word string, known []string) string {
	best := Nearest(word, known)
	if best == "" {
		return ""
	}
	return fmt.Sprintf("; did you mean %q?", best)
}

// Nearest returns the nearest of the known words, blank where none is near. Case does
// not count; of equally near words the first is taken. Where none is near, a known
// word that only goes on is: "atrazine 4 SC" for atrazine.
func Nearest(word string, known []string) string {
	best, bestDistance := "", maxTypos+1
	for _, k := range known {
		longer := utf8.RuneCountInString(word) - utf8.RuneCountInString(k)
		if k == "" || max(longer, -longer) > maxTypos {
			continue // spares the comparison with a huge cell
		}
		d := levenshtein.ComputeDistance(strings.ToLower(word), strings.ToLower(k))
		if d < bestDistance && d <= typos(k) {
			best, bestDistance = k, d
		}
	}
	if best == "" {
		return goesOn(word, known)
	}
	return best
}

// goesOn finds a known word that begins with a whole word and has more words after it.
func goesOn(word string, known []string) string {
	const least = 3 // letters that say enough
	for _, k := range known {
		if utf8.RuneCountInString(word) < least || len(k) <= len(word) || !strings.EqualFold(k[:len(word)], word) {
			continue
		}
		if next, _ := utf8.DecodeRuneInString(k[len(word):]); !unicode.IsLetter(next) {
			return k
		}
	}
	return ""
}
