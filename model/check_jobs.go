package model

import (
	"fmt"
	"math/big"
)

// Defaults of sprayers.csv.
var (
	defaultRoadMph    = WholeDecimal(25) // loaded, 15-30; from memory
	defaultEfficiency = One * 85 / 100   // turns and overlap only; re-derived from the published 82 ac/h case
	defaultMph        = WholeDecimal(14) // trade comparison of self-propelled sprayers
)

var mphLimit = limits{0, WholeDecimal(70), "mph", true}

func (b *builder) buildSprayers() {
	for i, r := range b.in.Sprayers {
		s := Sprayer{
			Name: r.Sprayer, TankGal: r.TankGal, RoadMph: orDefault(r.RoadMph, defaultRoadMph),
			AvailableFrom:  orDefault(r.AvailableFrom, b.in.Settings.Pad.Opens),
			AvailableUntil: orDefault(r.AvailableUntil, Never),
			Wait:           RatePerHour(orDefault(r.WaitPerH, b.in.Settings.Costs.WaitPerH)),
		}
		b.within(SprayersTable, i, "tank_gal", r.TankGal, limits{0, WholeDecimal(20_000), "gal", true})
		b.withinOpt(SprayersTable, i, "road_mph", r.RoadMph, mphLimit)
		b.withinOpt(SprayersTable, i, "wait_per_h", r.WaitPerH, dollarLimit)
		if s.AvailableFrom >= s.AvailableUntil {
			b.fail(SprayersTable, i, "available_until", s.AvailableUntil.HHMM(), "must be later than available_from (%s)", s.AvailableFrom.HHMM())
		}
		s.LastMix = b.lookUp(&b.mixes, "mixes.csv", SprayersTable, i, "last_mix", r.LastMix)
		s.SecondsPerAcre = b.sprayRate(i, &r)
		b.p.Sprayers = append(b.p.Sprayers, s)
	}
	if len(b.in.Sprayers) == 0 {
		b.fail(SprayersTable, None, "sprayer", "", "at least one sprayer is needed")
	}
}

// sprayRate returns the seconds an acre takes: 3600 ÷ ac/h, where ac/h is
// boom ft × mph × efficiency ÷ 8.25 (ASABE EP496) unless given.
func (b *builder) sprayRate(row int, r *SprayerRow) *big.Rat {
	b.withinOpt(SprayersTable, row, "boom_ft", r.BoomFt, limits{0, WholeDecimal(300), "ft", true})
	b.withinOpt(SprayersTable, row, "mph", r.Mph, mphLimit)
	b.withinOpt(SprayersTable, row, "efficiency", r.Efficiency, limits{0, One, "(a share)", true})
	b.withinOpt(SprayersTable, row, "ac_per_h", r.AcPerH, limits{0, WholeDecimal(2000), "ac/h", true})
	hour := big.NewRat(3600, 1)
	switch {
	case r.AcPerH != nil && *r.AcPerH > 0:
		return hour.Quo(hour, r.AcPerH.Rat())
	case r.AcPerH != nil:
		return hour // reported above
	case r.BoomFt == nil:
		b.fail(SprayersTable, row, "boom_ft", "", "give either ac_per_h, or boom_ft (and mph and efficiency)")
		return hour
	}
	acPerH := FieldCapacity(*r.BoomFt, orDefault(r.Mph, defaultMph), orDefault(r.Efficiency, defaultEfficiency))
	if acPerH.Sign() <= 0 {
		return hour // reported above
	}
	return hour.Quo(hour, acPerH)
}

var acresLimit = limits{0, WholeDecimal(100_000), "acres", true}

func (b *builder) buildJobs() {
	for i, r := range b.in.Jobs {
		j := Job{
			Name: r.Job, Field: r.Field, Acres: r.Acres, Customer: r.Customer, Crop: r.Crop,
			DriveMin: r.DriveMin, Lat: r.Lat, Lon: r.Lon, Note: r.Note,
			Earliest: orDefault(r.Earliest, 0), Due: orDefault(r.Due, Never), Priority: orDefault(r.Priority, One),
		}
		if j.Name == "" {
			j.Name = fmt.Sprint(i + 1)
		}
		b.checkJob(i, &j, &r)
		j.Sprayer = b.lookUp(&b.sprayers, "sprayers.csv", JobsTable, i, "sprayer", r.Sprayer)
		j.Any = r.Sprayer == ""
		j.Mix = b.lookUp(&b.mixes, "mixes.csv", JobsTable, i, "mix", r.Mix)
		if r.Mix == "" {
			b.fail(JobsTable, i, "mix", "", "a mix is required")
		}
		if j.Mix != None {
			j.GPA = orDefault(r.GPA, b.p.Mixes[j.Mix].GPA)
		}
		b.p.Jobs = append(b.p.Jobs, j)
	}
	b.checkJobNames()
	if len(b.in.Jobs) == 0 && b.in.Underway == nil {
		b.fail(JobsTable, None, "field", "", NeedsJob)
	}
}

