package scenario

import (
	"fmt"
	"math/big"
	"math/rand/v2"

	"padturn/model"
)

// Size is how big the pad of a day is.
type Size int

// The sizes: the first four are the benchmark family, the last is for limits.
const (
	Small   Size = iota // 3 sprayers, 20 loads, 1 bay
	Middle              // 7 sprayers, 60 loads, 2 bays
	Large               // 15 sprayers, 150 loads, 3 bays
	Largest             // 40 sprayers, 400 loads, 6 bays
	Huge                // 100 sprayers, 1000 loads, 10 bays
)

// Sizes lists the benchmark family.
func Sizes() []Size { return []Size{Small, Middle, Large, Largest} }

// String returns the size's name.
func (s Size) String() string { return shapes[s].name }

// Crowding is how busy the bays of a day are.
type Crowding int

// The crowding levels.
const (
	Quiet Crowding = iota // bays are filling 55 % of the time
	Busy                  // 80 %
	Full                  // always, if the sprayers came evenly
)

// Crowdings lists the levels.
func Crowdings() []Crowding { return []Crowding{Quiet, Busy, Full} }

// String returns the level's name.
func (c Crowding) String() string { return [...]string{"quiet", "busy", "full"}[c] }

// Utilisation returns the share of the time that bays would spend filling if no
// sprayer ever waited: sprayers × filling ÷ (bays × turn), on average. Rinses
// and changeovers come on top.
func (c Crowding) Utilisation() float64 { return [...]float64{0.55, 0.8, 1}[c] }

// shape is what a size stands for.
type shape struct {
	name                  string
	sprayers, loads, bays int
	connections, mixes    int
	fill                  [3]float64 // minutes of an average filling, by crowding
	carrierGpm, meterGpm  int64
	settle                model.Decimal // minutes after a dry product; a third after a liquid
}

// shapes by size: the more sprayers a bay serves, the faster it is.
var shapes = [...]shape{
	{"small", 3, 20, 1, 3, 4, [3]float64{12, 15, 18}, 200, 10, 3 * model.One},
	{"middle", 7, 60, 2, 4, 6, [3]float64{10.5, 12.5, 14}, 250, 15, 2 * model.One},
	{"large", 15, 150, 3, 4, 8, [3]float64{8.5, 10, 11}, 350, 20, 3 * model.One / 2},
	{"largest", 40, 400, 6, 5, 10, [3]float64{7, 8, 9}, 400, 30, model.One},
	{"huge", 100, 1000, 10, 5, 10, [3]float64{5, 6, 6.5}, 500, 40, model.One / 2},
}

// Day makes a day of the benchmark family, which [model.NewProblem] accepts. At
// one size and seed the jobs are the same at every crowding: on a more crowded
// day the fields are nearer, the sprayers faster and the fillings slower.
func Day(size Size, crowding Crowding, seed uint64) model.Input {
	b := &benchmark{
		dice: dice{rand.New(rand.NewPCG(seed, uint64(size)))}, shape: shapes[size],
		fill: shapes[size].fill[crowding],
	}
	b.turn = b.fill * float64(b.sprayers) / float64(b.bays) / crowding.Utilisation()
	b.settings()
	b.shelf()
	b.machines()
	b.work()
	b.weather()
	b.pace()
	b.stock()
	return b.in
}

// benchmark is a day of the family being made.
type benchmark struct {
	dice
	shape
	in         model.Input
	fill, turn float64 // minutes, on average
	drives     []float64
}

func (b *benchmark) settings() {
	s := model.DefaultSettings()
	s.SprayUntil = 22 * 3600
	s.Pad.Closes, s.Pad.OvertimeUntil = 20*3600, model.Some[model.Clock](22*3600)
	s.Pad.BetweenMin = model.Some(model.WholeDecimal(6))
	s.Pad.CarrierGpm, s.Pad.MeterGpm = model.WholeDecimal(b.carrierGpm), model.WholeDecimal(b.meterGpm)
	s.Pad.SettleDryMin, s.Pad.SettleLiquidMin = b.settle, b.settle/3
	s.Pad.JugSec, s.Pad.BagSec = model.WholeDecimal(30), model.WholeDecimal(20)
	s.Pad.ChangeoverMin = model.WholeDecimal(5)
	s.Pad.Bays = nil
	for i := range b.bays {
		bay := model.BaySettings{Name: fmt.Sprintf("bay %d", i+1), Connections: b.connections, Plumbed: []string{glyphosate}}
		if b.mixes > nitrogenMix && i%2 == 0 {
			bay.Carriers = []string{model.Water, nitrogen}
		}
		s.Pad.Bays = append(s.Pad.Bays, bay)
	}
	b.in.Settings = s
}

// usualTank is the tank of many sprayers, and of the first.
const usualTank = 1000 * model.One

// machines draws the sprayers.
func (b *benchmark) machines() {
	for i := range b.sprayers {
		s := model.SprayerRow{
			Sprayer: fmt.Sprintf("S%02d", i+1), TankGal: model.WholeDecimal(int64(pick(b.dice, 800, 1000, 1000, 1200))),
			LastMix: b.in.Mixes[i%b.mixes].Mix,
		}
		s.WaitPerH = maybe(b.dice, 30, func() model.Decimal { return model.WholeDecimal(int64(180 + 10*b.whole(0, 14))) })
		if i == 0 {
			s.TankGal = usualTank
		} else {
			s.AvailableFrom = maybe(b.dice, 20, func() model.Clock { return b.clock(6, 7, 900) })
		}
		b.in.Sprayers = append(b.in.Sprayers, s)
	}
}

