package standing

import "padturn/model"

// sliver is acres that are not worth a load: what rounding leaves of a job.
const sliver = model.One / 1_000_000

// countJobs adds up how far each job is.
func (s *Standing) countJobs() {
	filled := make([]model.Decimal, len(s.Jobs))
	for i := range s.Loads {
		l := &s.Loads[i]
		if !l.Begun {
			continue
		}
		for k, part := range l.Told.Parts {
			j := &s.Jobs[s.job(part.Job)]
			j.Sprayed += l.Acres(k)
			filled[s.job(part.Job)] += l.Acres(k)
			if l.InTank() {
				j.InTank += l.Left[k]
				filled[s.job(part.Job)] += l.Left[k]
			}
		}
	}
	for i := range s.Jobs {
		if j := &s.Jobs[i]; !j.Dropped {
			j.ToFill = toFill(j.Asked, filled[i])
		}
	}
}

// toFill is what is left of a job. Acres of a load are kept to a billionth, and
// what they were rounded down by must not make a further load of the rest: a
// job that is begun is counted a billionth of an acre smaller.
func toFill(asked, filled model.Decimal) model.Decimal {
	left := asked - filled
	switch {
	case filled == 0:
		return asked
	case left <= sliver:
		return 0
	}
	return left - 1
}
