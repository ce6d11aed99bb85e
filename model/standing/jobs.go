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

// toFill is what is left of a job, in no tank yet.
func toFill(asked, filled model.Decimal) model.Decimal {
	if left := asked - filled; left > sliver {
		return left
	}
	return 0
}
