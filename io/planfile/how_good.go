package planfile

import (
	"fmt"
	"math/big"

	"padturn/model"
)

// weakGapPercent is from where on a bound says little.
const weakGapPercent = Number(50 * model.One)

// HowGood says in sentences how far from the best possible the plan can be, and no
// more than is known.
func (d *Document) HowGood() []string {
	s := d.Search
	among := ""
	if s.KeepOrder {
		among = " among plans that keep each sprayer's jobs in file order"
	}
	if s.Status == string(model.StatusProved) {
		return []string{fmt.Sprintf("Proved best possible under these inputs%s.%s", among, d.unavoidable())}
	}
	var words []string
	if s.Status == string(model.StatusInterrupted) {
		words = append(words, "The search was stopped: this is the best plan found until then.")
	}
	switch {
	case d.Totals.Cost.Dollars == 0:
		words = append(words, "It costs nothing, so no plan costs less.")
	case s.BoundDollars == 0:
		words = append(words, "How far it is from the best possible is not known: no useful lower bound was found.")
	case s.GapPercent > weakGapPercent:
		words = append(words, fmt.Sprintf("How far it is from the best possible%s is not known well: no plan costs less than %s, and the best one may be anywhere from there to this one.",
			among, inDollars(s.BoundDollars)))
	default:
		words = append(words, fmt.Sprintf("It is at most %s %% (%s) above the best possible under these inputs%s.%s",
			d.aboveBound(), inDollars(s.GapDollars), among, d.unavoidable()))
	}
	if d.Totals.LeftWeight > 0 {
		words = append(words, "That no plan sprays more is not proved.")
	}
	return words
}

// aboveBound is how far the plan's cost is above the bound, in per cent of the
// bound: of the best possible, at most.
func (d *Document) aboveBound() string {
	s := d.Search
	share := new(big.Rat).SetFrac64(int64(s.GapDollars)*100, int64(s.BoundDollars))
	return Number(model.RoundRat(share)).Fixed(1)
}

// unavoidable says which part of the cost no order of loads can avoid, so that a
// small gap hides no large sum that can be saved.
func (d *Document) unavoidable() string {
	if d.Search.UnavoidableDollars == 0 {
		return ""
	}
	return fmt.Sprintf(" Of its cost %s is paid by every plan, whatever the order.", inDollars(d.Search.UnavoidableDollars))
}

func inDollars(n Number) string { return "$" + n.Fixed(2) }