// NeedsJob is what is wrong with a day that has no jobs yet, as a next day may
// be before anybody has ordered one.
const NeedsJob = "at least one job is needed"

func (b *builder) checkJob(i int, j *Job, r *JobRow) {
	if j.Field == "" {
		b.fail(JobsTable, i, "field", "", "a field is required")
	}
	b.within(JobsTable, i, "acres", r.Acres, acresLimit)
	b.withinOpt(JobsTable, i, "drive_min", r.DriveMin, limits{0, WholeDecimal(600), "minutes", false})
	b.withinOpt(JobsTable, i, "priority", r.Priority, limits{0, WholeDecimal(1000), "", true})
	b.withinOpt(JobsTable, i, "gpa", r.GPA, gpaLimit)
	if (r.Lat == nil) != (r.Lon == nil) {
		b.fail(JobsTable, i, "lat", "", "lat and lon go together")
	}
	if r.Earliest != nil && r.Due != nil && *r.Earliest > *r.Due {
		b.fail(JobsTable, i, "due", r.Due.HHMM(), "must not be before earliest (%s)", r.Earliest.HHMM())
	}
	if r.DriveMin == nil && (r.Lat == nil || b.in.Settings.Pad.Lat == nil) {
		b.fail(JobsTable, i, "drive_min", "", "give drive_min, or lat and lon here and for the pad in day.yaml")
	}
}

func (b *builder) checkJobNames() {
	seen := map[string]int{}
	for i, j := range b.p.Jobs {
		if first, ok := seen[j.Name]; ok {
			b.failJobName(i, first)
			continue
		}
		seen[j.Name] = i
	}
}

// failJobName reports a job that is called as an earlier one is.
func (b *builder) failJobName(i, first int) {
	if written := b.in.Jobs[i].Job; written != "" {
		b.fail(JobsTable, i, "job", written, "stands twice (first as job number %d of the file); a blank job is called by its row number", first+1)
		return
	}
	b.fail(JobsTable, i, "job", "", "a blank job is called by its row number, and job number %d has the name %q already", first+1, b.p.Jobs[i].Name)
}

// checkTogether checks what takes more than one table to see.
func (b *builder) checkTogether() {
	if len(b.p.Mixes) == len(b.in.Mixes) {
		b.checkTankRules()
	}
	for m, mix := range b.p.Mixes {
		b.checkMixVolume(m, mix.GPA, MixesTable, m)
	}
	for i, j := range b.p.Jobs {
		if j.Mix == None {
			continue
		}
		if b.in.Jobs[i].GPA != nil {
			b.checkMixVolume(j.Mix, j.GPA, JobsTable, i)
		}
		b.checkReach(i, &j)
	}
	b.checkTanks()
	b.checkLoadCounts()
	b.checkRecipes()
	b.checkNeeds()
}

// checkTanks reports sprayers that can't take an acre's spray of a job that
// they may do, each once, with the job that has the most.
func (b *builder) checkTanks() {
	for k, s := range b.p.Sprayers {
		most := Job{}
		for i, j := range b.p.Jobs {
			mayDo := j.Sprayer == k || b.in.Jobs[i].Sprayer == ""
			if mayDo && j.GPA > most.GPA && j.GPA <= gpaLimit.most {
				most = j
			}
		}
		if s.TankGal > 0 && s.TankGal < most.GPA {
			b.fail(SprayersTable, k, "tank_gal", s.TankGal.String(), "is less than one acre's spray of job %q (%s gal/ac)", most.Name, most.GPA)
		}
	}
}

// mostLoads is more loads than a day can have.
const mostLoads = 2000

