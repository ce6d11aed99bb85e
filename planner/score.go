package planner

import "padturn/model"

// score is what plans are compared by: first what is left undone, then cost.
type score struct {
	left model.Decimal // Σ priority × acres
	cost model.Money
}

func (s score) less(o score) bool {
	if s.left != o.left {
		return s.left < o.left
	}
	return s.cost < o.cost
}

// worst is worse than any plan.
var worst = score{left: 1<<63 - 1}
