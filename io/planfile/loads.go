package planfile

import (
	"fmt"

	"padturn/model"
)

func (b builder) loads() ([]Load, error) {
	connections := b.connections()
	out := make([]Load, 0, len(b.plan.Loads))
	for i := range b.plan.Loads {
		l := &b.plan.Loads[i]
		steps, err := b.steps(l, connections[i], b.plan.Resumed != nil && i < b.plan.Resumed.Loads)
		if err != nil {
			return nil, err
		}
		out = append(out, b.load(l, steps))
	}
	return out, nil
}

func (b builder) load(l *model.PlannedLoad, steps []Step) Load {
	out := Load{
		Load: l.ID, Bay: b.p.Bays[l.Bay].Name, Seq: l.Seq,
		Sprayer: b.p.Sprayers[l.Sprayer].Name, Mix: b.p.Mixes[l.Mix].Name,
		Gal: Number(l.Gal), Carrier: b.product(b.p.Mixes[l.Mix].Carrier), CarrierGal: Number(l.Carrier),
		Run:          each(l.Run, func(j int) string { return b.p.Jobs[j].Name }),
		Steps:        steps,
		Rinse:        levelOrBlank(b.p.Settings.RinseLevels, l.Rinse),
		Cleanout:     levelOrBlank(b.p.Settings.CleanoutLevels, l.Cleanout),
		Changeovers:  l.Changeovers,
		CleanoutFrom: Time(l.CleanoutFrom), Ready: Time(l.Ready), SetupStart: Time(l.SetupStart),
		Start: Time(l.Start), End: Time(l.End), BackAt: Time(l.BackAt),
		WaitS: int64(l.Wait), HeldS: int64(l.Held),
		DriveOutS: int64(l.DriveOut), DriveBackS: int64(l.DriveBack),
	}
	for i, part := range l.Parts {
		out.Acres += Number(part.Acres)
		out.Parts = append(out.Parts, Part{
			b.p.Jobs[part.Job].Name, Number(part.Acres), int64(part.Drive), int64(part.Spray), Time(l.SprayedAt[i]),
		})
	}
	return out
}

// steps lists what goes into the tank, in adding order: the first part of the
// carrier, the products, the rest of the carrier.
func (b builder) steps(l *model.PlannedLoad, on map[int]hookup, begun bool) ([]Step, error) {
	steps := []Step{}
	if l.First > 0 {
		steps = append(steps, b.carrierStep(l, 0, l.First, b.firstHow(l)))
	}
	for i, dose := range l.Doses {
		step, err := b.doseStep(l, dose, on, begun)
		if err != nil {
			return nil, err
		}
		step.Step = i + 1
		steps = append(steps, step)
	}
	if rest := l.Carrier - l.First; rest > 0 {
		steps = append(steps, b.carrierStep(l, len(l.Doses)+1, rest, b.restHow(l)))
	}
	return steps, nil
}

func (b builder) firstHow(l *model.PlannedLoad) string {
	if l.First == l.Carrier {
		return "carrier, all of it"
	}
	return "carrier, first part"
}

// restHow says that the carrier which pushes the metered products through the
// manifold is part of the rest, so that nobody adds it on top.
func (b builder) restHow(l *model.PlannedLoad) string {
	for _, dose := range l.Doses {
		if b.p.Products[dose.Product].Metered && b.p.Settings.Pad.PushGal > 0 {
			return "carrier, the rest, pushes counted in"
		}
	}
	return "carrier, the rest"
}

// carrierStep is a part of the carrier in gallons of water or in the stock unit
// of the carrier product. A carrier kept by weight has a density: the problem
// would not have been made without one.
func (b builder) carrierStep(l *model.PlannedLoad, step int, gal model.Decimal, how string) Step {
	carrier := b.p.Mixes[l.Mix].Carrier
	s := Step{
		Step: step, Product: b.product(carrier), Amount: Number(gal), Unit: "gal", Gal: Number(gal),
		Source: SourceCarrier, How: how,
	}
	if carrier == model.None {
		return s
	}
	p := &b.p.Products[carrier]
	gallon, _ := model.FindUnit("gal")
	if factor, err := model.Convert(gallon, p.Unit, p.Density); err == nil {
		s.Amount = Number(model.RoundRat(factor.Mul(factor, gal.Rat())))
		s.Unit = p.Unit.Name
	}
	return s
}

// doseStep is a product that goes in. Of a load that has begun nobody may have
// reported through which connection: then it is left out.
func (b builder) doseStep(l *model.PlannedLoad, dose model.Dose, on map[int]hookup, begun bool) (Step, error) {
	p := &b.p.Products[dose.Product]
	s := Step{
		Product: p.Name, Amount: Number(dose.Amount), Unit: p.Unit.Name, Gal: Number(dose.Gal),
		Source: SourceHopper, How: hopperHow(p, dose.Amount),
	}
	if !p.Metered {
		return s, nil
	}
	h, ok := on[dose.Product]
	if !ok && begun {
		s.Source, s.How = SourceMetered, "metered"
		return s, nil
	}
	if !ok {
		return s, fmt.Errorf("load %s: %s is metered but on no connection of %s", l.ID, p.Name, b.p.Bays[l.Bay].Name)
	}
	s.Source, s.Connection, s.How = SourceMetered, h.connection+1, h.how()
	return s, nil
}

// The files show amounts to a ten-thousandth; a leftover that would show as 0
// is not worth a word.
const (
	shown  = model.One / 10_000
	sliver = shown / 2
)

// hopperHow counts the jugs or bags: full ones, then what is measured out of
// the next.
func hopperHow(p *model.Product, amount model.Decimal) string {
	if p.Pack == nil || *p.Pack <= 0 {
		if p.Form.Dry {
			return "hopper, by scale"
		}
		return "hopper, by measure"
	}
	full, rest := int64(amount / *p.Pack), amount%*p.Pack
	if *p.Pack-rest < sliver {
		full, rest = full+1, 0
	}
	packs := fmt.Sprintf("%d x %s %s", full, *p.Pack, p.Unit.Name)
	leftover := fmt.Sprintf("%s %s", (rest+sliver)/shown*shown, p.Unit.Name)
	switch {
	case full == 0:
		return "hopper, " + leftover + " of one pack"
	case rest < sliver:
		return "hopper, " + packs
	}
	return "hopper, " + packs + " + " + leftover
}
