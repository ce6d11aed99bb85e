package scenario

import (
	"fmt"
	"math/rand/v2"

	"padturn/model"
)

// Shape is how large a day is. Loads is how many there are if each job is
// filled alone; neighbours that share make a few less.
type Shape struct{ Sprayers, Loads, Bays int }

// The sizes of the benchmark family.
var (
	Small  = Shape{3, 20, 1}
	Middle = Shape{7, 60, 2}
	Large  = Shape{15, 150, 3}
	Vast   = Shape{40, 400, 6}
	Huge   = Shape{100, 1000, 10}
)

// Sizes lists the family from small to vast; Huge stands apart.
func Sizes() []Shape { return []Shape{Small, Middle, Large, Vast} }

// String is such as "7x60x2".
func (s Shape) String() string { return fmt.Sprintf("%dx%dx%d", s.Sprayers, s.Loads, s.Bays) }

// Crowding is the share of the time that fillings alone would keep the bays
// busy if no sprayer ever waited. Rinses and changeovers come on top.
type Crowding float64

// The crowding levels of the benchmark family.
const (
	Quiet   Crowding = 0.55
	Busy    Crowding = 0.8
	Crowded Crowding = 1.0
)

// Crowdings lists the levels of the family.
func Crowdings() []Crowding { return []Crowding{Quiet, Busy, Crowded} }

// String is the crowding in per cent of the bays' time.
func (c Crowding) String() string { return fmt.Sprintf("%.0f%%", float64(c)*100) }

// Day makes a realistic day of a shape: tanks of 1,000 to 1,600 gallons, mixes
// of a spring day, totes and deliveries, rinse and cleanout rules, some due
// times, a shower, and jobs that any sprayer may do. It panics where it makes
// what [model.NewProblem] does not accept, which would be a bug of its own.
func (s Shape) Day(crowding Crowding, seed uint64) model.Input {
	d := &day{shape: s, dice: dice{rand.New(rand.NewPCG(seed, uint64(s.Sprayers*1_000_000+s.Loads*100+s.Bays)))}}
	d.make(float64(crowding))
	if _, report := model.NewProblem(d.in); !report.OK() {
		panic(fmt.Sprintf("scenario: day %v has faults: %v", s, report.Errors))
	}
	return d.in
}

// day is a realistic day being made.
type day struct {
	dice
	shape Shape
	in    model.Input
}

// Hours of the day, and how a sprayer's turns fit into them.
const (
	opens, closes = 5, 22
	workHours     = 9  // that the turns take if nobody waits
	longestTurn   = 75 // minutes
)

func (d *day) make(crowding float64) {
	d.in.Settings = model.DefaultSettings()
	d.in.Products = springProducts()
	d.in.Mixes, d.in.Recipes = springMixes()
	d.in.Rules = springRules()
	d.settings()
	d.sprayers()
	d.jobs()
	d.pace(crowding)
	d.supplies()
	d.weather()
}

func (d *day) settings() {
	s := &d.in.Settings
	s.SprayFrom, s.SprayUntil = opens*3600+1800, (closes+2)*3600
	s.ShareMaxMin = model.WholeDecimal(10)
	pad := &s.Pad
	pad.Opens, pad.Closes, pad.OvertimeUntil = opens*3600, closes*3600, model.Some(model.Clock((closes+1)*3600))
	pad.BetweenMin = model.Some(model.WholeDecimal(8))
	pad.RinsateGal = model.Some(model.WholeDecimal(int64(1500 * d.shape.Bays)))
	pad.ChangeoverMin = model.WholeDecimal(5)
	pad.Bays = nil
	for i := range d.shape.Bays {
		bay := model.BaySettings{
			Name: fmt.Sprintf("bay %d", i+1), Connections: 4, Plumbed: []string{glyphosate},
			Hooked:   []string{pick(d.dice, atrazine, choline), ams},
			Carriers: []string{model.Water}, LastMix: pick(d.dice, d.in.Mixes...).Mix,
		}
		if i == 0 {
			bay.Carriers = append(bay.Carriers, fertilizer)
		}
		pad.Bays = append(pad.Bays, bay)
	}
}

