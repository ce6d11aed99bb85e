package planfile

import "padturn/model"

func (b builder) changeovers() []Changeover {
	return each(b.plan.Changes, func(c model.Changeover) Changeover {
		out := Changeover{
			Bay: b.p.Bays[c.Bay].Name, Connection: c.Connection + 1, At: Time(c.At),
			On: b.product(c.On), Load: b.plan.Loads[c.Load].ID, Inside: c.Inside,
		}
		if c.Off != model.None {
			out.Off = b.product(c.Off)
		}
		return out
	})
}

// turns lists what the sprayers do. Between two parts of a load there is always
// a drive, of no length where the fields touch, so that a reader can tell
// where one part ends and the next begins.
func (b builder) turns() []Turn {
	out := make([]Turn, 0, len(b.plan.Spans))
	for i, s := range b.plan.Spans {
		out = append(out, b.turn(s))
		if b.endsPart(s) && !b.drivesOn(i) {
			out = append(out, b.turn(model.Span{
				Sprayer: s.Sprayer, Load: s.Load, What: model.SpanDrive, From: s.To, To: s.To,
			}))
		}
	}
	return out
}

func (b builder) turn(s model.Span) Turn {
	return Turn{b.p.Sprayers[s.Sprayer].Name, b.plan.Loads[s.Load].ID, string(s.What), Time(s.From), Time(s.To)}
}

// endsPart says whether the span finishes a part that another one follows.
func (b builder) endsPart(s model.Span) bool {
	if s.What != model.SpanSpray {
		return false
	}
	sprayed := b.plan.Loads[s.Load].SprayedAt
	for _, at := range sprayed[:max(len(sprayed)-1, 0)] {
		if at == s.To {
			return true
		}
	}
	return false
}

func (b builder) drivesOn(i int) bool {
	if i+1 >= len(b.plan.Spans) {
		return false
	}
	this, next := b.plan.Spans[i], b.plan.Spans[i+1]
	return next.What == model.SpanDrive && next.Load == this.Load
}

func (b builder) stock() []StockEvent {
	return each(b.plan.Stock, func(e model.StockEvent) StockEvent {
		return StockEvent{
			b.product(e.Product), Time(e.At), e.Event, Number(e.Change), Number(e.Level),
			b.p.Products[e.Product].Unit.Name, e.Low,
		}
	})
}

func (b builder) water() []WaterEvent {
	return each(b.plan.Water, func(e model.WaterEvent) WaterEvent {
		return WaterEvent{Time(e.At), e.Event, numberOrNone(e.Water), Number(e.Rinsate)}
	})
}

func (b builder) unsprayed() []Unsprayed {
	return each(b.plan.Unsprayed, func(u model.Unsprayed) Unsprayed {
		return Unsprayed{b.p.Jobs[u.Job].Name, Number(u.Acres), u.Reason}
	})
}

// totals adds up the figures that two plans are compared by.
func totals(p *model.Problem, plan *model.Plan) Totals {
	t := Totals{Loads: len(plan.Loads), LeftWeight: Number(plan.Left), Cost: cost(&plan.Cost)}
	last := make([]model.Clock, len(p.Sprayers))
	for i := range plan.Loads {
		l := &plan.Loads[i]
		for _, part := range l.Parts {
			t.Acres += Number(part.Acres)
		}
		t.Rinses += countLevel(l.Rinse)
		t.Cleanouts += countLevel(l.Cleanout)
		t.Changeovers += l.Changeovers
		t.WaitS += int64(l.Wait)
		t.HeldS += int64(l.Held)
		last[l.Sprayer] = max(last[l.Sprayer], l.BackAt)
	}
	for _, s := range plan.Spans {
		if s.What == model.SpanPause {
			t.PauseS += int64(s.To - s.From)
		}
	}
	for _, u := range plan.Unsprayed {
		t.LeftAcres += Number(u.Acres)
	}
	t.Finish = finishes(p, last)
	return t
}

func countLevel(level int) int {
	if level == model.None {
		return 0
	}
	return 1
}

func finishes(p *model.Problem, last []model.Clock) []Finish {
	out := []Finish{}
	for i, at := range last {
		if at > 0 {
			out = append(out, Finish{p.Sprayers[i].Name, Time(at)})
		}
	}
	return out
}

func cost(c *model.Cost) Cost {
	out := Cost{Parts: make([]CostPart, 0, model.NumCostParts), Dollars: Number(c.Total().DollarsDecimal())}
	for part := range model.NumCostParts {
		out.Parts = append(out.Parts, CostPart{
			part.String(), Number(c.Amount[part]), part.Unit(), Number(c.Money[part].DollarsDecimal()),
		})
	}
	return out
}
