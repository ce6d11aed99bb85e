package scenario

import (
	"fmt"
	"math/rand/v2"

	"padturn/model"
)

// Random makes a small day that [model.NewProblem] accepts: 1 to 4 sprayers, 1
// to 3 bays and about 1 to 14 loads, with every feature of a day in chance
// combination. It need not make sense on a farm.
func Random(rng *rand.Rand) model.Input {
	for {
		r := &random{dice: dice{rng}}
		r.make()
		if _, report := model.NewProblem(r.in); report.OK() {
			return r.in
		}
	}
}

// maxRandomLoads is how many loads a random day has at most, if each job is
// filled alone.
const maxRandomLoads = 14

// random is a random day being made.
type random struct {
	dice
	in     model.Input
	groups []string
	crops  []string
}

func (r *random) make() {
	r.in.Settings = model.DefaultSettings()
	r.groups = []string{"grass", "hormone", "oil"}[:r.whole(1, 3)]
	r.crops = []string{"corn", "beans", "wheat", ""}[:r.whole(1, 4)]
	r.settings()
	r.products()
	r.mixes()
	r.bays()
	r.sprayers()
	r.jobs()
	r.supplies()
	r.hookUp()
	r.rules()
	r.holds()
}

// settings draws day.yaml but for the bays.
func (r *random) settings() {
	s := &r.in.Settings
	s.SprayFrom = r.clock(4, 8, 60)
	s.SprayUntil = r.clock(pick(r.dice, 12, 18, 20), 26, 60)
	s.Split = pick(r.dice, "even", "full_first")
	s.ShareMaxMin = pick(r.dice, 0, model.WholeDecimal(6), model.WholeDecimal(15), model.WholeDecimal(60))
	s.AddingOrder = pick(r.dice, model.AddingOrderNames()...)
	for i := range s.RinseLevels {
		s.RinseLevels[i].Min, s.RinseLevels[i].Gal = r.decimal(0, 12, 2), r.decimal(0, 80, 1)
	}
	for i := range s.CleanoutLevels {
		s.CleanoutLevels[i].Min, s.CleanoutLevels[i].Gal = r.decimal(0, 60, 1), r.decimal(0, 200, 0)
	}
	r.pad(&s.Pad)
	r.costs(&s.Costs)
}

func (r *random) pad(pad *model.PadSettings) {
	if r.chance(60) {
		pad.Lat, pad.Lon = model.Some(41.9+r.Float64()/10), model.Some(-93.5-r.Float64()/10)
	}
	pad.BetweenMin = maybe(r.dice, 60, func() model.Decimal { return r.decimal(0, 20, 2) })
	pad.Opens = r.clock(4, 7, 60)
	pad.Closes = r.clock(pick(r.dice, 9, 15, 18), 22, 60)
	pad.OvertimeUntil = maybe(r.dice, 40, func() model.Clock { return pad.Closes + model.Clock(r.IntN(3*3600)) })
	pad.CarrierGpm = r.decimal(20, 300, 1)
	pad.CarrierFirst = pick(r.dice, 0, model.One/3, model.One/2, model.One)
	pad.MeterGpm = r.decimal(3, 30, 2)
	pad.HookupMin, pad.UnhookMin = r.decimal(0, 4, 3), r.decimal(0, 3, 3)
	pad.JugSec, pad.BagSec = r.decimal(0, 90, 2), r.decimal(10, 120, 1)
	pad.HopperLbPerMin = r.decimal(5, 80, 2)
	pad.PushMin, pad.PushGal = r.decimal(0, 1, 3), r.decimal(0, 8, 0)
	pad.SettleDryMin, pad.SettleLiquidMin = r.decimal(0, 4, 2), r.decimal(0, 2, 2)
	pad.ChangeoverMin = r.decimal(0, 15, 2)
	pad.RinsateGal = maybe(r.dice, 30, func() model.Decimal { return r.decimal(0, 300, 0) })
}

// costs draws prices; a price of nothing is among them.
func (r *random) costs(c *model.CostSettings) {
	for _, price := range []*model.Decimal{
		&c.WaitPerH, &c.CrewPerH, &c.Changeover, &c.RinsatePerGal, &c.LatePerH, &c.OvertimePerH,
	} {
		if r.chance(15) {
			*price = 0
		} else if r.chance(40) {
			*price = r.decimal(0, 300, 2)
		}
	}
	c.TimelinessPerAcH = r.decimal(0, 1, 4) / 10
}