// checkLoadCounts reports a job that takes more loads than a day can have, as a
// slip in its acres or in a tank does.
func (b *builder) checkLoadCounts() {
	for i, j := range b.p.Jobs {
		for k, s := range b.p.Sprayers {
			mayDo := j.Sprayer == k || j.Sprayer == None && b.in.Jobs[i].Sprayer == ""
			if !mayDo || !j.hasSoundVolume() || s.TankGal < j.GPA {
				continue // or reported already
			}
			if n := loadCount(j.acres(), j.GPA, s.TankGal); n > mostLoads {
				b.fail(JobsTable, i, "acres", j.Acres.String(), "takes %d loads of sprayer %s (%s gal); at most %d can be planned", n, s.Name, s.TankGal, mostLoads)
				break
			}
		}
	}
}

// hasSoundVolume says whether a job's mix, acres and volume rate are there and
// within their limits; if not, that was reported.
func (j *Job) hasSoundVolume() bool {
	return j.Mix != None && j.Acres > 0 && j.Acres <= acresLimit.most && j.GPA > 0 && j.GPA <= gpaLimit.most
}

// checkNeeds reports the job that takes the day's need of a product beyond what
// a Decimal holds for sure, as a slip in a rate or a unit does. The limit leaves
// so much room that floats will do.
func (b *builder) checkNeeds() {
	type spray struct {
		mix int
		gpa Decimal
	}
	needs, known := make([]float64, len(b.p.Products)), map[spray][]float64{}
	for i, j := range b.p.Jobs {
		if !j.hasSoundVolume() {
			continue
		}
		at := spray{j.Mix, j.GPA}
		if known[at] == nil {
			known[at] = b.perAcre(j.Mix, j.GPA)
		}
		for product, perAcre := range known[at] {
			before := needs[product]
			needs[product] += perAcre * j.Acres.Float()
			if limit := totalLimit.Float(); before <= limit && needs[product] > limit {
				p := &b.p.Products[product]
				b.fail(JobsTable, i, "acres", j.Acres.String(), "takes the day's need of %s above %s %s", p.Name, totalLimit, p.Unit.Name)
			}
		}
	}
}

// perAcre returns about what an acre takes of each product, in its stock unit.
func (b *builder) perAcre(mix int, gpa Decimal) []float64 {
	amounts := make([]float64, len(b.p.Products))
	m, blend := &b.p.Mixes[mix], b.p.blend(mix, gpa)
	for k, g := range m.Recipe {
		amounts[g.Product], _ = blend.doses[k].amount.Float64()
	}
	if m.Carrier != None {
		product := &b.p.Products[m.Carrier]
		amounts[m.Carrier], _ = converted(blend.carrier, mustUnit("gal"), product.Unit, product).Float64()
	}
	return amounts
}

// checkRecipes warns of a mix that is sprayed and has no recipe.
func (b *builder) checkRecipes() {
	hasRecipe := make([]bool, len(b.p.Mixes))
	for _, r := range b.in.Recipes {
		if m := b.mixes.find(r.Mix); m != None {
			hasRecipe[m] = true
		}
	}
	for _, j := range b.p.Jobs {
		if j.Mix == None || hasRecipe[j.Mix] {
			continue
		}
		hasRecipe[j.Mix] = true // said once
		mix := &b.p.Mixes[j.Mix]
		b.warn(MixesTable, j.Mix, "mix", mix.Name, "has no row in recipes.csv; its loads are nothing but %s", b.p.productName(mix.Carrier))
	}
}

// checkReach reports products and carriers that cannot get into a tank on any
// bay.
func (b *builder) checkReach(i int, j *Job) {
	mix := &b.p.Mixes[j.Mix]
	if !b.p.anyBayGives(mix.Carrier) {
		b.fail(JobsTable, i, "mix", mix.Name, "needs %s as carrier; no bay in day.yaml has it among its carriers", b.p.productName(mix.Carrier))
	}
	for _, g := range mix.Recipe {
		product := &b.p.Products[g.Product]
		if product.Metered && !b.maybeStocked[g.Product] && !b.listed[g.Product] && !b.p.connectedAnywhere(g.Product) && !b.p.stocked(g.Product) {
			b.fail(JobsTable, i, "mix", mix.Name, "needs %s, which is metered but on no connection, not in stock.csv and in no delivery", product.Name)
		}
	}
}
