package standing

import (
	"cmp"
	"math/big"
	"slices"
	"strconv"
	"strings"

	"padturn/model"
)

// change is a changeover as it was replayed.
type change struct {
	model.Changeover
	load *Load
}

// note puts down a changeover of the replay. One inside a load is as far into
// its filling as planned, or at its start.
func (p *pad) note(bay *manifold, where, product int, t model.Clock) {
	c := change{model.Changeover{Connection: where, At: t, Off: bay.on[where].product, On: product, Inside: p.inside}, p.doing}
	for i := range p.bays {
		if bay == &p.bays[i] {
			c.Bay = i
		}
	}
	if l := p.doing; p.inside {
		for _, told := range p.s.told.Changes {
			if told.Load == l.Told.ID && told.Inside && p.s.product(told.On) == product {
				c.At = max(c.At, told.At+l.Start-l.Told.Start)
			}
		}
		c.At = max(l.Start+1, min(c.At, l.End))
		if n := len(p.done); n > 0 && p.done[n-1].load == l {
			c.At = max(c.At, p.done[n-1].At) // they keep their order
		}
	}
	p.done = append(p.done, c)
}

// Behind is what of the day has begun, as the merged plan of the day has it.
func (s *Standing) Behind() model.Behind {
	b := model.Behind{At: s.At}
	var begun []*Load
	for i := range s.Loads {
		if s.Loads[i].Begun {
			begun = append(begun, &s.Loads[i])
		}
	}
	slices.SortStableFunc(begun, func(x, y *Load) int {
		return cmp.Or(cmp.Compare(x.Start, y.Start), cmp.Compare(s.bay(x.Told.Bay), s.bay(y.Told.Bay)))
	})
	seq := make([]int, len(s.Bays))
	for _, l := range begun {
		pl := s.plannedLoad(l)
		seq[pl.Bay]++
		pl.Seq = seq[pl.Bay]
		b.Loads = append(b.Loads, pl)
	}
	for _, c := range s.pad.done {
		c.Load = slices.Index(begun, c.load) // or None
		if c.Load != model.None {
			b.Loads[c.Load].Changeovers++
		}
		b.Changes = append(b.Changes, c.Changeover)
	}
	slices.SortStableFunc(b.Changes, func(x, y model.Changeover) int { return cmp.Compare(x.At, y.At) })
	s.addUnfinished(&b)
	return b
}

// addUnfinished adds the rinses and cleanouts that are begun for loads that are
// not.
func (s *Standing) addUnfinished(b *model.Behind) {
	for i, l := range s.nextOnBays() {
		bay := s.bay(l.Told.Bay)
		if s.Bays[bay].Rinsed != "" && s.Bays[bay].Rinsed == l.Told.Rinse {
			level := levelIndex(s.Problem.Settings.RinseLevels, l.Told.Rinse)
			b.Rinses = append(b.Rinses, model.BehindRinse{Bay: bay, Level: level, From: s.nextOnBays()[i].SetupStart})
		}
	}
	for i, m := range s.Sprayers {
		if next := s.nextOf(m.Name); next != nil && m.Cleaned != "" {
			level := levelIndex(s.Problem.Settings.CleanoutLevels, m.Cleaned)
			b.Cleanouts = append(b.Cleanouts, model.BehindCleanout{Sprayer: i, Level: level, From: next.CleanoutFrom, Stood: next.Stood})
		}
	}
}

func levelIndex(levels []model.LevelSettings, name string) int {
	return slices.IndexFunc(levels, func(l model.LevelSettings) bool { return l.Name == name })
}