// work draws the jobs, sprayer by sprayer: stretches of one mix on one crop,
// out of the few mixes that a sprayer has on a day.
func (b *benchmark) work() {
	for i := range b.sprayers {
		mine := []int{i % b.mixes, (i + 1 + b.IntN(b.mixes-1)) % b.mixes}
		mix := mine[0]
		for left := b.loads*(i+1)/b.sprayers - b.loads*i/b.sprayers; left > 0; {
			if b.chance(40) {
				mix = pick(b.dice, mine...)
			}
			loads := min(b.whole(1, 3), left)
			left -= loads
			b.job(&b.in.Sprayers[i], mix, loads)
		}
	}
	b.Shuffle(len(b.in.Jobs), func(i, j int) {
		b.in.Jobs[i], b.in.Jobs[j] = b.in.Jobs[j], b.in.Jobs[i]
		b.drives[i], b.drives[j] = b.drives[j], b.drives[i]
	})
}

// job draws a job that is so many loads if it shares none.
func (b *benchmark) job(s *model.SprayerRow, mix, loads int) {
	n := len(b.in.Jobs) + 1
	m := &b.in.Mixes[mix]
	part := float64(loads) - 0.05 - 0.3*b.Float64()
	j := model.JobRow{
		Job: fmt.Sprintf("J%03d", n), Field: fmt.Sprintf("field %d", n), Sprayer: s.Sprayer, Mix: m.Mix, Crop: crops[m.Mix],
		Customer: pick(b.dice, "Arden", "Bellow", "Corrin", "Dunmore", "Esker"),
		Acres:    model.WholeDecimal(int64(part * s.TankGal.Float() / m.GPA.Float())),
		Due:      maybe(b.dice, 15, func() model.Clock { return b.clock(10, 19, 1800) }),
		Priority: maybe(b.dice, 10, func() model.Decimal { return model.WholeDecimal(2) }),
	}
	if j.Due == nil {
		j.Earliest = maybe(b.dice, 8, func() model.Clock { return b.clock(7, 11, 1800) })
	}
	if s.TankGal == usualTank && b.chance(15) {
		j.Sprayer = ""
	}
	b.drives = append(b.drives, 0.4+1.2*b.Float64())
	b.in.Jobs = append(b.in.Jobs, j)
}

// weather draws a shower, and a windy hour for what may not drift.
func (b *benchmark) weather() {
	if b.chance(50) {
		from := b.clock(10, 15, 900)
		b.in.Holds = append(b.in.Holds, model.HoldRow{From: from, To: from + 45*60, Kind: "rain", Reason: "shower"})
	}
	if b.chance(50) {
		from := b.clock(11, 16, 900)
		b.in.Forecast = append(b.in.Forecast, model.ForecastRow{From: from, To: from + 3600, GustMph: model.Some(model.WholeDecimal(18))})
	}
}

// pace sets speeds, ways and hookup times so that fillings and turns have the
// length they should on average. Three tenths of the time away is driving.
func (b *benchmark) pace() {
	const driving = 0.3
	away := b.turn - b.fill
	var acres float64
	for i := range b.in.Jobs {
		acres += b.in.Jobs[i].Acres.Float()
		b.in.Jobs[i].DriveMin = model.Some(tenths(away * driving / 2 * b.drives[i]))
	}
	perHour := acres / float64(b.loads) * 60 / (away * (1 - driving))
	for i := range b.in.Sprayers {
		b.in.Sprayers[i].AcPerH = model.Some(tenths(perHour * (0.9 + 0.2*b.Float64())))
	}
	pad := &b.in.Settings.Pad
	pad.HookupMin, pad.UnhookMin = 0, 0
	rest := max(b.fill-b.averageFill(), 0.5)
	pad.HookupMin, pad.UnhookMin = tenths(rest*0.6), tenths(rest*0.4)
}

// tenths rounds to a tenth.
func tenths(x float64) model.Decimal { return model.Decimal(x*10+0.5) * (model.One / 10) }

// averageFill returns the filling time of the jobs' loads as they are, in
// minutes, before there is stock.
func (b *benchmark) averageFill() float64 {
	var sum model.Seconds
	loads := 0
	b.eachLoad(func(_ *model.Problem, l *model.Load) {
		sum += l.Fill[0]
		loads++
	})
	return float64(sum) / 60 / float64(loads)
}

// eachLoad calls yield with the loads of every job alone.
func (b *benchmark) eachLoad(yield func(*model.Problem, *model.Load)) {
	in := b.in
	in.Stock, in.Deliveries = nil, nil
	for _, p := range in.Products { // so that nothing is out of reach
		in.Stock = append(in.Stock, model.StockRow{Product: p.Product, Container: "bulk", Size: model.One, Full: model.One})
	}
	p, report := model.NewProblem(in)
	if !report.OK() {
		panic(fmt.Sprintf("scenario: a benchmark day is wrong: %v", report.Errors))
	}
	for i, j := range p.Jobs {
		loads := p.RunLoads(max(j.Sprayer, 0), []int{i})
		for k := range loads {
			yield(p, &loads[k])
		}
	}
}

// demand returns what the jobs take of each product, in its stock unit.
func (b *benchmark) demand() map[string]model.Decimal {
	need := map[string]model.Decimal{}
	b.eachLoad(func(p *model.Problem, l *model.Load) {
		for _, d := range l.Doses {
			need[p.Products[d.Product].Name] += d.Amount
		}
		if c := p.Mixes[l.Mix].Carrier; c != model.None {
			need[p.Products[c].Name] += p.CarrierAmount(l)
		}
	})
	return need
}

// over returns a × b ÷ c.
func over(a model.Decimal, b, c int64) model.Decimal {
	return model.RoundRat(new(big.Rat).Mul(a.Rat(), big.NewRat(b, c)))
}
