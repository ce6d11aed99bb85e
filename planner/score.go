package planner

import (
	"cmp"

	"padturn/model"
)

// score is what plans are compared by: first what is left undone, then cost.
type score struct {
	left model.Decimal // Σ priority × acres
	cost model.Money
}

func (s score) less(o score) bool { return s.compare(o) < 0 }

func (s score) compare(o score) int {
	return cmp.Or(cmp.Compare(s.left, o.left), cmp.Compare(s.cost, o.cost))
}

// brokenLeft is what a frozen load that does not stay counts as left undone:
// more than any day's acres, so that no plan gains by it.
const brokenLeft = 1_000_000 * model.One

// worst is worse than any plan.
var worst = score{left: 1<<63 - 1}
