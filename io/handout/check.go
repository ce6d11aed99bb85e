package handout

import (
	"errors"
	"fmt"

	"padturn/io/planfile"
	"padturn/model"
)

// check finds the names of a plan that lead nowhere: plan.json's schema cannot
// say that one place names another.
func check(d *planfile.Document) error {
	var all []error
	known := map[string]bool{model.Water: true}
	for _, p := range d.Products {
		known[p.Product] = true
		if u, ok := model.FindUnit(p.Unit); !ok || u.Dim == model.Area {
			all = append(all, fmt.Errorf("product %s: there is no stock unit %q", p.Product, p.Unit))
		}
	}
	for _, l := range d.Loads {
		for _, s := range l.Steps {
			if !known[s.Product] || s.Product == model.Water && s.Source != planfile.SourceCarrier {
				all = append(all, fmt.Errorf("load %s, step %d: %q is none of the plan's products", l.Load, s.Step, s.Product))
			}
		}
	}
	return errors.Join(all...)
}
