package planfile

import (
	"bytes"
	"encoding/csv"
	"strconv"
	"strings"
)

// The names of the files of a plan.
const (
	PlanFile        = "plan.json"
	LoadsFile       = "loads.csv"
	AmountsFile     = "amounts.csv"
	ConnectionsFile = "connections.csv"
	StockFile       = "stock.csv"
	WaterFile       = "water.csv"
	TurnsFile       = "turns.csv"
	UnsprayedFile   = "unsprayed.csv"
	CostFile        = "cost.csv"
)

// FileNames lists the files of a plan.
func FileNames() []string {
	return []string{
		PlanFile, LoadsFile, AmountsFile, ConnectionsFile, StockFile, WaterFile, TurnsFile, UnsprayedFile, CostFile,
	}
}

// Decimals of the CSV files.
const (
	quantityPlaces = 4 // acres, gallons, amounts; minutes, which keeps whole seconds apart
	costPlaces     = 6
)

// csvFile renders a header and rows: commas, LF, quotes only where needed.
func csvFile(header string, rows [][]string) ([]byte, error) {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	if err := w.Write(strings.Split(header, ",")); err != nil {
		return nil, err
	}
	if err := w.WriteAll(rows); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// safe guards a text cell that a spreadsheet would run as a formula. Cells
// with numbers do not pass through it, so that they stay bare.
func safe(text string) string {
	if text != "" && strings.ContainsRune("=+-@\t\r", rune(text[0])) {
		return "'" + text
	}
	return text
}

func quantity(n Number) string { return n.Fixed(quantityPlaces) }

// minutes is exact to well below a second, so a reader gets the seconds back.
func minutes(seconds int64) string {
	return Number(seconds * 1_000_000_000 / 60).Fixed(quantityPlaces)
}

func yesNo(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}

func (d *Document) loadsCSV() ([]byte, error) {
	return csvFile("bay,seq,load,sprayer,mix,jobs,gal,carrier_gal,ready,setup_start,start,end,wait_min,held_min,"+
		"cleanout,rinse,changeovers,back_at", each(d.Loads, func(l Load) []string {
		return []string{
			safe(l.Bay), strconv.Itoa(l.Seq), safe(l.Load), safe(l.Sprayer), safe(l.Mix), safe(jobsCell(l.Parts)),
			quantity(l.Gal), quantity(l.CarrierGal),
			l.Ready.String(), l.SetupStart.String(), l.Start.String(), l.End.String(),
			minutes(l.WaitS), minutes(l.HeldS),
			safe(l.Cleanout), safe(l.Rinse), strconv.Itoa(l.Changeovers), l.BackAt.String(),
		}
	}))
}

// jobsCell is what a load sprays, as J12=53.3300;J14=13.3400 (acres).
func jobsCell(parts []Part) string {
	return strings.Join(each(parts, func(p Part) string { return p.Job + "=" + quantity(p.Acres) }), ";")
}

func (d *Document) amountsCSV() ([]byte, error) {
	var rows [][]string
	for _, l := range d.Loads {
		for _, s := range l.Steps {
			rows = append(rows, []string{
				safe(l.Load), strconv.Itoa(s.Step), safe(s.Product), quantity(s.Amount), s.Unit, safe(s.How),
			})
		}
	}
	return csvFile("load,step,product,amount,unit,how", rows)
}

func (d *Document) connectionsCSV() ([]byte, error) {
	return csvFile("bay,connection,at,off,on,load", each(d.Changeovers, func(c Changeover) []string {
		return []string{
			safe(c.Bay), strconv.Itoa(c.Connection), c.At.String(), safe(c.Off), safe(c.On), safe(c.Load),
		}
	}))
}

func (d *Document) stockCSV() ([]byte, error) {
	return csvFile("product,at,event,change,level,low", each(d.Stock, func(e StockEvent) []string {
		return []string{
			safe(e.Product), e.At.String(), safe(e.Event), quantity(e.Change), quantity(e.Level), yesNo(e.Low),
		}
	}))
}

func (d *Document) waterCSV() ([]byte, error) {
	return csvFile("at,event,water_gal,rinsate_gal", each(d.Water, func(e WaterEvent) []string {
		water := ""
		if e.WaterGal != nil {
			water = quantity(*e.WaterGal)
		}
		return []string{e.At.String(), safe(e.Event), water, quantity(e.RinsateGal)}
	}))
}

func (d *Document) turnsCSV() ([]byte, error) {
	return csvFile("sprayer,load,what,from,to", each(d.Turns, func(t Turn) []string {
		return []string{safe(t.Sprayer), safe(t.Load), t.What, t.From.String(), t.To.String()}
	}))
}

func (d *Document) unsprayedCSV() ([]byte, error) {
	return csvFile("job,acres,reason", each(d.Unsprayed, func(u Unsprayed) []string {
		return []string{safe(u.Job), quantity(u.Acres), safe(u.Reason)}
	}))
}

func (d *Document) costCSV() ([]byte, error) {
	cost := d.Totals.Cost
	rows := each(cost.Parts, func(p CostPart) []string {
		return []string{p.Part, p.Amount.Fixed(costPlaces), p.Dollars.Fixed(costPlaces)}
	})
	return csvFile("part,amount,dollars", append(rows, []string{"total", "", cost.Dollars.Fixed(costPlaces)}))
}
