package tomorrow

import (
	"bytes"
	"encoding/csv"
	"strconv"
	"strings"

	"padturn/model"
)

// sheet renders a header and rows as the day's files have them.
func sheet(header string, rows [][]string) []byte {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	// Writing to memory does not fail.
	_ = w.Write(strings.Split(header, ","))
	_ = w.WriteAll(rows)
	return out.Bytes()
}

func number(d *model.Decimal) string {
	if d == nil {
		return ""
	}
	return d.String()
}

func clock(t *model.Clock) string {
	if t == nil {
		return ""
	}
	return t.HHMM()
}

func degrees(x *float64) string {
	if x == nil {
		return ""
	}
	return strconv.FormatFloat(*x, 'f', -1, 64)
}

// safe guards words that a spreadsheet would run as a formula; names never begin
// so.
func safe(words string) string {
	if words != "" && strings.ContainsRune("=+-@\t\r", rune(words[0])) {
		return "'" + words
	}
	return words
}

func jobsCSV(list []model.JobRow) []byte {
	var rows [][]string
	for _, r := range list {
		rows = append(rows, []string{
			r.Job, r.Field, r.Sprayer, r.Mix, r.Acres.String(), r.Customer, r.Crop, number(r.DriveMin), degrees(r.Lat), degrees(r.Lon),
			clock(r.Earliest), clock(r.Due), number(r.Priority), number(r.GPA), safe(r.Note),
		})
	}
	return sheet("job,field,sprayer,mix,acres,customer,crop,drive_min,lat,lon,earliest,due,priority,gpa,note", rows)
}

func sprayersCSV(list []model.SprayerRow) []byte {
	var rows [][]string
	for _, r := range list {
		rows = append(rows, []string{
			r.Sprayer, r.TankGal.String(), number(r.BoomFt), number(r.Mph), number(r.Efficiency), number(r.AcPerH), number(r.RoadMph),
			clock(r.AvailableFrom), clock(r.AvailableUntil), r.LastMix, number(r.WaitPerH),
		})
	}
	return sheet("sprayer,tank_gal,boom_ft,mph,efficiency,ac_per_h,road_mph,available_from,available_until,last_mix,wait_per_h", rows)
}

func stockCSV(list []model.StockRow) []byte {
	var rows [][]string
	for _, r := range list {
		rows = append(rows, []string{r.Product, r.Container, r.Size.String(), r.Full.String(), number(r.Open)})
	}
	return sheet("product,container,size,full,open", rows)
}

func deliveriesCSV(list []model.DeliveryRow) []byte {
	var rows [][]string
	for _, r := range list {
		rows = append(rows, []string{r.At.HHMM(), r.Product, r.Container, r.Size.String(), r.Count.String()})
	}
	return sheet("at,product,container,size,count", rows)
}

func holdsCSV(list []model.HoldRow) []byte {
	var rows [][]string
	for _, r := range list {
		rows = append(rows, []string{r.From.HHMM(), r.To.HHMM(), r.Kind, r.Scope, safe(r.Reason)})
	}
	return sheet("from,to,kind,scope,reason", rows)
}

func forecastCSV(list []model.ForecastRow) []byte {
	var rows [][]string
	for _, r := range list {
		rows = append(rows, []string{r.From.HHMM(), r.To.HHMM(), number(r.WindMph), number(r.GustMph), number(r.RainIn), number(r.TempF)})
	}
	return sheet("from,to,wind_mph,gust_mph,rain_in,temp_f", rows)
}
