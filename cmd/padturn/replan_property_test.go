package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/io/audit"
	"padturn/io/planfile"
	"padturn/model"
	"padturn/model/standing"
	"padturn/planner"
)

// replanned plans the rest of a day from what was told and reported, and says
// what is wrong with the plan, if anything.
func replanned(in model.Input, told *planfile.Document, facts []standing.Fact, at model.Clock, s planner.Settings) (*replan, *planfile.Document, string) {
	stands, err := standing.At(in, told.Told(), facts, at)
	if err != nil {
		return nil, nil, "" // facts that make no day are refused
	}
	rest := leftToPlan(&in, told, stands)
	problem, report := model.NewProblem(rest)
	if !report.OK() {
		return nil, nil, fmt.Sprintf("the rest has faults: %v", report.Errors)
	}
	result, err := planner.Plan(context.Background(), problem, s)
	if err != nil {
		return nil, nil, err.Error()
	}
	result.Effort = "quick"
	p := &replan{day: &in, told: told, stands: stands, facts: facts, rest: &rest, problem: problem, result: result}
	_, restFiles, err := written(&rest, problem, result)
	if err != nil {
		return nil, nil, err.Error()
	}
	doc, files, err := p.whole()
	if err != nil {
		return nil, nil, err.Error()
	}
	judged, err := p.judged(restFiles, files, s)
	if err != nil {
		return nil, nil, err.Error()
	}
	var list []string
	for _, v := range append(audit.Check(&rest, restFiles), audit.CheckReplan(judged)...) {
		list = append(list, fmt.Sprintf("%s %s: %s", v.Rule, v.Where, v.What))
	}
	if _, err := planfile.Parse("plan.json", files[planfile.PlanFile]); err != nil {
		list = append(list, err.Error())
	}
	return p, doc, strings.Join(list, "\n")
}

// firstPlan is the plan of a day's morning.
func firstPlan(p *model.Problem, seed uint64) (*planfile.Document, error) {
	result, err := planner.Plan(context.Background(), p, planner.Settings{Steps: 300, Seed: seed})
	if err != nil {
		return nil, err
	}
	return planfile.Build(p, result)
}

// moreNews adds what may be reported of a plan between two moments: what loads
// do about when they were to, and now and then anything else. What is refused is
// not reported.
func moreNews(in model.Input, told *planfile.Document, facts []standing.Fact, from, at model.Clock, rng *rand.Rand) []standing.Fact {
	plan := told.Told()
	var news []standing.Fact
	for _, l := range told.Loads {
		late := model.Clock(rng.IntN(1200) - 300)
		for _, x := range []struct {
			state standing.State
			at    planfile.Time
		}{{standing.Filling, l.Start}, {standing.Filled, l.End}, {standing.Done, l.BackAt}} {
			if when := model.Clock(x.at) + late; when > from && when < at && rng.IntN(4) == 0 {
				news = append(news, standing.Fact{At: when, News: standing.LoadMark{Load: l.Load, State: x.state}})
			}
		}
	}
	for range rng.IntN(4) {
		t := from + model.Clock(rng.IntN(int(max(at-from, 1))))
		if len(in.Stock) > 0 && len(told.Loads) > 0 {
			news = append(news, standing.Fact{At: t, News: anyNews(in, plan, t, rng)})
		}
	}
	slices.SortStableFunc(news, func(x, y standing.Fact) int { return int(x.At - y.At) })
	for _, fact := range news {
		fact.N = len(facts) + 1
		if standing.Check(in, plan, facts, fact) == nil {
			facts = append(facts, fact)
		}
	}
	return facts
}

// TestReplansObeyTheRules plans random days, reports random news of them and
// plans their rest, two times one after the other: the checker finds nothing
// wrong with the rest from where the day stands, nor with what it was joined to.
func TestReplansObeyTheRules(t *testing.T) {
	planned := 0
	eachRandomDay(t, func(in model.Input, p *model.Problem, rng *rand.Rand) string {
		told, err := firstPlan(p, 1)
		if err != nil {
			return err.Error()
		}
		if len(told.Loads) == 0 {
			return ""
		}
		var facts []standing.Fact
		from := in.Settings.Pad.Opens
		for revision := range 2 {
			at := from + model.Clock(rng.IntN(5*3600))
			facts = moreNews(in, told, facts, from, at, rng)
			s := planner.Settings{Steps: 300, Seed: 1, KeepTold: rng.IntN(6) == 0}
			s.FromScratch = !s.KeepTold && rng.IntN(6) == 0
			_, doc, breach := replanned(in, told, facts, at, s)
			if breach != "" {
				return fmt.Sprintf("revision %d at %s, %d facts: %s", revision+1, at, len(facts), breach)
			}
			if doc == nil {
				return ""
			}
			told, from = doc, at
			planned++
		}
		return ""
	})
	assert.Greater(t, planned, int(randomDays())/2, "too few days could be replanned")
}

// TestReplanWithoutNewsIsThePlan replans random days at random moments without a
// word from anybody: the day's loads stay as they are, to the second. A plan that
// leaves a part of a run undone does not say which jobs the run was to have, so
// such days are not compared.
func TestReplanWithoutNewsIsThePlan(t *testing.T) {
	eachRandomDay(t, func(in model.Input, p *model.Problem, rng *rand.Rand) string {
		told, err := firstPlan(p, 1)
		if err != nil || len(told.Loads) == 0 {
			return ""
		}
		told.Day.FilesSum = planfile.SumOf(&in)
		at := in.Settings.Pad.Opens + model.Clock(rng.IntN(8*3600))
		_, doc, breach := replanned(in, told, nil, at, planner.Settings{Steps: 300, Seed: 9})
		if breach != "" {
			return breach
		}
		if is, was := sequenceOf(doc), sequenceOf(told); is != was {
			return fmt.Sprintf("at %s the plan changes from\n%s to\n%s", at, was, is)
		}
		return ""
	})
}

// sequenceOf names the loads of a plan with their places and times.
func sequenceOf(d *planfile.Document) string {
	var text strings.Builder
	for _, l := range d.Loads {
		fmt.Fprintln(&text, l.Load, l.Bay, l.Seq, l.Mix, l.Ready, l.Start, l.End, l.BackAt)
	}
	return text.String()
}
