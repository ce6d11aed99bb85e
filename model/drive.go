package model

import (
	"math"
	"math/big"
)

// FieldCapacity returns the acres an hour of a boom: width in feet × mph ×
// efficiency ÷ 8.25 (ASABE EP496; 8.25 ft × 1 mile is one acre).
func FieldCapacity(boomFt, mph, efficiency Decimal) *big.Rat {
	r := new(big.Rat).Mul(boomFt.Rat(), mph.Rat())
	r.Mul(r, efficiency.Rat())
	return r.Quo(r, big.NewRat(33, 4))
}

const (
	earthRadiusMi = 3958.7613 // mean radius, 6371.0088 km (IUGG)
	roadFactor    = 1.3       // road miles for each mile as the crow flies; common practice
)

// greatCircleMi returns the distance between two points in miles (haversine).
func greatCircleMi(lat1, lon1, lat2, lon2 float64) float64 {
	rad := math.Pi / 180
	sinLat, sinLon := math.Sin((lat2-lat1)*rad/2), math.Sin((lon2-lon1)*rad/2)
	h := sinLat*sinLat + math.Cos(lat1*rad)*math.Cos(lat2*rad)*sinLon*sinLon
	return 2 * earthRadiusMi * math.Asin(math.Min(1, math.Sqrt(h)))
}

// roadMinutes is the driving time between two points, not yet rounded.
func roadMinutes(lat1, lon1, lat2, lon2 float64, mph Decimal) *big.Rat {
	miles := greatCircleMi(lat1, lon1, lat2, lon2) * roadFactor
	minutes := new(big.Rat).SetFloat64(miles * 60)
	return minutes.Quo(minutes, mph.Rat())
}

// padMinutes is the way from the pad to a job's field for a sprayer.
func (p *Problem) padMinutes(sprayer, job int) *big.Rat {
	j, pad := &p.Jobs[job], &p.Settings.Pad
	if j.DriveMin != nil {
		return j.DriveMin.Rat()
	}
	return roadMinutes(*pad.Lat, *pad.Lon, *j.Lat, *j.Lon, p.Sprayers[sprayer].RoadMph)
}

// betweenMinutes is the way from one job's field to another's.
func (p *Problem) betweenMinutes(sprayer, from, to int) *big.Rat {
	a, b := &p.Jobs[from], &p.Jobs[to]
	if a.Lat != nil && b.Lat != nil {
		return roadMinutes(*a.Lat, *a.Lon, *b.Lat, *b.Lon, p.Sprayers[sprayer].RoadMph)
	}
	through := new(big.Rat).Add(p.padMinutes(sprayer, from), p.padMinutes(sprayer, to))
	if between := p.Settings.Pad.BetweenMin; between != nil && between.Rat().Cmp(through) < 0 {
		return between.Rat()
	}
	return through
}

// driveSeconds rounds one leg of a drive up to whole seconds.
func driveSeconds(minutes *big.Rat) Seconds {
	return CeilSeconds(new(big.Rat).Mul(minutes, big.NewRat(60, 1)))
}

// MayShare says whether two jobs next to each other on a sprayer may be filled
// as one run (R1).
func (p *Problem) MayShare(sprayer, job, next int) bool {
	a, b := &p.Jobs[job], &p.Jobs[next]
	return a.Mix == b.Mix && a.GPA == b.GPA && !p.separates(a.Crop, b.Crop) &&
		p.betweenMinutes(sprayer, job, next).Cmp(p.Settings.ShareMaxMin.Rat()) <= 0
}

// DriveFromPad is the way from the pad to a job's field, one way, as a load's
// drives have it.
func (p *Problem) DriveFromPad(sprayer, job int) Seconds {
	return driveSeconds(p.padMinutes(sprayer, job))
}
