package standing

import (
	"fmt"
	"slices"

	"padturn/model"
)

// Check says why a fact can't be taken after those before it, or nil: it speaks
// of what there is not, comes before what was reported of the same thing, or
// makes no sense. in and told are as for [At].
func Check(in model.Input, told Told, facts []Fact, next Fact) error {
	s, err := At(in, told, facts, max(next.At, Latest(facts)))
	if err != nil {
		return err
	}
	switch news := next.News.(type) {
	case LoadMark:
		err = s.checkLoad(next.At, &news)
	case SprayerMark:
		err = s.checkSprayer(next.At, &news)
	case DeliveryMark:
		err = s.checkDelivery(next.At, &news)
	case StockCount:
		err = s.checkCount(next.At, &news)
	case JobMark:
		err = s.checkJob(&news)
	}
	if err != nil {
		return err
	}
	_, err = At(in, told, append(slices.Clone(facts), next), max(next.At, s.At))
	return err
}

func (s *Standing) checkLoad(at model.Clock, m *LoadMark) error {
	i := slices.IndexFunc(s.Loads, func(l Load) bool { return l.Told.ID == m.Load })
	if i < 0 {
		return fmt.Errorf("load %s: the plan has none of that name%s", m.Load, model.Suggest(m.Load, s.loadNames()))
	}
	l := &s.Loads[i]
	place := slices.Index(States(), m.State)
	if place < 0 {
		return fmt.Errorf("load %s: state %q: expected waiting, filling, filled, spraying, done or dropped", m.Load, m.State)
	}
	if newest := l.newest(); newest != nil {
		was := slices.Index(States(), newest.State)
		switch {
		case newest.State == Done || newest.State == Dropped:
			return fmt.Errorf("load %s is %s since %s; undo that first (entry %d)", m.Load, newest.State, newest.at.HHMM(), newest.fact)
		case place < was && m.State != Dropped:
			return fmt.Errorf("load %s is %s since %s and can't be %s after that; undo the entry that is wrong (%d)",
				m.Load, newest.State, newest.at.HHMM(), m.State, newest.fact)
		case at < newest.at:
			return fmt.Errorf("load %s was %s at %s; %s can't be %s already", m.Load, newest.State, newest.at.HHMM(), at.HHMM(), m.State)
		}
	}
	return s.checkAmounts(l, m)
}

func (s *Standing) loadNames() []string {
	names := make([]string, len(s.Loads))
	for i := range s.Loads {
		names[i] = s.Loads[i].Told.ID
	}
	return names
}

// checkAmounts checks the acres left and the amounts drawn.
func (s *Standing) checkAmounts(l *Load, m *LoadMark) error {
	most := l.Told.Acres()
	for i := range l.marks {
		if left := l.marks[i].AcresLeft; left != nil {
			most = min(most, *left)
		}
	}
	if left := m.AcresLeft; left != nil {
		switch {
		case m.State != Spraying && m.State != Done && m.State != Dropped:
			return fmt.Errorf("load %s: acres left go with spraying, done or dropped, not with %s", m.Load, m.State)
		case *left < 0 || *left > most:
			return fmt.Errorf("load %s: %s ac left: expected 0 to %s, which it had", m.Load, *left, most)
		}
	}
	for _, d := range m.Drew {
		products := make([]string, len(l.Doses))
		for i, dose := range l.Doses {
			products[i] = dose.Product
		}
		switch {
		case m.State == Waiting || m.State == Dropped:
			return fmt.Errorf("load %s: amounts go with filling, filled, spraying or done, not with %s", m.Load, m.State)
		case !slices.Contains(products, d.Product):
			return fmt.Errorf("load %s: there is no %s in it%s", m.Load, d.Product, model.Suggest(d.Product, products))
		case d.Amount < 0:
			return fmt.Errorf("load %s: %s of %s: an amount is not negative", m.Load, d.Amount, d.Product)
		}
	}
	return nil
}

