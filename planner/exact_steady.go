package planner

import (
	"math"
	"math/bits"

	"padturn/model"
)

// isSteady says whether from times on, which are those of a label or later, the time of
// day makes no difference to what follows: the sooner all of it begins, the sooner all of
// it is over, by as much, and each second then costs shift.gain less at the least. Only
// models for bounds know.
func (m *padModel) isSteady(s *shift, times []int32) bool {
	now := model.Clock(times[m.readyAt-1])
	if m.use != forBounds || now < m.steady || m.shutLater(times) {
		return false
	}
	begun := int32(max(m.in.now, m.in.cleanFrom))
	for _, t := range times[:m.readyAt] {
		if t < begun {
			return false
		}
	}
	for again := s.again; again != 0; again &= again - 1 {
		i := bits.TrailingZeros64(again)
		t := times[m.readyAt+i]
		if t < begun || max(now, model.Clock(t)) < s.steady[i] {
			return false
		}
	}
	return true
}

// steadyFrom returns from when on a day opens nothing any more, and nothing that it needs
// comes to the pad.
func (m *padModel) steadyFrom() model.Clock {
	last := max(m.in.opens, m.in.now)
	if !m.oneBay {
		return last // bounds do not wait for what comes
	}
	demand := m.in.demand()
	for t := range m.in.tracked {
		p := &m.in.tracked[t]
		for _, from := range m.totes[t].from {
			last = max(last, from)
		}
		for _, d := range p.deliveries {
			if p.onHand < demand[p.product] {
				last = max(last, d.at)
			}
		}
	}
	return last
}

// lead returns by how much all times of o are before those of x that something may
// follow, or 0.
func (m *padModel) lead(s *shift, o, x []int32) int32 {
	least := int32(math.MaxInt32)
	for k, t := range o[:m.readyAt] {
		least = min(least, x[k]-t)
	}
	for again := s.again; again != 0; again &= again - 1 {
		k := m.readyAt + bits.TrailingZeros64(again)
		least = min(least, x[k]-o[k])
	}
	return max(least, 0)
}
