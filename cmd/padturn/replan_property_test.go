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
	stands, err := standing.At(in, told.ToldOn(&in), facts, at)
	if err != nil {
		return nil, nil, "" // facts that make no day are refused
	}
	rest := leftToPlan(told, stands)
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

// TestReplanWithoutNewsIsThePlan replans random days without a word from anybody,
// also after a replan for rain, and also where work is left: the loads stay as
// they are, to the second.
func TestReplanWithoutNewsIsThePlan(t *testing.T) {
	left, replans := 0, 0
	eachRandomDay(t, func(in model.Input, p *model.Problem, rng *rand.Rand) string {
		told, err := firstPlan(p, 1)
		if err != nil || len(told.Loads) == 0 {
			return ""
		}
		told.Day.FilesSum = planfile.SumOf(&in)
		var facts []standing.Fact
		at := in.Settings.Pad.Opens
		for revision := range 4 {
			from := at
			at += model.Clock(rng.IntN(3 * 3600))
			news := revision == 1
			if news {
				rain := model.HoldRow{From: at, To: at + model.Clock(rng.IntN(3*3600)), Kind: "rain"}
				facts = []standing.Fact{{N: 1, At: from, News: standing.HoldMark{Hold: rain}}}
			}
			p, doc, breach := replanned(in, told, facts, at, planner.Settings{Steps: 300, Seed: uint64(revision)})
			if breach != "" {
				return fmt.Sprintf("%s\nrevision %d at %s after %v of\n%s", breach, revision, at, facts, loadLines(told))
			}
			if doc == nil || len(p.stands.Stranded()) > 0 {
				return "" // when a stranded tank is back nobody knows, so the plan says: not before now
			}
			if is, was := loadLines(doc), loadLines(told); !news && is != was {
				return fmt.Sprintf("at %s, after %v, the plan changes from\n%s to\n%s", at, facts, was, is)
			}
			replans++
			if len(told.Unsprayed) > 0 {
				left++
			}
			told = doc
		}
		return ""
	})
	assert.Greater(t, left, replans/10, "too few days leave work")
}

// loadLines names the loads of a plan with their places, runs, acres and times.
func loadLines(d *planfile.Document) string {
	var text strings.Builder
	for _, l := range d.Loads {
		fmt.Fprint(&text, l.Load, " ", l.Bay, l.Seq, " ", l.Mix, " ", l.Ready, l.Start, l.End, l.BackAt, l.WaitS, l.HeldS)
		fmt.Fprint(&text, " ", l.Run)
		for _, part := range l.Parts {
			fmt.Fprint(&text, " ", part.Job, "=", part.Acres.Fixed(3))
		}
		fmt.Fprintln(&text)
	}
	return text.String()
}

// TestReplanAgainKeepsTheOrder reports whatever is accepted, things that do not fit
// together too, replans, and replans without a further word at the same moment or
// later: every load keeps its name, bay, place, mix and acres.
func TestReplanAgainKeepsTheOrder(t *testing.T) {
	again, odd := 0, 0
	eachRandomDay(t, func(in model.Input, p *model.Problem, rng *rand.Rand) string {
		told, err := firstPlan(p, 1)
		if err != nil || len(told.Loads) == 0 {
			return ""
		}
		at := in.Settings.Pad.Opens + model.Clock(rng.IntN(6*3600))
		facts := acceptedNews(in, told.Told(), at, rng)
		_, first, breach := replanned(in, told, facts, at, planner.Settings{Steps: 300, Seed: 1})
		if breach != "" || first == nil {
			return breach
		}
		later := at + model.Clock(rng.IntN(2)*rng.IntN(3*3600))
		r, second, breach := replanned(in, first, facts, later, planner.Settings{Steps: 300, Seed: 2})
		if breach != "" || second == nil {
			return breach
		}
		if is, was := orderLines(second), orderLines(first); is != was {
			return fmt.Sprintf("replanned at %s and %s after %v, the order changes from\n%s to\n%s", at, later, facts, was, is)
		}
		again++
		if len(r.stands.Oddities) > 0 {
			odd++
		}
		return ""
	})
	assert.Greater(t, again, int(randomDays())/2, "too few days were replanned twice")
	assert.Greater(t, odd, 0, "no reports that do not fit together")
}

// orderLines names the loads of a plan in their order at each bay, without times.
func orderLines(d *planfile.Document) string {
	var text strings.Builder
	for _, l := range d.Loads {
		fmt.Fprint(&text, l.Load, " ", l.Bay, " ", l.Seq, " ", l.Mix)
		for _, part := range l.Parts {
			fmt.Fprint(&text, " ", part.Job, "=", part.Acres.Fixed(3))
		}
		fmt.Fprintln(&text)
	}
	return text.String()
}
