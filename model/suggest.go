package model

import (
	"fmt"
	"strings"
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
// such as `; did you mean "corn pre"?`, or nothing where none is near. Case does
// not count; of equally near words the first is offered.
func Suggest(word string, known []string) string {
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
		return ""
	}
	return fmt.Sprintf("; did you mean %q?", best)
}
