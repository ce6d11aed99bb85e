package scenario

import (
	"fmt"

	"padturn/model"
)

// meanDrive is the usual drive from the pad to a field, in minutes.
const meanDrive = 7

// places are the invented neighbourhoods of the fields.
var places = []string{"Alder", "Birch", "Cedar", "Dogwood", "Elm", "Fern", "Gorse", "Hazel", "Ivy", "Juniper"}

// jobs gives every sprayer its share of the loads, a few jobs of a mix in a
// row, and now and then a job of one load that any sprayer may do.
func (d *day) jobs() {
	for s := range d.in.Sprayers {
		left := d.shape.Loads*(s+1)/d.shape.Sprayers - d.shape.Loads*s/d.shape.Sprayers
		recipe, place := d.IntN(len(springDay)), pick(d.dice, places...)
		for left > 0 {
			if d.chance(45) {
				recipe, place = d.IntN(len(springDay)), pick(d.dice, places...)
			}
			n := min(d.whole(1, 3), left)
			left -= n
			d.job(s, n, &springDay[recipe], place)
		}
	}
	d.Shuffle(len(d.in.Jobs), func(i, j int) { d.in.Jobs[i], d.in.Jobs[j] = d.in.Jobs[j], d.in.Jobs[i] })
}

// job adds a job that takes n loads on a sprayer.
func (d *day) job(sprayer, n int, m *springMix, place string) {
	row := model.JobRow{
		Job:      fmt.Sprintf("J%d", len(d.in.Jobs)+1),
		Field:    fmt.Sprintf("%s %d", place, d.whole(1, 12)),
		Sprayer:  d.in.Sprayers[sprayer].Sprayer,
		Mix:      m.name,
		Crop:     m.crop,
		DriveMin: model.Some(d.decimal(meanDrive-4, meanDrive+4, 1)),
	}
	tank := d.in.Sprayers[sprayer].TankGal
	if n == 1 && d.chance(20) {
		row.Sprayer = ""
		for _, s := range d.in.Sprayers {
			tank = min(tank, s.TankGal)
		}
	}
	full := tank.Float() / float64(m.gpa) // acres of a full tank
	row.Acres = model.Decimal(full*(float64(n)-0.35*d.Float64())*10) * model.One / 10
	if d.chance(20) {
		row.Due = model.Some(model.Clock((12 + d.IntN(6)) * 3600))
	}
	if d.chance(10) {
		row.Priority = model.Some(model.WholeDecimal(2))
	}
	if d.chance(5) {
		row.Earliest = model.Some(model.Clock((8 + d.IntN(3)) * 3600))
	}
	d.in.Jobs = append(d.in.Jobs, row)
}

// supplies stocks what the jobs take and a little more: half of it there at
// the opening, the rest in two deliveries of the morning.
func (d *day) supplies() {
	p, _ := model.NewProblem(d.in)
	for i, need := range demand(p) {
		row := &d.in.Products[i]
		pack := packs[row.Product]
		size := model.WholeDecimal(int64(pack.size))
		count := (need*115/100+size-1)/size + model.Decimal(d.shape.Bays) + 1
		late := model.Decimal(0)
		if pack.container == "tote" {
			late = count / 3
		}
		stock := model.StockRow{Product: row.Product, Container: pack.container, Size: size, Full: (count - late) * model.One}
		if d.chance(50) {
			stock.Open = model.Some(size / model.Decimal(d.whole(2, 5)))
		}
		d.in.Stock = append(d.in.Stock, stock)
		for _, hour := range []int{8, 10} {
			part := late / 2
			if hour == 8 {
				part = late - part
			}
			if part > 0 {
				d.in.Deliveries = append(d.in.Deliveries, model.DeliveryRow{
					At: model.Clock(hour * 3600), Product: row.Product, Container: pack.container, Size: size, Count: part * model.One,
				})
			}
		}
	}
	d.waterTower(p)
}

// waterTower limits the pad's water to what refills during the day.
func (d *day) waterTower(p *model.Problem) {
	var gal float64
	for _, j := range p.Jobs {
		if p.Mixes[j.Mix].Carrier == model.None {
			gal += j.Acres.Float() * j.GPA.Float()
		}
	}
	tower := model.Decimal(gal*0.4/100+1) * model.WholeDecimal(100)
	d.in.Settings.Pad.Water = &model.WaterSettings{
		OnHandGal: tower, CapacityGal: tower, RefillGpm: tidy(gal * 1.2 / (workHours * 60)),
	}
}
