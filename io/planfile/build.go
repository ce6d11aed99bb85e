package planfile

import (
	"errors"
	"math/big"

	"padturn/model"
)

// Build turns a result into its document. Its error is a plan that cannot be
// written down: none at all, or a metered product that is on no connection of
// the bay that draws it.
func Build(p *model.Problem, r *model.Result) (*Document, error) {
	if r.Plan == nil || r.Baseline == nil {
		return nil, errors.New("there is no plan to write: the result lacks the plan or the first come, first served one")
	}
	b := builder{p, r.Plan}
	loads, err := b.loads()
	if err != nil {
		return nil, err
	}
	return &Document{
		Schema:      Schema,
		Day:         day(&p.Settings),
		Bays:        b.bays(),
		Sprayers:    b.sprayers(),
		Products:    b.products(),
		Mixes:       b.mixes(),
		Jobs:        b.jobs(),
		Deliveries:  b.deliveries(),
		Holds:       b.holds(),
		Loads:       loads,
		Changeovers: b.changeovers(),
		Turns:       b.turns(),
		Stock:       b.stock(),
		Water:       b.water(),
		Unsprayed:   b.unsprayed(),
		Totals:      totals(p, r.Plan),
		Baseline:    totals(p, r.Baseline),
		Search:      search(r),
		Warnings:    each(r.Plan.Warnings, func(w string) string { return w }),
		Cautions:    cautions(b.usedProducts()),
	}, nil
}

// builder looks up the names that a plan has by number.
type builder struct {
	p    *model.Problem
	plan *model.Plan
}

func (b builder) product(i int) string {
	if i == model.None {
		return model.Water
	}
	return b.p.Products[i].Name
}

func (b builder) productNames(list []int) []string { return each(list, b.product) }

func (b builder) mixOrBlank(i int) string {
	if i == model.None {
		return ""
	}
	return b.p.Mixes[i].Name
}

func levelOrBlank(levels []model.LevelSettings, i int) string {
	if i == model.None {
		return ""
	}
	return levels[i].Name
}

// each maps a list to a list that is never nil, so that JSON has [] and not
// null.
func each[From, To any](list []From, f func(From) To) []To {
	out := make([]To, 0, len(list))
	for _, x := range list {
		out = append(out, f(x))
	}
	return out
}

func day(s *model.Settings) Day {
	d := Day{
		Date: s.Date, Units: s.Units,
		Opens: Time(s.Pad.Opens), Closes: Time(s.Pad.Closes),
		SprayFrom: Time(s.SprayFrom), SprayUntil: Time(s.SprayUntil),
		Split: s.Split, ShareMaxMin: Number(s.ShareMaxMin), AddingOrder: s.AddingOrder,
		CarrierFirst: Number(s.Pad.CarrierFirst), ChangeoverMin: Number(s.Pad.ChangeoverMin),
		SettleDryMin: Number(s.Pad.SettleDryMin), SettleLiquidMin: Number(s.Pad.SettleLiquidMin),
		RinsateGal:  numberOrNone(s.Pad.RinsateGal),
		RinseLevels: each(s.RinseLevels, level), CleanoutLevels: each(s.CleanoutLevels, level),
		Prices: prices(s.Costs),
	}
	if s.Pad.OvertimeUntil != nil {
		d.OvertimeUntil = timeOrNone(*s.Pad.OvertimeUntil)
	}
	return d
}

func level(l model.LevelSettings) Level { return Level{l.Name, Number(l.Min), Number(l.Gal)} }

func prices(c model.CostSettings) Prices {
	return Prices{
		WaitPerH: Number(c.WaitPerH), CrewPerH: Number(c.CrewPerH), Changeover: Number(c.Changeover),
		RinsatePerGal: Number(c.RinsatePerGal), LatePerH: Number(c.LatePerH),
		OvertimePerH: Number(c.OvertimePerH), TimelinessPerAcH: Number(c.TimelinessPerAcH),
	}
}

