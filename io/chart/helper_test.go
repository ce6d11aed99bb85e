package chart

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"padturn/io/planfile"
)

// planOf reads a plan of the plan file's own tests.
func planOf(t testing.TB, name string) *planfile.Document {
	t.Helper()
	d, err := planfile.Read(filepath.Join("../planfile/testdata", name))
	require.NoError(t, err)
	return d
}

const one = 1_000_000_000

// crowded is a day of many sprayers and loads, with long names of all sorts of
// letters, that is there to be drawn, not to be good.
func crowded(sprayers, loads, bays, products int) *planfile.Document {
	d := sampleDay()
	for i := range bays {
		d.Bays = append(d.Bays, planfile.Bay{Bay: fmt.Sprintf("bay %d, behind the long shed", i+1)})
	}
	for i := range sprayers {
		d.Sprayers = append(d.Sprayers, planfile.Sprayer{Sprayer: fmt.Sprintf("Pulvérisateur ½ n° %d", i+1)})
	}
	for i := range products {
		d.Products = append(d.Products, planfile.Product{
			Product: fmt.Sprintf("µ-emulsion of a very long name, %d ½ °C", i), Unit: "gal", ReorderAt: new(planfile.Number(40 * one)),
		})
		addStock(d, i)
	}
	for i := range loads {
		addLoad(d, i, sprayers, bays, loads)
	}
	return d
}

func sampleDay() *planfile.Document {
	d := &planfile.Document{Day: planfile.Day{
		Date: "2026-05-04", Units: "metric", Opens: 5 * hour, Closes: 22 * hour, SprayFrom: 6 * hour, SprayUntil: 21 * hour,
		ChangeoverMin: 8 * one, RinseLevels: []planfile.Level{{Name: "flush", Min: 2 * one}},
	}}
	d.Holds = []planfile.Hold{
		{From: 9 * hour, To: 10 * hour, Kind: "rain"},
		{From: 9*hour + 60, To: 12 * hour, Kind: "wind", Scope: "@drifts", Reason: strings.Repeat("gusty ", 30)},
		{From: 21 * hour, To: 22 * hour, Scope: "bay:bay 1, behind the long shed"},
		{From: 15 * hour, To: 15*hour + 120, Kind: "other", Scope: "sprayer:Pulvérisateur ½ n° 1"},
	}
	d.Cautions = []string{strings.Repeat("The label is the law. ", 20)}
	d.Unsprayed = []planfile.Unsprayed{{Job: "J0", Acres: 3 * one, Reason: strings.Repeat("no time ", 40)}}
	return d
}

func addStock(d *planfile.Document, i int) {
	name := d.Products[i].Product
	level := planfile.Number((100 + 9999*i) * one)
	event := func(at planfile.Time, what string, change planfile.Number) {
		level += change
		d.Stock = append(d.Stock, planfile.StockEvent{
			Product: name, At: at, Event: what, Change: change, Level: level, Unit: "gal", Low: level < 40*one,
		})
	}
	event(0, planfile.EventOpening, 0)
	event(7*hour, "load x", -70*one)
	event(8*hour, planfile.EventDelivery, 110*one)
	event(8*hour+1200, planfile.EventDelivery, 110*one)
	event(21*hour+3000, planfile.EventDelivery, 330*one)
	event(40*hour, planfile.EventDelivery, 330*one)
}

// addLoad gives load i its place on a bay and its turns, each in a slot of its
// own. The two need not agree: they are drawn apart.
func addLoad(d *planfile.Document, i, sprayers, bays, loads int) {
	sprayer, bay := d.Sprayers[i%sprayers].Sprayer, d.Bays[i%bays].Bay
	id, job := fmt.Sprintf("%s-%d", sprayer, i/sprayers+1), fmt.Sprintf("J%d", i)
	const day = 16 * hour
	slot := day / planfile.Time(loads/bays+1)
	at := d.Day.Opens + planfile.Time(i/bays)*slot
	l := planfile.Load{
		Load: id, Bay: bay, Sprayer: sprayer, Mix: "corn post, two-way residual", Gal: 1000 * one, Acres: 60 * one,
		SetupStart: at, Start: at + slot/3, End: at + slot/2 + slot/3*planfile.Time(i%2), Rinse: "flush",
	}
	turn := day / planfile.Time(loads/sprayers+1)
	at = d.Day.Opens + planfile.Time(i/sprayers)*turn
	whats := []string{"wait", "held", "fill", "drive", "spray", "pause", "spray", "drive", "cleanout"}
	for _, what := range whats {
		to := at + turn/planfile.Time(len(whats))
		d.Turns = append(d.Turns, planfile.Turn{Sprayer: sprayer, Load: id, What: what, From: at, To: to})
		at = to
		if what == "spray" {
			l.Parts = []planfile.Part{{Job: job, Acres: 60 * one, SprayS: 1, SprayedAt: at}}
		}
	}
	l.BackAt = at
	d.Loads = append(d.Loads, l)
	d.Jobs = append(d.Jobs, planfile.Job{Job: job, Field: "Champ derrière l'église 農", Acres: 60 * one, Due: new(6 * hour)})
	d.Changeovers = append(d.Changeovers,
		planfile.Changeover{Bay: bay, Connection: 1, At: l.SetupStart + slot/6, On: "x", Load: id},
		planfile.Changeover{Bay: bay, Connection: 1, At: l.Start + 60, Off: "x", On: "y", Load: id, Inside: true})
	d.Totals.Loads++
}
