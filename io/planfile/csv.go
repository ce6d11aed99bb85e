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
	ChangesFile     = "changes.csv" // of a replan only
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

// Safe guards a text cell that a spreadsheet would run as a formula. Cells
// with numbers do not pass through it, so that they stay bare.
func Safe(text string) string {
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
			Safe(l.Bay), strconv.Itoa(l.Seq), Safe(l.Load), Safe(l.Sprayer), Safe(l.Mix), Safe(jobsCell(l.Parts)),
			quantity(l.Gal), quantity(l.CarrierGal),
			l.Ready.String(), l.SetupStart.String(), l.Start.String(), l.End.String(),
			minutes(l.WaitS), minutes(l.HeldS),
			Safe(l.Cleanout), Safe(l.Rinse), strconv.Itoa(l.Changeovers), l.BackAt.String(),
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
				Safe(l.Load), strconv.Itoa(s.Step), Safe(s.Product), quantity(s.Amount), s.Unit, Safe(s.How),
			})
		}
	}
	return csvFile("load,step,product,amount,unit,how", rows)
}

func (d *Document) connectionsCSV() ([]byte, error) {
	return csvFile("bay,connection,at,off,on,load", each(d.Changeovers, func(c Changeover) []string {
		return []string{
			Safe(c.Bay), strconv.Itoa(c.Connection), c.At.String(), Safe(c.Off), Safe(c.On), Safe(c.Load),
		}
	}))
}

func (d *Document) stockCSV() ([]byte, error) {
	return csvFile("product,at,event,change,level,low", each(d.Stock, func(e StockEvent) []string {
		return []string{
			Safe(e.Product), e.At.String(), Safe(e.Event), quantity(e.Change), quantity(e.Level), yesNo(e.Low),
		}
	}))
}

func (d *Document) waterCSV() ([]byte, error) {
	return csvFile("at,event,water_gal,rinsate_gal", each(d.Water, func(e WaterEvent) []string {
		water := ""
		if e.WaterGal != nil {
			water = quantity(*e.WaterGal)
		}
		return []string{e.At.String(), Safe(e.Event), water, quantity(e.RinsateGal)}
	}))
}

func (d *Document) turnsCSV() ([]byte, error) {
	return csvFile("sprayer,load,what,from,to", each(d.Turns, func(t Turn) []string {
		return []string{Safe(t.Sprayer), Safe(t.Load), t.What, t.From.String(), t.To.String()}
	}))
}

func (d *Document) unsprayedCSV() ([]byte, error) {
	return csvFile("job,acres,reason", each(d.Unsprayed, func(u Unsprayed) []string {
		return []string{Safe(u.Job), quantity(u.Acres), Safe(u.Reason)}
	}))
}

func (d *Document) costCSV() ([]byte, error) {
	cost := d.Totals.Cost
	rows := each(cost.Parts, func(p CostPart) []string {
		return []string{p.Part, p.Amount.Fixed(costPlaces), p.Dollars.Fixed(costPlaces)}
	})
	return csvFile("part,amount,dollars", append(rows, []string{"total", "", cost.Dollars.Fixed(costPlaces)}))
}
