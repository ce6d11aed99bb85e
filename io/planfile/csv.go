package planfile

import (
	"strconv"
	"strings"

	"padturn/io/table"
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

func quantity(n Number) string { return n.Fixed(quantityPlaces) }

// minutes is exact to well below a second, so a reader gets the seconds back.
func minutes(seconds int64) string {
	return Number(seconds * 1_000_000_000 / 60).Fixed(quantityPlaces)
}

func (d *Document) loadsCSV() []byte {
	return table.CSV("bay,seq,load,sprayer,mix,jobs,gal,carrier_gal,ready,setup_start,start,end,wait_min,held_min,"+
		"cleanout,rinse,changeovers,back_at,run", each(d.Loads, func(l Load) []string {
		return []string{
			table.Safe(l.Bay), strconv.Itoa(l.Seq), table.Safe(l.Load), table.Safe(l.Sprayer), table.Safe(l.Mix), table.Safe(jobsCell(l.Parts)),
			quantity(l.Gal), quantity(l.CarrierGal),
			l.Ready.String(), l.SetupStart.String(), l.Start.String(), l.End.String(),
			minutes(l.WaitS), minutes(l.HeldS),
			table.Safe(l.Cleanout), table.Safe(l.Rinse), strconv.Itoa(l.Changeovers), l.BackAt.String(),
			table.Safe(strings.Join(l.Run, ";")),
		}
	}))
}

// jobsCell is what a load sprays, as J12=53.3300;J14=13.3400 (acres).
func jobsCell(parts []Part) string {
	return strings.Join(each(parts, func(p Part) string { return p.Job + "=" + quantity(p.Acres) }), ";")
}

func (d *Document) amountsCSV() []byte {
	var rows [][]string
	for _, l := range d.Loads {
		for _, s := range l.Steps {
			rows = append(rows, []string{
				table.Safe(l.Load), strconv.Itoa(s.Step), table.Safe(s.Product), quantity(s.Amount), s.Unit, table.Safe(s.How),
			})
		}
	}
	return table.CSV("load,step,product,amount,unit,how", rows)
}

func (d *Document) connectionsCSV() []byte {
	return table.CSV("bay,connection,at,off,on,load", each(d.Changeovers, func(c Changeover) []string {
		return []string{
			table.Safe(c.Bay), strconv.Itoa(c.Connection), c.At.String(), table.Safe(c.Off), table.Safe(c.On), table.Safe(c.Load),
		}
	}))
}

func (d *Document) stockCSV() []byte {
	return table.CSV("product,at,event,change,level,low", each(d.Stock, func(e StockEvent) []string {
		return []string{
			table.Safe(e.Product), e.At.String(), table.Safe(e.Event), quantity(e.Change), quantity(e.Level), table.YesNo(e.Low),
		}
	}))
}

func (d *Document) waterCSV() []byte {
	return table.CSV("at,event,water_gal,rinsate_gal", each(d.Water, func(e WaterEvent) []string {
		water := ""
		if e.WaterGal != nil {
			water = quantity(*e.WaterGal)
		}
		return []string{e.At.String(), table.Safe(e.Event), water, quantity(e.RinsateGal)}
	}))
}

func (d *Document) turnsCSV() []byte {
	return table.CSV("sprayer,load,what,from,to", each(d.Turns, func(t Turn) []string {
		return []string{table.Safe(t.Sprayer), table.Safe(t.Load), t.What, t.From.String(), t.To.String()}
	}))
}

func (d *Document) unsprayedCSV() []byte {
	return table.CSV("job,acres,reason", each(d.Unsprayed, func(u Unsprayed) []string {
		return []string{table.Safe(u.Job), quantity(u.Acres), table.Safe(u.Reason)}
	}))
}

func (d *Document) costCSV() []byte {
	cost := d.Totals.Cost
	rows := each(cost.Parts, func(p CostPart) []string {
		return []string{p.Part, p.Amount.Fixed(costPlaces), p.Dollars.Fixed(costPlaces)}
	})
	return table.CSV("part,amount,dollars", append(rows, []string{"total", "", cost.Dollars.Fixed(costPlaces)}))
}