// sprayers draws sprayers.csv. Tanks are small, so that small jobs make
// several loads.
func (r *random) sprayers() {
	for i := range r.whole(1, 4) {
		row := model.SprayerRow{
			Sprayer: fmt.Sprintf("rig %d", i+1),
			TankGal: r.decimal(400, 1600, pick(r.dice, 0, 3)),
			RoadMph: maybe(r.dice, 50, func() model.Decimal { return r.decimal(12, 40, 1) }),
		}
		if r.chance(50) {
			row.AcPerH = model.Some(r.decimal(40, 160, 1))
		} else {
			row.BoomFt = model.Some(model.WholeDecimal(int64(pick(r.dice, 60, 90, 100, 120))))
			row.Mph = maybe(r.dice, 60, func() model.Decimal { return r.decimal(8, 18, 1) })
			row.Efficiency = maybe(r.dice, 60, func() model.Decimal { return r.decimal(0, 1, 2)/3 + model.One*6/10 })
		}
		row.AvailableFrom = maybe(r.dice, 30, func() model.Clock { return r.clock(4, 10, 1) })
		row.AvailableUntil = maybe(r.dice, 25, func() model.Clock { return r.clock(12, 22, 1) })
		row.WaitPerH = maybe(r.dice, 30, func() model.Decimal { return r.decimal(0, 400, 2) })
		if r.chance(40) {
			row.LastMix = pick(r.dice, r.in.Mixes...).Mix
		}
		r.in.Sprayers = append(r.in.Sprayers, row)
	}
}

// jobs draws jobs.csv until the day is full or chance ends it.
func (r *random) jobs() {
	loads, wanted := 0, r.whole(1, maxRandomLoads)
	for i := 0; loads < wanted && i < 12; i++ {
		row := r.job(i)
		tank := r.in.Sprayers[0].TankGal
		for _, s := range r.in.Sprayers {
			if s.Sprayer == row.Sprayer || row.Sprayer == "" {
				tank = min(tank, s.TankGal)
			}
		}
		loads += model.LoadCount(row.Acres, r.gpaOf(&row), tank)
		if loads <= maxRandomLoads {
			r.in.Jobs = append(r.in.Jobs, row)
		}
	}
}

func (r *random) job(i int) model.JobRow {
	row := model.JobRow{
		Job:      pick(r.dice, fmt.Sprintf("J%d", i+1), fmt.Sprintf("J%d", i+1), ""),
		Field:    fmt.Sprintf("field %d", r.whole(1, 6)),
		Mix:      pick(r.dice, r.in.Mixes...).Mix,
		Acres:    r.decimal(1, 160, pick(r.dice, 0, 1, 4, 9)),
		Crop:     pick(r.dice, r.crops...),
		Priority: maybe(r.dice, 25, func() model.Decimal { return pick(r.dice, model.One/2, model.WholeDecimal(2), model.WholeDecimal(5)) }),
		GPA:      maybe(r.dice, 15, func() model.Decimal { return r.decimal(10, 20, 1) }),
	}
	if n := len(r.in.Jobs); n > 0 && r.chance(45) {
		row.Mix, row.GPA = r.in.Jobs[n-1].Mix, r.in.Jobs[n-1].GPA // neighbours that may share
	}
	if !r.chance(20) {
		row.Sprayer = pick(r.dice, r.in.Sprayers...).Sprayer
	}
	r.place(&row)
	row.Earliest = maybe(r.dice, 15, func() model.Clock { return r.clock(5, 12, 60) })
	row.Due = maybe(r.dice, 30, func() model.Clock { return r.clock(12, 18, 60) })
	return row
}

// place says where a job's field is: by minutes, on the map, or both.
func (r *random) place(row *model.JobRow) {
	if pad := r.in.Settings.Pad; pad.Lat != nil && r.chance(60) {
		row.Lat, row.Lon = model.Some(*pad.Lat+(r.Float64()-0.5)/5), model.Some(*pad.Lon+(r.Float64()-0.5)/5)
	}
	if row.Lat == nil || r.chance(30) {
		row.DriveMin = model.Some(r.decimal(0, 25, 2))
	}
}

func (r *random) gpaOf(row *model.JobRow) model.Decimal {
	if row.GPA != nil {
		return *row.GPA
	}
	for _, m := range r.in.Mixes {
		if m.Mix == row.Mix {
			return m.GPA
		}
	}
	return model.One
}