func (d *day) sprayers() {
	for i := range d.shape.Sprayers {
		row := model.SprayerRow{
			Sprayer: fmt.Sprintf("rig %d", i+1),
			TankGal: model.WholeDecimal(int64(pick(d.dice, 1000, 1200, 1200, 1600))),
			RoadMph: model.Some(model.WholeDecimal(int64(d.whole(18, 30)))),
		}
		if d.chance(60) {
			row.LastMix = pick(d.dice, d.in.Mixes...).Mix
		}
		if d.chance(25) {
			row.AvailableFrom = model.Some(model.Clock(opens*3600 + 900*d.whole(1, 4)))
		}
		if d.chance(20) {
			row.WaitPerH = model.Some(model.WholeDecimal(int64(pick(d.dice, 200, 300, 350))))
		}
		d.in.Sprayers = append(d.in.Sprayers, row)
	}
}

// pace sets how fast the pad fills and the sprayers spray, so that the
// fillings keep the bays as busy as asked. A turn takes what lets all turns be
// done in the working hours.
func (d *day) pace(crowding float64) {
	turns := float64(d.shape.Loads) / float64(d.shape.Sprayers)
	turn := min(longestTurn, workHours*60/turns)
	fill := crowding * float64(d.shape.Bays) * turn / float64(d.shape.Sprayers)
	d.paceSprayers(turn - fill)
	d.pacePad(fill)
}

// pacePad scales the pad's times so that the mean load takes so many minutes.
func (d *day) pacePad(minutes float64) {
	pad := &d.in.Settings.Pad
	mean, _ := d.means()
	pace := minutes / mean
	for _, t := range []*model.Decimal{
		&pad.HookupMin, &pad.UnhookMin, &pad.JugSec, &pad.BagSec, &pad.PushMin, &pad.SettleDryMin, &pad.SettleLiquidMin,
	} {
		*t = tidy(t.Float() * pace)
	}
	for _, flow := range []*model.Decimal{&pad.CarrierGpm, &pad.MeterGpm, &pad.HopperLbPerMin} {
		*flow = tidy(flow.Float() / pace)
	}
}

// paceSprayers gives each sprayer the acres an hour that make its mean load
// take about so many minutes, drives counted in.
func (d *day) paceSprayers(away float64) {
	for i := range d.in.Sprayers {
		d.in.Sprayers[i].AcPerH = model.Some(model.WholeDecimal(60))
	}
	_, acres := d.means()
	for i := range d.in.Sprayers {
		spray := max(away-2*meanDrive, away/3) * (0.85 + 0.3*d.Float64())
		d.in.Sprayers[i].AcPerH = model.Some(tidy(acres / spray * 60))
	}
}

// means returns the mean filling time of the loads in minutes, and their acres.
func (d *day) means() (minutes, acres float64) {
	p, _ := model.NewProblem(d.in)
	n := 0.0
	for i, j := range p.Jobs {
		for _, l := range p.RunLoads(max(j.Sprayer, 0), []int{i}) {
			n++
			minutes += l.Fill[0].Hours() * 60
			for _, part := range l.Parts {
				acres += part.Acres.Float()
			}
		}
	}
	return minutes / n, acres / n
}

// tidy rounds to two decimals, as people write it.
func tidy(x float64) model.Decimal { return max(model.Decimal(x*100+0.5), 1) * model.One / 100 }

// weather adds a shower, some wind and a bay that is shut for a while.
func (d *day) weather() {
	from := model.Clock((11 + d.IntN(3)) * 3600)
	d.in.Holds = []model.HoldRow{{From: from, To: from + model.Clock(600*d.whole(2, 5)), Kind: "rain", Reason: "shower"}}
	d.in.Forecast = []model.ForecastRow{
		{From: 14 * 3600, To: 15 * 3600, WindMph: model.Some(model.WholeDecimal(int64(d.whole(8, 14))))},
	}
	if d.shape.Bays > 1 {
		d.in.Holds = append(d.in.Holds, model.HoldRow{
			From: 12 * 3600, To: 12*3600 + 1200, Kind: "other", Scope: "bay:bay 2", Reason: "pump filter",
		})
	}
}
