package audit

import (
	"math/big"
	"slices"
	"strings"
)

// run is jobs that are filled as one, and those of its loads that are filled.
type run struct {
	loads []*load
	jobs  []*job
}

// share is what a load is to take of a job, exactly.
type share struct {
	job   *job
	acres *big.Rat
}

// checkRuns checks that the jobs of a run may share loads, that they are in no
// other and that the loads are as many and as large as they should be, and notes
// the exact acres of every part.
func (a *audit) checkRuns() {
	runOf := map[*job]*run{}
	for _, s := range a.d.sprayerOrder {
		for _, r := range runs(s.loads) {
			a.checkNeighbours(s, r)
			for _, j := range r.jobs {
				if o := runOf[j]; o != nil {
					a.breach("R1", r.where(), "job %s is in the run of %s, but it is in that of load %s", j.name, r.names(), o.loads[0].id)
				}
				runOf[j] = r
			}
			a.checkLayout(s, r)
		}
	}
	for _, l := range a.loads {
		a.checkGallons(l)
	}
}

// checkNeighbours checks that jobs may be filled as one run.
func (a *audit) checkNeighbours(s *sprayer, r *run) {
	for i, j := range r.jobs {
		if j.Sprayer != "" && j.Sprayer != s.name {
			a.breach("R1", r.where(), "job %s of the run of %s is for %s", j.name, r.names(), j.Sprayer)
		}
		if i == 0 {
			continue
		}
		if why := a.d.keepsApart(s, r.jobs[i-1], j); why != "" {
			a.breach("R1", r.where(), "jobs %s and %s are filled as one run, but %s", r.jobs[i-1].name, j.name, why)
		}
	}
}

func (r *run) where() string { return r.loads[0].where() }

// runs cuts a sprayer's loads into runs: loads that follow one another and say
// that they are of the same jobs.
func runs(loads []*load) []*run {
	var list []*run
	for _, l := range loads {
		if n := len(list); n > 0 && slices.Equal(list[n-1].jobs, l.run) {
			list[n-1].loads = append(list[n-1].loads, l)
		} else {
			list = append(list, &run{[]*load{l}, l.run})
		}
	}
	return list
}

// keepsApart says why two neighbouring jobs may not be filled as one run, or
// nothing.
func (d *day) keepsApart(s *sprayer, x, y *job) string {
	switch {
	case x.mix != y.mix:
		return "they have different mixes"
	case x.gpa.Cmp(y.gpa) != 0:
		return "they have different gpa (" + fixed(x.gpa) + " and " + fixed(y.gpa) + ")"
	case less(d.set.ShareMaxMin.Rat(), d.fieldLeg(s, x, y).minutes):
		return "the drive between them takes " + fixed(d.fieldLeg(s, x, y).minutes) + " min, expected at most " + d.set.ShareMaxMin.String()
	case x.Crop == y.Crop:
		return ""
	}
	for _, r := range d.rules {
		crop, ok := strings.CutPrefix(r.Before, "crop:")
		if ok && r.Where == "sprayer" && (crop == x.Crop || crop == y.Crop) {
			return "a sprayer rule is about crop " + crop
		}
	}
	return ""
}

// checkLayout compares the run's loads with what they should be. Where acres of
// it were left, loads are missing.
func (a *audit) checkLayout(s *sprayer, r *run) {
	plain := a.d.layOut(s, r.jobs)
	want := r.match(plain)
	if want == nil {
		a.reportLayout(r, plain)
		return
	}
	for i, l := range r.loads {
		for k, p := range l.parts {
			p.acres = want[i][k].acres
		}
	}
}

// cut says whether acres of the run were left.
func (r *run) cut() bool {
	return slices.ContainsFunc(r.jobs, func(j *job) bool { return j.left.Sign() > 0 })
}