func (s *Standing) checkSprayer(at model.Clock, m *SprayerMark) error {
	i := s.sprayer(m.Sprayer)
	if i < 0 {
		names := make([]string, len(s.Sprayers))
		for k := range s.Sprayers {
			names[k] = s.Sprayers[k].Name
		}
		return fmt.Errorf("sprayer %s: sprayers.csv has none of that name%s", m.Sprayer, model.Suggest(m.Sprayer, names))
	}
	var last *SprayerMark
	var when model.Clock
	for _, f := range s.facts {
		if earlier, ok := f.News.(SprayerMark); ok && earlier.Sprayer == m.Sprayer {
			last, when = &earlier, f.At
		}
	}
	switch {
	case last != nil && at < when:
		return fmt.Errorf("sprayer %s: %s is before %s, when it was last reported", m.Sprayer, at.HHMM(), when.HHMM())
	case !m.Out && (last == nil || !last.Out):
		return fmt.Errorf("sprayer %s was not reported out", m.Sprayer)
	case m.Until != nil && *m.Until <= at:
		return fmt.Errorf("sprayer %s: until %s: expected later than %s", m.Sprayer, m.Until.HHMM(), at.HHMM())
	}
	return nil
}

func (s *Standing) checkDelivery(at model.Clock, m *DeliveryMark) error {
	i := slices.IndexFunc(s.Deliveries, func(d Delivery) bool { return d.Row.Product == m.Product && d.Planned == m.Planned })
	switch {
	case i < 0:
		return fmt.Errorf("deliveries.csv has no %s at %s", m.Product, m.Planned.HHMM())
	case s.Deliveries[i].Arrived && !s.Deliveries[i].Presumed:
		return fmt.Errorf("the %s of %s was reported to have arrived at %s", m.Product, m.Planned.HHMM(), s.Deliveries[i].Row.At.HHMM())
	case m.Until != nil && *m.Until <= at:
		return fmt.Errorf("the %s of %s: until %s: expected later than %s", m.Product, m.Planned.HHMM(), m.Until.HHMM(), at.HHMM())
	}
	return nil
}

// mostStock is more than a container holds, in any stock unit.
var mostStock = model.WholeDecimal(10_000_000)

func (s *Standing) checkCount(at model.Clock, c *StockCount) error {
	if s.product(c.Product) < 0 {
		names := make([]string, len(s.Stock))
		for i := range s.Stock {
			names[i] = s.Stock[i].Product
		}
		return fmt.Errorf("products.csv has no %s%s", c.Product, model.Suggest(c.Product, names))
	}
	for _, f := range s.facts {
		if earlier, ok := f.News.(StockCount); ok && earlier.Product == c.Product && f.At > at {
			return fmt.Errorf("%s was counted at %s, which is later than %s", c.Product, f.At.HHMM(), at.HHMM())
		}
	}
	switch {
	case !slices.Contains([]string{"bulk", "tote", "drum", "jug", "bag"}, c.Container):
		return fmt.Errorf("%s: container %q: expected bulk, tote, drum, jug or bag", c.Product, c.Container)
	case c.Size <= 0 || c.Size > mostStock:
		return fmt.Errorf("%s: size %s: expected more than 0 and at most %s", c.Product, c.Size, mostStock)
	case c.Full < 0 || c.Full%model.One != 0 || c.Full/model.One > 100*mostStock/c.Size || c.Full > model.WholeDecimal(100_000):
		return fmt.Errorf("%s: %s full: expected a whole number of containers that a pad can hold", c.Product, c.Full)
	}
	for _, open := range c.Open {
		if open < 0 || open > c.Size {
			return fmt.Errorf("%s: %s open: expected 0 to %s, the container's size", c.Product, open, c.Size)
		}
	}
	return nil
}

func (s *Standing) checkJob(m *JobMark) error {
	names := make([]string, len(s.Jobs))
	for i := range s.Jobs {
		names[i] = s.Jobs[i].Name
	}
	i := slices.Index(names, m.Row.Job)
	switch {
	case m.Row.Job == "":
		return fmt.Errorf("a job needs a name")
	case m.Change == JobAdded && i >= 0:
		return fmt.Errorf("job %s: there is one of that name", m.Row.Job)
	case m.Change != JobAdded && i < 0:
		return fmt.Errorf("job %s: there is none of that name%s", m.Row.Job, model.Suggest(m.Row.Job, names))
	case m.Change == JobDropped && s.Jobs[i].Dropped:
		return fmt.Errorf("job %s is dropped already", m.Row.Job)
	case m.Change == JobChanged && len(m.Given) == 0:
		return fmt.Errorf("job %s: nothing to change was given", m.Row.Job)
	}
	return nil
}
