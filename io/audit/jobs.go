package audit

import (
	"math/big"
	"slices"
)

// checkJobs checks that every acre is accounted for, that a job stays with one
// sprayer and follows on, and that what is left has a reason.
func (a *audit) checkJobs() {
	for _, j := range a.d.jobOrder {
		a.checkAcres(j)
		a.checkOneSprayer(j)
	}
	for _, u := range a.unsprayed {
		if u.reason == "" {
			a.breach("R11", u.where(), "job %s is left without a reason", u.job.name)
		}
		if u.acres.Sign() <= 0 {
			a.breach("R11", u.where(), "%s acres of job %s are left, expected more than none", fixed(u.acres), u.job.name)
		}
	}
	for _, l := range a.loads {
		for _, p := range l.parts {
			if p.job.mix != l.mix {
				a.breach("R1", l.where(), "is mix %s, but job %s is to have %s", l.mix.name, p.job.name, p.job.mix.name)
			}
		}
	}
}

// checkAcres compares the acres of all loads and those left with the job's.
func (a *audit) checkAcres(j *job) {
	sum, figures := new(big.Rat), int64(1)
	for _, l := range j.loads {
		for _, p := range l.parts {
			if p.job == j {
				sum, figures = add(sum, p.listed), figures+1
			}
		}
	}
	total := add(sum, j.left)
	if !near(total, j.acres, mul(halfPlace, whole(figures))) {
		a.breach("R1", j.where(), "%s acres are sprayed and %s left, %s in all, expected %s",
			fixed(sum), fixed(j.left), fixed(total), fixed(j.acres))
	}
}

func (a *audit) checkOneSprayer(j *job) {
	if s := j.begunBy; s != nil && len(j.loads) > 0 {
		if l := j.loads[0]; l.sprayer != s || s.goesOn == j && s.loads[0] != l {
			a.breach("R1", j.where(), "%s has begun it and is to go on with it, expected no other load before %s", s.name, l.id)
		}
	}
	for i, l := range j.loads {
		if j.Sprayer != "" && l.sprayer.name != j.Sprayer {
			a.breach("R1", l.where(), "job %s is sprayed by %s, expected %s", j.name, l.sprayer.name, j.Sprayer)
		}
		if i == 0 {
			continue
		}
		before := j.loads[i-1]
		if l.sprayer != before.sprayer {
			a.breach("R1", j.where(), "is sprayed by %s (load %s) and %s (load %s), expected one sprayer",
				before.sprayer.name, before.id, l.sprayer.name, l.id)
		} else if slices.Index(l.sprayer.loads, l) != slices.Index(l.sprayer.loads, before)+1 {
			a.breach("R1", j.where(), "its loads %s and %s do not follow one another on %s", before.id, l.id, l.sprayer.name)
		}
	}
}
