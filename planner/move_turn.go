package planner

import "slices"

// turnBlock turns a stretch of the sequence round. Where a load costs by what its
// neighbours are, little but the two ends of the stretch changes.
func turnBlock(w *walker, c *candidate) bool {
	n := len(c.sequence)
	if n < 3 {
		return false
	}
	i, j := w.rng.IntN(n), w.rng.IntN(n)
	if i == j {
		return false
	}
	slices.Reverse(c.sequence[min(i, j) : max(i, j)+1])
	return true
}
