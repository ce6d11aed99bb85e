package planfile

import "padturn/model"

// costLabels says for people what the parts of a cost are.
var costLabels = map[string]string{
	model.CostWait.String():       "waiting sprayers",
	model.CostCleanout.String():   "cleanouts",
	model.CostAnySprayer.String(): "any-sprayer jobs, driving and spraying",
	model.CostRinse.String():      "rinses, crew",
	model.CostRinsate.String():    "rinse and cleanout water",
	model.CostChangeover.String(): "changeovers",
	model.CostLate.String():       "late jobs",
	model.CostOvertime.String():   "overtime",
	model.CostTimeliness.String(): "timeliness",
}

// CostLabel says for people what a part of a cost is; a part that is not known
// keeps its name.
func CostLabel(part string) string {
	if label, known := costLabels[part]; known {
		return label
	}
	return part
}
