package planner_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"padturn/model"
	"padturn/planner"
	"padturn/planner/scenario"
)

// proofSeconds is how long a proof may take.
const proofSeconds = 60

// proofShapes are the sizes that proofs are measured on.
var proofShapes = []scenario.Shape{
	{Sprayers: 4, Loads: 60, Bays: 1}, {Sprayers: 6, Loads: 60, Bays: 1},
	{Sprayers: 6, Loads: 48, Bays: 2}, {Sprayers: 8, Loads: 80, Bays: 2},
}

// proofForms take what makes days hard to prove out of them, one after the
// other.
var proofForms = []struct {
	name   string
	change func(*model.Input)
}{
	{"as it is", nil},
	{"no weather", withoutWeather},
	{"no weather, no sharing", func(in *model.Input) { withoutWeather(in); withoutSharing(in) }},
	{"plain", plain},
}

func withoutWeather(in *model.Input) { in.Holds, in.Forecast = nil, nil }

// withoutSharing keeps neighbours from sharing loads.
func withoutSharing(in *model.Input) {
	in.Settings.ShareMaxMin = 0
	in.Settings.Pad.BetweenMin = model.Some(model.WholeDecimal(30))
}

// plain leaves the jobs that name their sprayer, no weather and no sharing.
func plain(in *model.Input) {
	withoutWeather(in)
	withoutSharing(in)
	in.Jobs = slices.DeleteFunc(slices.Clone(in.Jobs), func(j model.JobRow) bool { return j.Sprayer == "" })
}

// proofsTable proves keep-order days for a while each, and a large one that is
// as it is.
func proofsTable(b *testing.B) string {
	var t strings.Builder
	t.WriteString(proofsHead)
	proved := 0
	for _, shape := range proofShapes {
		for _, form := range proofForms {
			if prove(b, &t, familyDay{shape, scenario.Busy, 1}, form.name, form.change, true) {
				proved++
			}
		}
	}
	prove(b, &t, familyDay{scenario.Vast, scenario.Busy, 1}, "as it is", nil, true)
	b.ReportMetric(float64(proved), "proved")
	return t.String()
}

// freeProofsTable proves the family's small days in whatever order of jobs.
func freeProofsTable(b *testing.B) string {
	var t strings.Builder
	t.WriteString(freeProofsHead)
	proved := 0
	for _, day := range familyDays() {
		for _, form := range proofForms[:2] {
			if day.shape == scenario.Small && prove(b, &t, day, form.name, form.change, false) {
				proved++
			}
		}
	}
	b.ReportMetric(float64(proved), "proved")
	return t.String()
}

// prove writes a line about a day, if -family.days asks for it, and says whether its best
// plan was proved.
func prove(b *testing.B, t *strings.Builder, day familyDay, form string, change func(*model.Input), keepOrder bool) bool {
	if !isAskedFor(day.String()) {
		return false
	}
	p := day.problem(b, change)
	ctx, cancel := context.WithTimeout(b.Context(), proofSeconds*time.Second)
	defer cancel()
	watch := watchMemory()
	var tr trace
	r, took := tr.plan(ctx, b, p, planner.Settings{Steps: planner.NormalSteps, Seed: 1, KeepOrder: keepOrder, Prove: true})
	peak := watch()
	_, gap := r.Gap()
	isProved := r.Status == model.StatusProved
	fmt.Fprintf(t, "| %v | %s | %d | %s | %.2f | %.2f | %s | %.1f | %.0f |\n", day, form, len(r.Plan.Loads), leftAndCost(r.Plan), r.Bound.Dollars(),
		100*gap, map[bool]string{true: "yes", false: "no"}[isProved], took, peak)
	b.Log(day, form, "proved:", isProved, "gap", 100*gap, "%", took, "s", peak, "MiB")
	return isProved
}

const freeProofsHead = `
## Proofs, jobs in whatever order

The small days, for as long as above.
` + proofsColumns

const proofsHead = `
## Proofs, jobs in file order

Normal effort, then proving until the best plan is proved, there are no more
passes, or 60 s are over. *No weather* has neither holds nor forecast, *no sharing*
no loads that neighbours share, *plain* besides no any-sprayer jobs.
` + proofsColumns

const proofsColumns = `
| day | form | loads | plan, $ | bound, $ | gap % | proved | seconds | MiB |
|---|---|---|---|---|---|---|---|---|
`
