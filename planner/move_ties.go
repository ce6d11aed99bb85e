package planner

// drawEarly lists a product of a load that wants more than its bay has connections
// to be drawn early and to make room, or takes its list away: see Decisions.Off.
// Without lists a sequence needs the fewest changeovers there are; but which tote
// hangs where can make others cheaper.
func drawEarly(w *walker, c *candidate) bool {
	if len(c.sequence) == 0 {
		return false
	}
	i := w.rng.IntN(len(c.sequence))
	x, k := &c.sequence[i], 0
	for _, before := range c.sequence[:i] {
		if before.sprayer == x.sprayer {
			k++
		}
	}
	l := c.chains[x.sprayer][k]
	if !w.e.in.bays[x.bay].isCrowded(l) {
		return false
	}
	if x.off != 0 {
		x.off = 0
		return true
	}
	x.off = 1 << l.metered[w.rng.IntN(len(l.metered))].n // none where it is beyond a list
	return x.off != 0
}
