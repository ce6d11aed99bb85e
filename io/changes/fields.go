package changes

import (
	"cmp"
	"fmt"
	"strings"

	"padturn/io/planfile"
)

// Fields says what jobs are called: by their fields, as that is what an operator
// knows them by, and those of a field that has several by the job too.
type Fields map[string]string

// FieldsOf names the jobs of some plans.
func FieldsOf(plans ...*planfile.Document) Fields {
	fields, of := Fields{}, map[string]map[string]bool{}
	for _, d := range plans {
		for _, j := range d.Jobs {
			fields[j.Job] = j.Field
			if of[j.Field] == nil {
				of[j.Field] = map[string]bool{}
			}
			of[j.Field][j.Job] = true
		}
	}
	for job, field := range fields {
		if len(of[field]) > 1 {
			fields[job] = fmt.Sprintf("%s (job %s)", field, job)
		}
	}
	return fields
}

// Of names the fields of a load.
func (f Fields) Of(l *planfile.Load) string {
	var list []string
	for _, job := range jobs(l) {
		list = append(list, cmp.Or(f[job], job))
	}
	last := len(list) - 1
	if last < 1 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:last], ", ") + " and " + list[last]
}
