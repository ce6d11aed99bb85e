package scenario

import (
	"fmt"
	"testing"
	"time"
	"context"

	"padturn/model"
	"padturn/planner"
)

func TestTmp(t *testing.T) {
	for _, s := range []Shape{Small, Middle, Large, {4, 60, 1}, {6, 60, 1}, {6, 48, 2}, {8, 80, 2}, Vast} {
		for _, c := range Crowdings() {
			in := s.Day(c, 1)
			p, rep := model.NewProblem(in)
			if !rep.OK() { t.Fatal(rep.Errors) }
			n := 0
			fill, away := 0.0, 0.0
			for i, j := range p.Jobs {
				for _, l := range p.RunLoads(max(j.Sprayer, 0), []int{i}) {
					n++
					fill += l.Fill[0].Hours()*60
					away += (l.DriveOut+l.DriveBack+l.Parts[0].Spray).Hours()*60
				}
			}
			t0 := time.Now()
			r, err := planner.Plan(context.Background(), p, planner.Settings{Steps: 20000, Seed: 1})
			if err != nil { t.Fatal(err) }
			fmt.Println(s, c, n, "jobs", len(p.Jobs), "fill", fill/float64(n), "away", away/float64(n), "util", fill/float64(n)*float64(s.Sprayers)/float64(s.Bays)/((fill+away)/float64(n)),
				"ac/h", p.Sprayers[0].SecondsPerAcre.FloatString(1), "base", len(r.Baseline.Loads), r.Baseline.Left, r.Baseline.Cost.Total().Dollars(), "plan", len(r.Plan.Loads), r.Plan.Left, r.Plan.Cost.Total().Dollars(), time.Since(t0), in.Settings.Pad.HookupMin, in.Settings.Pad.CarrierGpm, in.Settings.Pad.MeterGpm)
			if len(r.Baseline.Unsprayed) > 0 { fmt.Println(r.Baseline.Unsprayed[0]) }
			if len(r.Plan.Unsprayed) > 0 { fmt.Println(r.Plan.Unsprayed[0]) }
		}
	}
}
