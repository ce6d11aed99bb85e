package planner

import (
	"slices"

	"padturn/model"
)

// tote is a product kept in totes as a model for plans of several bays counts it.
// Each label says of it, in numbers: what is left in a tote that came off a bay and
// may go on again, how many of the others have gone on, and what is left in the one
// on each bay. Amounts are in toteUnits.
type tote struct {
	metered int
	hung    []int32     // by bay, at first
	others  []container // in the order in which they go on
	at      int         // where its numbers begin
}

// toteUnit is the grain of amounts in totes.
const toteUnit = model.One / 1000

func toteUnits(amount model.Decimal) int32 { return int32(min(amount/toteUnit, 1<<30)) }

// countTotes gives the totes of several bays their places in labels.
func (m *padModel) countTotes() {
	m.toteOf = make([]int, len(m.in.products))
	for n := range m.in.products {
		m.toteOf[n] = model.None
		t := m.in.toteOf[n]
		if t == model.None {
			continue
		}
		m.toteOf[n] = len(m.hanging)
		x := tote{metered: n, at: m.width}
		for b := range m.in.bays {
			x.hung = append(x.hung, 0)
			if bay := &m.in.bays[b]; bay.onAtOpening.has(n) && bay.conns[bay.where[n]].tote != model.None {
				x.hung[b] = toteUnits(m.in.tracked[t].containers[bay.conns[bay.where[n]].tote].left)
			}
		}
		for _, c := range m.in.tracked[t].containers {
			if !c.onBay && c.left > 0 {
				x.others = append(x.others, c)
			}
		}
		slices.SortStableFunc(x.others, func(a, b container) int { return int(a.opened - b.opened) })
		m.width += 2 + m.bays
		m.hanging = append(m.hanging, x)
	}
}

// firstTotes sets the numbers of a day's first label.
func (m *padModel) firstTotes(numbers []int32) {
	for i := range m.hanging {
		copy(numbers[m.hanging[i].at+2:], m.hanging[i].hung)
	}
}

// takeOff notes that a product comes off a bay.
func (x *tote) takeOff(b int, numbers []int32) {
	numbers[x.at] += numbers[x.at+2+b]
	numbers[x.at+2+b] = 0
}

// putOn puts the next tote on a bay, and returns when it is at the pad, and whether
// there is one.
func (x *tote) putOn(b int, numbers []int32) (from model.Clock, ok bool) {
	back, next, hung := &numbers[x.at], &numbers[x.at+1], &numbers[x.at+2+b]
	switch {
	case *back > 0:
		*hung, *back = *back, 0
	case int(*next) < len(x.others):
		*hung, from = toteUnits(x.others[*next].left), x.others[*next].from
		*next++
	default:
		return 0, false
	}
	return from, true
}

// draw takes an amount out of the totes on a bay, and returns how many go on for
// it and when they are all at the pad.
func (x *tote) draw(b int, amount model.Decimal, numbers []int32) (inside int, at model.Clock) {
	hung := &numbers[x.at+2+b]
	rest := toteUnits(amount)
	for rest > *hung+1 { // a grain less is not missed
		rest -= *hung
		from, ok := x.putOn(b, numbers)
		if !ok {
			*hung = 0
			return inside, at // which the evaluator finds out
		}
		inside, at = inside+1, max(at, from)
	}
	*hung = max(*hung-rest, 0)
	return inside, at
}

// toteOn returns a product's totes where labels count them, else nil.
func (m *padModel) toteOn(n int) *tote {
	if m.toteOf == nil || m.toteOf[n] == model.None {
		return nil
	}
	return &m.hanging[m.toteOf[n]]
}
