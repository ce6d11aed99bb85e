package main

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"padturn/io/planfile"
	"padturn/model"
	"padturn/model/standing"
	"padturn/planner"
)

// differences gathers what differs from what it should be.
type differences []string

func (d *differences) expect(ok bool, format string, args ...any) {
	if !ok {
		*d = append(*d, fmt.Sprintf(format, args...))
	}
}

// TestWithoutFactsADayStandsAsPlanned stops random plans at chance moments with
// nothing reported: loads, stock, water, connections and acres are those that
// the plan itself has at that moment.
func TestWithoutFactsADayStandsAsPlanned(t *testing.T) {
	eachRandomDay(t, func(in model.Input, p *model.Problem, rng *rand.Rand) string {
		plan, err := planner.Evaluate(p, randomDecisions(p, rng))
		if err != nil {
			return err.Error()
		}
		doc, err := planfile.Build(p, &model.Result{Plan: plan, Baseline: plan, Status: model.StatusBounded})
		if err != nil {
			return err.Error()
		}
		for range 6 {
			at := model.Clock(rng.IntN(20 * 3600))
			if n := len(doc.Loads); n > 0 && rng.IntN(3) == 0 {
				at = model.Clock(doc.Loads[rng.IntN(n)].Start) + model.Clock(rng.IntN(2))
			}
			if found := standsAsPlanned(in, doc, at); found != "" {
				return fmt.Sprintf("at %s: %s", at, found)
			}
		}
		return ""
	})
}

func standsAsPlanned(in model.Input, doc *planfile.Document, at model.Clock) string {
	s, err := standing.At(in, doc.Told(), nil, at)
	if err != nil {
		return err.Error()
	}
	d := differences(slices.Clone(s.Oddities))
	d.loads(s)
	d.supplies(s, doc)
	d.connections(s, doc)
	d.acres(s)
	rest := s.Rest()
	if len(rest.Jobs) > 0 {
		_, report := model.NewProblem(rest)
		d.expect(report.OK(), "the rest is no day: %v", report.Errors)
	}
	return strings.Join(d, "\n")
}

func (d *differences) loads(s *standing.Standing) {
	for i := range s.Loads {
		l, told := &s.Loads[i], &s.Loads[i].Told
		d.expect(l.Begun == (told.Start < s.At), "load %s begun: %v", told.ID, l.Begun)
		d.expect(l.Start == told.Start && l.End == told.End && l.BackAt == told.BackAt && l.Ready == told.Ready,
			"load %s: %s-%s, back %s; planned %s-%s, back %s", told.ID, l.Start, l.End, l.BackAt, told.Start, told.End, told.BackAt)
		for k, part := range told.Parts {
			d.expect(l.SprayedAt[k] == part.SprayedAt, "load %s part %d sprayed at %s, not %s", told.ID, k, l.SprayedAt[k], part.SprayedAt)
			done := part.SprayedAt <= s.At
			d.expect(!l.Begun || done == (l.Left[k] == 0), "load %s part %d has %s left", told.ID, k, l.Left[k])
		}
	}
}

func (d *differences) supplies(s *standing.Standing, doc *planfile.Document) {
	level := map[string]planfile.Number{}
	for _, e := range doc.Stock {
		if model.Clock(e.At) < s.At || model.Clock(e.At) == s.At && !strings.HasPrefix(e.Event, "load ") {
			level[e.Product] = e.Level
		}
	}
	for _, stock := range s.Stock {
		short := stock.Level - model.Decimal(level[stock.Product])
		d.expect(max(short, -short) <= 2000, "%s: %s, planned %s", stock.Product, stock.Level, level[stock.Product])
		var sum model.Decimal
		for _, r := range stock.Rows {
			sum += r.Size * (r.Full / model.One)
			if r.Open != nil {
				sum += *r.Open
			}
		}
		d.expect(max(sum-stock.Level, stock.Level-sum) <= 20_000, "%s: rows come to %s, not %s", stock.Product, sum, stock.Level)
	}
	var rinsate planfile.Number
	for _, e := range doc.Water {
		if model.Clock(e.At) < s.At {
			rinsate = e.RinsateGal
		}
	}
	d.expect(s.Rinsate == model.Decimal(rinsate), "rinsate %s, planned %s", s.Rinsate, rinsate)
}

func (d *differences) connections(s *standing.Standing, doc *planfile.Document) {
	on := map[string][]string{}
	for _, b := range doc.Bays {
		on[b.Bay] = make([]string, b.Connections)
		copy(on[b.Bay], slices.Concat(b.Plumbed, b.Hooked))
	}
	for _, c := range doc.Changeovers {
		load := doc.Loads[slices.IndexFunc(doc.Loads, func(l planfile.Load) bool { return l.Load == c.Load })]
		if model.Clock(load.Start) < s.At || !c.Inside && model.Clock(c.At) < s.At {
			on[c.Bay][c.Connection-1] = c.On
		}
	}
	for _, b := range s.Bays {
		for k, h := range b.On {
			d.expect(h.Product == on[b.Name][k], "%s connection %d has %q, planned %q", b.Name, k+1, h.Product, on[b.Name][k])
		}
	}
}

func (d *differences) acres(s *standing.Standing) {
	waiting := map[string]model.Decimal{}
	loads := map[string]int{}
	shared := map[string]bool{}
	for i := range s.Loads {
		l := &s.Loads[i]
		for _, p := range l.Told.Parts {
			shared[p.Job] = shared[p.Job] || len(l.Told.Parts) > 1
			if !l.Begun {
				waiting[p.Job] += p.Acres
				loads[p.Job]++
			}
		}
	}
	for i, j := range s.Jobs {
		if j.ToFill == 0 {
			d.expect(waiting[j.Name] <= 1000, "job %s has nothing left, planned %s", j.Name, waiting[j.Name])
			continue
		}
		d.expect(waiting[j.Name] <= j.ToFill+1, "job %s: %s to fill, planned %s", j.Name, j.ToFill, waiting[j.Name])
		d.expect(j.Sprayed+j.InTank+j.ToFill <= j.Asked && j.Asked-j.Sprayed-j.InTank-j.ToFill <= 1,
			"job %s: %s + %s + %s is not %s", j.Name, j.Sprayed, j.InTank, j.ToFill, j.Asked)
		d.sameLoads(s, i, waiting[j.Name], loads[j.Name], shared[j.Name])
	}
}

// sameLoads: the rest of a job that shares no load takes as many loads as the
// plan has for it.
func (d *differences) sameLoads(s *standing.Standing, job int, waiting model.Decimal, loads int, shared bool) {
	j := &s.Problem.Jobs[job]
	if shared || loads == 0 || s.Jobs[job].ToFill-waiting > 1 {
		return // or some of it is left unsprayed
	}
	for i := range s.Loads {
		if l := &s.Loads[i]; l.Told.Parts[0].Job == j.Name {
			tank := s.Problem.Sprayers[slices.IndexFunc(s.Problem.Sprayers, func(m model.Sprayer) bool { return m.Name == l.Told.Sprayer })].TankGal
			n := model.LoadCount(s.Jobs[job].ToFill, j.GPA, tank)
			d.expect(n == loads, "the rest of job %s takes %d loads, planned %d", j.Name, n, loads)
			return
		}
	}
}