func (b builder) bays() []Bay {
	return each(b.p.Bays, func(bay model.Bay) Bay {
		return Bay{
			bay.Name, bay.Connections, b.productNames(bay.Plumbed), b.productNames(bay.Hooked),
			b.mixOrBlank(bay.LastMix), b.productNames(bay.Carriers),
		}
	})
}

func (b builder) sprayers() []Sprayer {
	return each(b.p.Sprayers, func(s model.Sprayer) Sprayer {
		return Sprayer{
			s.Name, Number(s.TankGal), Time(s.AvailableFrom), timeOrNone(s.AvailableUntil),
			b.mixOrBlank(s.LastMix),
		}
	})
}

func (b builder) products() []Product {
	return each(b.p.Products, func(p model.Product) Product {
		out := Product{
			Product: p.Name, Form: p.Form.Code, FormName: p.Form.Name, Unit: p.Unit.Name,
			Handling: SourceHopper, Pack: numberOrNone(p.Pack), ReorderAt: numberOrNone(p.ReorderAt),
			MaxWindMph: numberOrNone(p.MaxWind), EPARegNo: p.EPARegNo,
			Restricted: p.Restricted, SignalWord: p.SignalWord, PPE: p.PPE,
			DensityLbGal: numberOrNone(p.Density), RainfastH: numberOrNone(p.RainfastH),
			Bulk: p.Bulk, Containers: containers(&p),
		}
		if p.Metered {
			out.Handling = SourceMetered
		}
		if p.TankLife < model.Seconds(model.Never) {
			out.TankLifeS = new(int64(p.TankLife))
		}
		return out
	})
}

func (b builder) mixes() []Mix {
	return each(b.p.Mixes, func(m model.Mix) Mix {
		recipe := each(m.Recipe, func(i model.Ingredient) Ingredient {
			return Ingredient{b.product(i.Product), Number(i.Rate), i.Written}
		})
		return Mix{m.Name, Number(m.GPA), b.product(m.Carrier), m.Note, recipe}
	})
}

func (b builder) jobs() []Job {
	return each(b.p.Jobs, func(j model.Job) Job {
		out := Job{
			Job: j.Name, Field: j.Field, Mix: b.p.Mixes[j.Mix].Name, Acres: Number(j.Acres), GPA: Number(j.GPA),
			Customer: j.Customer, Crop: j.Crop, Due: timeOrNone(j.Due),
			Priority: Number(j.Priority), Note: j.Note,
		}
		if j.Lat != nil && j.Lon != nil {
			out.Lat, out.Lon = degrees(*j.Lat), degrees(*j.Lon)
		}
		if j.Sprayer != model.None {
			out.Sprayer = b.p.Sprayers[j.Sprayer].Name
		}
		if j.Earliest > 0 {
			out.Earliest = timeOrNone(j.Earliest)
		}
		return out
	})
}

// covers says which plans the bound and a proof are about.
func covers(r *model.Result) string {
	order := "every order of each sprayer's jobs"
	if r.KeepOrder {
		order = "plans that keep each sprayer's jobs in file order"
	}
	return "Plans that spray everything: " + order + ", every sprayer for jobs that name none, every sharing of loads, " +
		"every bay and order of loads, and whatever comes off a connection when a load needs it; with the filling times, " +
		"drives, stock, prices and holds as the day gives them, and set-ups that change no more than the next load needs."
}

func search(r *model.Result) Search {
	gap, _ := r.Gap()
	s := Search{
		Status: string(r.Status), BoundDollars: Number(r.Bound.DollarsDecimal()),
		GapDollars: Number(gap.DollarsDecimal()), UnavoidableDollars: Number(r.Unavoidable.DollarsDecimal()),
		KeepOrder: r.KeepOrder, Covers: covers(r),
		Seed: r.Seed, Effort: r.Effort, Steps: r.Steps,
	}
	s.AboveBoundPercent = s.aboveBound()
	if total := r.Plan.Cost.Total(); total > 0 {
		share := new(big.Rat).SetFrac64(int64(gap), int64(total))
		s.GapPercent = Number(model.RoundRat(share.Mul(share, big.NewRat(100, 1))))
	}
	return s
}
