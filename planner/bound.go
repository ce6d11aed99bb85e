package planner

import "padturn/model"

// lowerBound returns a sum that no plan that sprays everything can go below.
func (in *instance) lowerBound() model.Money { return 0 }