// plannedLoad is a load that has begun in the form of a plan.
func (s *Standing) plannedLoad(l *Load) model.PlannedLoad {
	t, set := &l.Told, &s.Problem.Settings
	pl := model.PlannedLoad{
		ID: t.ID, Bay: s.bay(t.Bay), CleanoutFrom: l.CleanoutFrom, Ready: l.Ready, SetupStart: l.SetupStart,
		Start: l.Start, End: l.End, BackAt: l.BackAt, SprayedAt: slices.Clone(l.SprayedAt),
		Held:     model.Seconds(l.Start-l.Ready) + l.Stood, // what of it is paid the plan of the day says
		Cleanout: levelIndex(set.CleanoutLevels, t.Cleanout), Rinse: levelIndex(set.RinseLevels, t.Rinse),
	}
	pl.Sprayer, pl.Mix = s.sprayer(t.Sprayer), s.mix(t.Mix)
	pl.DriveOut, pl.DriveBack, pl.Carrier = t.DriveOut, t.DriveBack, t.CarrierGal
	for _, name := range t.Run {
		if j := s.job(name); j != model.None {
			pl.Run = append(pl.Run, j)
		}
	}
	for i, part := range t.Parts {
		acres := part.Acres
		if !l.InTank() {
			acres -= l.Left[i]
		}
		pl.Parts = append(pl.Parts, model.Part{Job: s.job(part.Job), Acres: acres, Spray: part.Spray, Drive: part.Drive})
	}
	s.addDoses(&pl, l)
	s.endDay(&pl)
	return pl
}

// endDay gives a load that stays in its tank the end of the day for when it is
// sprayed and back: a plan has to say something, and Stranded says what is true.
func (s *Standing) endDay(pl *model.PlannedLoad) {
	end := max(s.Problem.Settings.SprayUntil, s.At, pl.End)
	for i := range pl.SprayedAt {
		if pl.SprayedAt[i] >= model.Never {
			pl.SprayedAt[i] = end
		}
	}
	if pl.BackAt >= model.Never {
		pl.BackAt = max(end, pl.SprayedAt[len(pl.SprayedAt)-1])
	}
}

// addDoses adds what went into the tank.
func (s *Standing) addDoses(pl *model.PlannedLoad, l *Load) {
	pl.Gal = pl.Carrier
	mix := &s.Problem.Mixes[pl.Mix]
	gallon, _ := model.FindUnit("gal")
	for _, d := range l.Doses {
		product := s.product(d.Product)
		i := slices.IndexFunc(mix.Recipe, func(g model.Ingredient) bool { return g.Product == product })
		if i < 0 {
			continue // the carrier
		}
		dose := model.Dose{Ingredient: i, Product: product, Amount: d.Amount}
		p := &s.Problem.Products[product]
		if factor, err := model.Convert(p.Unit, gallon, p.Density); err == nil && !p.Form.Dry {
			dose.Gal = model.RoundRat(factor.Mul(factor, d.Amount.Rat()))
		}
		pl.Gal += dose.Gal
		pl.Doses = append(pl.Doses, dose)
	}
	first := new(big.Rat).Mul(s.Problem.Settings.Pad.CarrierFirst.Rat(), pl.Gal.Rat())
	pl.First = min(pl.Carrier, model.RoundRat(first))
}

// numbered is the highest number of a sprayer's loads that are behind us, or that
// were ever dropped: the next is numbered after it, so that no name stands for two
// loads.
func (s *Standing) numbered(sprayer string) int {
	highest := 0
	take := func(load string) {
		if text, ok := strings.CutPrefix(load, sprayer+"-"); ok {
			if n, err := strconv.Atoi(text); err == nil {
				highest = max(highest, n)
			}
		}
	}
	for i := range s.Loads {
		if l := &s.Loads[i]; l.Begun || l.State == Dropped {
			take(l.Told.ID)
		}
	}
	for _, f := range s.facts {
		if m, ok := f.News.(LoadMark); ok && m.State == Dropped {
			take(m.Load)
		}
	}
	return highest
}

// Whole is the day's problem for a plan of it: as it is known now, without
// deliveries of which nobody knows when they come.
func (s *Standing) Whole() *model.Problem {
	p := *s.Problem
	p.Deliveries = slices.DeleteFunc(slices.Clone(p.Deliveries), func(d model.Delivery) bool { return d.At >= model.Never })
	return &p
}