// layOut fills jobs as one run: as many loads as the volume needs, equal ones
// or full ones and a rest.
func (d *day) layOut(s *sprayer, jobs []*job) [][]share {
	total := new(big.Rat)
	for _, j := range jobs {
		total = add(total, j.acres)
	}
	count := d.loadCount(total, jobs[0].gpa, s.tank)
	if count < 1 || count > 100_000 {
		return nil
	}
	each := quo(total, whole(count))
	if d.set.Split == "full_first" {
		each = quo(s.tank, jobs[0].gpa)
	}
	list := make([][]share, 0, count)
	next, left := 0, jobs[0].acres
	filled := new(big.Rat)
	for i := range count {
		room := sub(mul(each, whole(i+1)), filled)
		if i == count-1 {
			room = total // all that is left
		}
		var shares []share
		for room.Sign() > 0 && next < len(jobs) {
			take := smaller(room, left)
			if d.begun != nil && near(room, left, restSlack) {
				take, room = left, left
			}
			shares = append(shares, share{jobs[next], take})
			room, left, filled = sub(room, take), sub(left, take), add(filled, take)
			if left.Sign() > 0 {
				continue // room is used up
			}
			if next++; next < len(jobs) {
				left = jobs[next].acres
			}
		}
		list = append(list, shares)
	}
	return list
}

// match finds the run's loads in a layout, in order, and returns their part of
// it, or nil. Loads of the layout may be missing only where acres were left;
// that it is the right acres, the sum of the acres shows.
func (r *run) match(layout [][]share) [][]share {
	if len(r.loads) != len(layout) && !r.cut() {
		return nil
	}
	var found [][]share
	for _, shares := range layout {
		if len(found) < len(r.loads) && r.loads[len(found)].takes(shares) {
			found = append(found, shares)
		}
	}
	if len(found) < len(r.loads) {
		return nil
	}
	return found
}

// takes says whether a load's parts are these, to the decimals of the file.
func (l *load) takes(want []share) bool {
	return slices.EqualFunc(l.parts, want, func(p *part, s share) bool {
		return p.job == s.job && near(p.listed, s.acres, halfPlace)
	})
}

// reportLayout says where the loads of a run are not what they should be.
func (a *audit) reportLayout(r *run, want [][]share) {
	if len(r.loads) > len(want) || len(r.loads) < len(want) && !r.cut() {
		a.breach("R1", r.where(), "the run of %s is filled as %d loads, expected %d", r.names(), len(r.loads), len(want))
		return
	}
	for i, l := range r.loads {
		if seen, expected := l.listed(), listed(want[i]); seen != expected {
			a.breach("R1", l.where(), "takes %s of the run of %s, expected %s", seen, r.names(), expected)
			return
		}
	}
}

func (r *run) names() string {
	names := make([]string, len(r.jobs))
	for i, j := range r.jobs {
		names[i] = j.name
	}
	return strings.Join(names, ", ")
}

func (l *load) listed() string {
	shares := make([]share, len(l.parts))
	for i, p := range l.parts {
		shares[i] = share{p.job, p.listed}
	}
	return listed(shares)
}

// listed writes shares as loads.csv does.
func listed(shares []share) string {
	text := make([]string, len(shares))
	for i, s := range shares {
		text[i] = s.job.name + "=" + fixed(s.acres)
	}
	return strings.Join(text, ";")
}

// checkGallons compares the spray volume with the acres and the tank.
func (a *audit) checkGallons(l *load) {
	l.spray = new(big.Rat)
	for _, p := range l.parts {
		l.spray = add(l.spray, mul(p.acres, p.job.gpa))
	}
	if !near(l.gal, l.spray, halfPlace) {
		a.breach("R1", l.where(), "gal is %s, expected %s", fixed(l.gal), fixed(l.spray))
	}
	if less(add(l.sprayer.tank, halfPlace), l.gal) {
		a.breach("R1", l.where(), "gal is %s, expected at most the tank's %s", fixed(l.gal), fixed(l.sprayer.tank))
	}
}

// restSlack is acres that are none: those of a rest are known to a few billionths
// only.
var restSlack = big.NewRat(8, 1_000_000_000)

// loadCount is how many tanks acres take.
func (d *day) loadCount(acres, gpa, tank *big.Rat) int64 {
	if d.begun != nil && less(restSlack, acres) {
		acres = sub(acres, restSlack)
	}
	return roundUp(quo(mul(acres, gpa), tank))
}
