package audit

import (
	"math"
	"math/big"

	"padturn/model"
)

// leg is a drive: its exact minutes, or, where they come from a great circle,
// minutes that floating point leaves uncertain in the last place.
type leg struct {
	minutes *big.Rat
	rough   bool
}

const earthMiles = 3958.7613

// padLeg is the way between the pad and a job's field.
func (d *day) padLeg(s *sprayer, j *job) leg {
	if j.DriveMin != nil {
		return leg{minutes: j.DriveMin.Rat()}
	}
	pad := d.set.Pad
	if j.Lat == nil || j.Lon == nil || pad.Lat == nil || pad.Lon == nil {
		return leg{minutes: new(big.Rat)}
	}
	return road(s, *pad.Lat, *pad.Lon, *j.Lat, *j.Lon)
}

// fieldLeg is the way from one job's field to the next.
func (d *day) fieldLeg(s *sprayer, from, to *job) leg {
	if from.Lat != nil && from.Lon != nil && to.Lat != nil && to.Lon != nil {
		return road(s, *from.Lat, *from.Lon, *to.Lat, *to.Lon)
	}
	there, back := d.padLeg(s, from), d.padLeg(s, to)
	through := leg{add(there.minutes, back.minutes), there.rough || back.rough}
	if between := d.set.Pad.BetweenMin; between != nil && less(between.Rat(), through.minutes) {
		return leg{minutes: between.Rat()}
	}
	return through
}

// road turns a great circle into minutes: the road is 1.3 times as long.
func road(s *sprayer, lat1, lon1, lat2, lon2 float64) leg {
	const degree = math.Pi / 180
	half := func(x, y float64) float64 {
		sin := math.Sin((y - x) * degree / 2)
		return sin * sin
	}
	h := half(lat1, lat2) + math.Cos(lat1*degree)*math.Cos(lat2*degree)*half(lon1, lon2)
	miles := new(big.Rat).SetFloat64(2 * earthMiles * math.Asin(math.Sqrt(min(h, 1))))
	if miles == nil {
		return leg{minutes: new(big.Rat)}
	}
	return leg{quo(mul(miles, big.NewRat(13*60, 10)), s.roadMph), true}
}

// seconds returns the least and the most whole seconds that the drive may be.
func (g leg) seconds() (least, most model.Clock) {
	least = minutes(g.minutes)
	if !g.rough {
		return least, least
	}
	doubt := big.NewRat(1, 60_000_000) // a microsecond
	return minutes(sub(g.minutes, doubt)), minutes(add(g.minutes, doubt))
}

// drives lists the legs of a load's turn: out, between its fields, and back.
func (d *day) drives(l *load) []leg {
	last := len(l.parts) - 1
	list := []leg{d.padLeg(l.sprayer, l.parts[0].job)}
	for i := range last {
		list = append(list, d.fieldLeg(l.sprayer, l.parts[i].job, l.parts[i+1].job))
	}
	return append(list, d.padLeg(l.sprayer, l.parts[last].job))
}
