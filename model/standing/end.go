package standing

import "padturn/model"

// AtEnd works out where a day stands at its end, if all that was told and not
// reported otherwise goes as it can: when the pad has closed and the last
// sprayer is back. Loads that were reported as waiting, and those that can't be
// filled, are not.
func AtEnd(in model.Input, told Told, facts []Fact) (*Standing, error) {
	at := max(in.Settings.Pad.Closes, valueOr(in.Settings.Pad.OvertimeUntil, 0), Latest(facts))
	for {
		s, err := At(in, told, facts, at)
		if err != nil {
			return nil, err
		}
		end := at
		for i := range s.Loads {
			switch l := &s.Loads[i]; {
			case l.BackAt < model.Never && (l.Begun || l.newest() == nil):
				end = max(end, l.BackAt)
			case l.InTank(): // it is sprayed for as long as may be
				end = max(end, in.Settings.SprayUntil)
			}
		}
		if end == at {
			return s, nil
		}
		at = end
	}
}
