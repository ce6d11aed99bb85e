package standing

import (
	"cmp"
	"slices"

	"padturn/model"
)

// HoldAhead is a hold that is in force or to come.
type HoldAhead struct {
	From, To model.Clock
	Name     string // its kind, and whether it is a forecast's
	Stops    string // what it stops, in words
	Reason   string // as it was given, blank for none
	InForce  bool
}

// Holds lists the holds that are not over, of the day's files, of the forecast and as
// reported, by when they begin.
func (s *Standing) Holds() []HoldAhead {
	var list []HoldAhead
	for i := range s.Problem.Holds {
		h := &s.Problem.Holds[i]
		if h.To <= s.At {
			continue
		}
		ahead := HoldAhead{From: h.From, To: h.To, Name: s.holdName(i), Stops: s.stops(h.Scope), InForce: h.From <= s.At}
		if i < len(s.Day.Holds) {
			ahead.Reason = h.Reason
		}
		list = append(list, ahead)
	}
	slices.SortStableFunc(list, func(a, b HoldAhead) int { return cmp.Compare(a.From, b.From) })
	return list
}

func (s *Standing) stops(scope model.HoldScope) string {
	switch {
	case scope.Sprayer != model.None:
		return s.Problem.Sprayers[scope.Sprayer].Name + " sprays nothing"
	case scope.Bay != model.None:
		return s.Problem.Bays[scope.Bay].Name + " is shut"
	case scope.Field != "":
		return "nothing is sprayed in " + scope.Field
	case scope.Product != "":
		return "no mix with " + scope.Product + " is sprayed"
	case scope.Group != "":
		return "no mix with a product of @" + scope.Group + " is sprayed"
	}
	return "nothing is sprayed"
}
