package audit

import (
	"math/big"
	"slices"
	"strings"
)

// run is what the loads of a sprayer let us see of a run: loads that follow one
// another and the jobs that they share. Jobs that were filled as one run but
// meet exactly between two loads look like two runs; they are laid out the
// same either way.
type run struct {
	loads []*load
	jobs  []*job
}

// share is what a load is to take of a job, exactly.
type share struct {
	job   *job
	acres *big.Rat
}

// checkRuns finds the runs, checks that their jobs may share loads and that the
// loads are as many and as large as they should be, and notes the exact acres
// of every part.
func (a *audit) checkRuns() {
	for _, s := range a.d.sprayerOrder {
		all := runs(s.loads)
		for _, r := range all {
			for i := range len(r.jobs) - 1 {
				if why := a.d.keepsApart(s, r.jobs[i], r.jobs[i+1]); why != "" {
					a.breach("R1", r.where(), "jobs %s and %s share a load, but %s", r.jobs[i].name, r.jobs[i+1].name, why)
				}
			}
			a.checkLayout(s, r, all)
		}
	}
	for _, l := range a.loads {
		a.checkGallons(l)
	}
}

func (r *run) where() string { return r.loads[0].where() }

// runs cuts a sprayer's loads into runs.
func runs(loads []*load) []*run {
	var list []*run
	for _, l := range loads {
		var r *run
		if n := len(list); n > 0 && list[n-1].goesOn(l) {
			r = list[n-1]
		} else {
			r = &run{}
			list = append(list, r)
		}
		r.loads = append(r.loads, l)
		for _, p := range l.parts {
			if !slices.Contains(r.jobs, p.job) {
				r.jobs = append(r.jobs, p.job)
			}
		}
	}
	return list
}

// goesOn says whether a load belongs to the run of the load before it.
func (r *run) goesOn(l *load) bool {
	last := r.loads[len(r.loads)-1]
	return l.mix == last.mix && l.parts[0].job == last.parts[len(last.parts)-1].job
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
// it were left, loads are missing, and jobs of which we see nothing in these
// loads may belong to the run.
func (a *audit) checkLayout(s *sprayer, r *run, runs []*run) {
	plain := a.d.layOut(s, r.jobs)
	want := r.match(plain)
	if want == nil && r.cut() {
		var all bool
		if want, all = a.d.extend(s, r, a.d.pieces(s, r, runs)); want == nil && !all {
			return // not to be told from the files: no breach was seen
		}
	}
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

// maxExtensions is how many lists of jobs extend looks at: all there are of a
// run with about eight jobs more than are known. The files do not name runs, so
// of one that is left undone for the most part the rest must be guessed.
const maxExtensions = 20_000

// pieces lists what else may belong to a run of which loads are missing: jobs
// left whole, and the other runs of the sprayer that something of was left.
func (d *day) pieces(s *sprayer, r *run, all []*run) [][]*job {
	var list [][]*job
	for _, j := range d.jobOrder {
		if len(j.loads) == 0 && j.mix == r.jobs[0].mix && j.mayBeOn(s) {
			list = append(list, []*job{j})
		}
	}
	for _, o := range all {
		if o != r && o.jobs[0].mix == r.jobs[0].mix && o.cut() {
			list = append(list, o.jobs)
		}
	}
	return list
}

// extend looks for pieces that, before or behind the jobs known, explain the
// size of the run's loads: one more first, then two, and so on. In which order
// the pieces stand on a side changes nothing but what can come next. It also
// says whether it looked at all there are.
func (d *day) extend(s *sprayer, r *run, pieces [][]*job) (want [][]share, all bool) {
	lists := [][]*job{r.jobs}
	seen := map[string]bool{}
	for next := 0; next < len(lists) && next < maxExtensions; next++ {
		for _, piece := range pieces {
			for _, longer := range d.neighbours(s, lists[next], piece) {
				key := r.sides(longer)
				if seen[key] {
					continue
				}
				seen[key] = true
				lists = append(lists, longer)
				if !d.mayFit(s, r, longer) {
					continue
				}
				if want := r.match(d.layOut(s, longer)); want != nil {
					return want, true
				}
			}
		}
	}
	return nil, len(lists) <= maxExtensions
}

// sides names the jobs at both ends of a list, and those before and behind the
// run's known ones in whatever order.
func (r *run) sides(jobs []*job) string {
	at := slices.Index(jobs, r.jobs[0])
	names := func(side []*job) string {
		list := make([]string, len(side))
		for i, j := range side {
			list[i] = j.name
		}
		slices.Sort(list)
		return strings.Join(list, ";")
	}
	return strings.Join([]string{
		jobs[0].name, jobs[len(jobs)-1].name, names(jobs[:at]), names(jobs[at+len(r.jobs):]),
	}, "|")
}

// mayFit says whether jobs filled as one run come to loads of the size of the
// first known, as far as their sum tells: a quick look before layOut's.
func (d *day) mayFit(s *sprayer, r *run, jobs []*job) bool {
	if d.set.Split == "full_first" {
		return true
	}
	total := new(big.Rat)
	for _, j := range jobs {
		total = add(total, j.acres)
	}
	seen := new(big.Rat)
	for _, p := range r.loads[0].parts {
		seen = add(seen, p.listed)
	}
	count := d.loadCount(total, jobs[0].gpa, s.tank)
	tolerance := mul(halfPlace, whole(int64(len(r.loads[0].parts))))
	return near(seen, quo(total, whole(count)), tolerance)
}

// mayBeOn says whether the job can be on this sprayer.
func (j *job) mayBeOn(s *sprayer) bool {
	return j.Sprayer == "" || j.Sprayer == s.name
}

// neighbours puts a piece behind and before jobs, where they may share loads.
func (d *day) neighbours(s *sprayer, jobs, piece []*job) [][]*job {
	if slices.ContainsFunc(piece, func(j *job) bool { return slices.Contains(jobs, j) }) {
		return nil
	}
	var list [][]*job
	if d.keepsApart(s, jobs[len(jobs)-1], piece[0]) == "" {
		list = append(list, slices.Concat(jobs, piece))
	}
	if d.keepsApart(s, piece[len(piece)-1], jobs[0]) == "" {
		list = append(list, slices.Concat(piece, jobs))
	}
	return list
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
	for i := range count {
		room := each
		if i == count-1 {
			room = total // all that is left
		}
		var shares []share
		for room.Sign() > 0 && next < len(jobs) {
			take := smaller(room, left)
			shares = append(shares, share{jobs[next], take})
			room, left = sub(room, take), sub(left, take)
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

// loadCount is how many tanks acres take. The acres of a rest are known to a few
// billionths only, which make no load more.
func (d *day) loadCount(acres, gpa, tank *big.Rat) int64 {
	slack := big.NewRat(8, 1_000_000_000)
	if d.begun != nil && less(slack, acres) {
		acres = sub(acres, slack)
	}
	return roundUp(quo(mul(acres, gpa), tank))
}
