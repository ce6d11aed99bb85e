package planner

// cellOf names the cell of a state that times lie in. Cells of other states have other
// names. Two of one state that get the same by chance are merged as if they were one,
// which only makes a bound weaker.
func (p *pass) cellOf(state int32, times []int32) uint64 {
	var h uint64
	for _, t := range times[:p.m.times] {
		h = (h ^ h>>32 ^ uint64(t>>p.fine.cellBits) ^ p.m.phase(t)<<32) * 0x9E3779B97F4A7C15
	}
	return uint64(state)<<32 | h>>32
}
