package main

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/assert"

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
// the plan itself has at that moment, and the same decisions about the rest give
// the same loads at the same times as the whole plan has.
func TestWithoutFactsADayStandsAsPlanned(t *testing.T) {
	replanned := 0
	eachRandomDay(t, func(in model.Input, p *model.Problem, rng *rand.Rand) string {
		decisions := randomDecisions(p, rng)
		if rng.IntN(2) == 0 {
			decisions.Omitted = nil
		}
		plan, err := planner.Evaluate(p, decisions)
		if err != nil {
			return err.Error()
		}
		doc, err := planfile.Build(p, &model.Result{Plan: plan, Baseline: plan, Status: model.StatusBounded})
		if err != nil {
			return err.Error()
		}
		for range 6 {
			at := model.Clock(rng.IntN(20 * 3600))
			if n := len(doc.Loads); n > 0 && rng.IntN(2) == 0 {
				l := &doc.Loads[rng.IntN(n)]
				at = model.Clock([]planfile.Time{l.Start, l.SetupStart, l.CleanoutFrom}[rng.IntN(3)]) + model.Clock(rng.IntN(2))
			}
			s, err := standing.At(in, doc.Told(), nil, at)
			if err != nil {
				return err.Error()
			}
			d := differences(slices.Clone(s.Oddities))
			d.loads(s)
			d.supplies(s, doc)
			d.connections(s, doc)
			d.acres(s)
			if len(plan.Unsprayed) == 0 {
				replanned += d.rest(s, p, plan, &decisions)
			}
			if len(d) > 0 {
				return fmt.Sprintf("at %s: %s", at, strings.Join(d, "\n"))
			}
		}
		return ""
	})
	t.Logf("%d loads planned again", replanned)
	assert.Greater(t, replanned, int(randomDays()))
}

// rest plans the rest of a day by the same decisions and joins it to what has
// begun; it returns how many loads it makes.
func (d *differences) rest(s *standing.Standing, p *model.Problem, plan *model.Plan, decisions *planner.Decisions) int {
	q, report := model.NewProblem(s.Rest())
	d.expect(report.OK(), "the rest is no day: %v", report.Errors)
	if !report.OK() {
		return 0
	}
	again, err := planner.Evaluate(q, restOf(decisions, s, p, q))
	d.expect(err == nil, "the rest can't be planned: %v", err)
	if err != nil {
		return 0
	}
	text := func(p *model.Problem, l *model.PlannedLoad) string {
		return fmt.Sprint(l.ID, l.Bay, l.Seq, " ", p.Mixes[l.Mix].Name, " ", l.Ready, l.Start, l.End, l.BackAt, l.SprayedAt, l.Wait, l.Held)
	}
	var want, got []string
	for i := range plan.Loads {
		want = append(want, text(p, &plan.Loads[i]))
	}
	whole, behind := s.Whole(), s.Behind()
	joined := planner.Whole(whole, &behind, q, again)
	for i := range joined.Loads {
		got = append(got, text(whole, &joined.Loads[i]))
	}
	d.expect(slices.Equal(want, got), "loads -planned +now:\n%s", cmp.Diff(want, got))
	return len(again.Loads)
}

// restOf takes what has begun out of decisions.
func restOf(d *planner.Decisions, s *standing.Standing, p, q *model.Problem) planner.Decisions {
	rest := planner.Decisions{Routes: make([][]planner.Run, len(d.Routes)), TakeOff: d.TakeOff}
	for sprayer, route := range d.Routes {
		for _, run := range route {
			var left planner.Run
			for _, j := range run {
				if i := slices.IndexFunc(q.Jobs, func(job model.Job) bool { return job.Name == p.Jobs[j].Name }); i >= 0 {
					left = append(left, i)
				}
			}
			if len(left) > 0 {
				rest.Routes[sprayer] = append(rest.Routes[sprayer], left)
			}
		}
	}
	begun := make([]int, len(p.Sprayers))
	for i := range s.Sprayers {
		begun[i] = len(s.Sprayers[i].Sprayed)
	}
	for _, slot := range d.Sequence {
		if begun[slot.Sprayer]--; begun[slot.Sprayer] < 0 {
			rest.Sequence = append(rest.Sequence, slot)
		}
	}
	return rest
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
	for i := range s.Loads {
		l := &s.Loads[i]
		for _, p := range l.Told.Parts {
			if !l.Begun {
				waiting[p.Job] += p.Acres
			}
		}
	}
	for _, j := range s.Jobs {
		if j.ToFill == 0 {
			d.expect(waiting[j.Name] <= 1000, "job %s has nothing left, planned %s", j.Name, waiting[j.Name])
			continue
		}
		d.expect(waiting[j.Name] <= j.ToFill, "job %s: %s to fill, planned %s", j.Name, j.ToFill, waiting[j.Name])
		d.expect(j.Sprayed+j.InTank+j.ToFill == j.Asked,
			"job %s: %s + %s + %s is not %s", j.Name, j.Sprayed, j.InTank, j.ToFill, j.Asked)
	}
}
