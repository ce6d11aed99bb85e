package planfile

import (
	"fmt"
	"math/big"

	"padturn/model"
)

// weakPercent is how far above a bound a plan is from where on the bound says little.
const weakPercent = Number(100 * model.One)

// HowGood says in sentences how far from the best possible the plan can be, and no
// more than is known.
func (d *Document) HowGood() []string {
	s := &d.Search
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
	case *s.aboveBound() > weakPercent:
		words = append(words, fmt.Sprintf("How far it is from the best possible%s is not known well: no plan costs less than %s, and the best one may be anywhere from there to this one.",
			among, inDollars(s.BoundDollars)))
	default:
		words = append(words, fmt.Sprintf("It is at most %s %% (%s) above the best possible under these inputs%s.%s",
			s.aboveBound().Fixed(1), inDollars(s.GapDollars), among, d.unavoidable()))
	}
	if d.Totals.LeftWeight > 0 {
		words = append(words, "That no plan sprays more is not proved.")
	}
	return words
}

// aboveBound is how far the plan's cost is above the bound, in per cent of the
// bound: of the best possible, at most. It is nil without a bound.
func (s *Search) aboveBound() *Number {
	if s.BoundDollars == 0 {
		return nil
	}
	share := new(big.Rat).SetFrac64(int64(s.GapDollars), int64(s.BoundDollars))
	return new(Number(model.RoundRat(share.Mul(share, big.NewRat(100, 1)))))
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
