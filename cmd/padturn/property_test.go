package main

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/io/audit"
	"padturn/io/planfile"
	"padturn/model"
	"padturn/planner"
	"padturn/planner/scenario"
)

// randomDays is how many random days the property tests plan.
func randomDays() uint64 {
	if testing.Short() {
		return 40
	}
	return 250
}

// eachRandomDay runs a check of a random day for many seeds. A breach is shrunk
// to a small day before it is reported.
func eachRandomDay(t *testing.T, check func(in model.Input, p *model.Problem, rng *rand.Rand) string) {
	t.Helper()
	for seed := range randomDays() {
		in := scenario.Random(rand.New(rand.NewPCG(seed, 1)))
		if seed%5 == 4 {
			scenario.DryPad(&in)
		}
		run := func(in model.Input) (breach string) {
			p, report := model.NewProblem(in)
			if !report.OK() {
				return ""
			}
			defer func() {
				if r := recover(); r != nil {
					breach = fmt.Sprintf("panic: %v", r)
				}
			}()
			return check(in, p, rand.New(rand.NewPCG(seed, 2)))
		}
		if breach := run(in); breach != "" {
			small := shrink(in, func(in model.Input) bool { return run(in) != "" })
			day, err := json.MarshalIndent(small, "", " ")
			require.NoError(t, err)
			t.Errorf("seed %d: %s\nshrunk: %s\n%s", seed, breach, run(small), day)
			return
		}
	}
}

// breaches lists what the independent checker finds wrong with a plan, as its
// files say it, and a reason that cannot be.
func breaches(in *model.Input, p *model.Problem, plan, baseline *model.Plan) string {
	document, err := planfile.Build(p, &model.Result{Plan: plan, Baseline: baseline, Status: model.StatusBounded})
	if err != nil {
		return err.Error()
	}
	files, err := planfile.Render(document)
	if err != nil {
		return err.Error()
	}
	var list []string
	for _, v := range audit.Check(in, files) {
		list = append(list, fmt.Sprintf("%s %s: %s", v.Rule, v.Where, v.What))
	}
	for _, u := range plan.Unsprayed {
		if p.Settings.Pad.Water == nil && strings.Contains(u.Reason, "have the water") {
			list = append(list, fmt.Sprintf("job %s: %s, but water never runs short", p.Jobs[u.Job].Name, u.Reason))
		}
	}
	return strings.Join(list, "\n")
}

func TestFirstComeFirstServedObeysTheRules(t *testing.T) {
	eachRandomDay(t, func(in model.Input, p *model.Problem, _ *rand.Rand) string {
		r, err := planner.Plan(context.Background(), p, planner.Settings{})
		if err != nil {
			return err.Error()
		}
		return breaches(&in, p, r.Baseline, r.Baseline)
	})
}

func TestAnyDecisionsObeyTheRules(t *testing.T) {
	eachRandomDay(t, func(in model.Input, p *model.Problem, rng *rand.Rand) string {
		for range 4 {
			plan, err := planner.Evaluate(p, randomDecisions(p, rng))
			if err != nil {
				return err.Error()
			}
			if found := breaches(&in, p, plan, plan); found != "" {
				return found
			}
		}
		return ""
	})
}

// TestDryPadsObeyTheRules has cleanouts wait for their water.
func TestDryPadsObeyTheRules(t *testing.T) {
	waited := 0
	eachRandomDay(t, func(in model.Input, _ *model.Problem, rng *rand.Rand) string {
		scenario.DryPad(&in)
		p, report := model.NewProblem(in)
		if !report.OK() {
			return "" // a shrunk day without the levels
		}
		for range 4 {
			plan, err := planner.Evaluate(p, randomDecisions(p, rng))
			if err != nil {
				return err.Error()
			}
			for _, s := range plan.Spans {
				if l := &plan.Loads[s.Load]; s.What == model.SpanWait && s.To == l.CleanoutFrom && l.Cleanout != model.None {
					waited++
				}
			}
			if found := breaches(&in, p, plan, plan); found != "" {
				return found
			}
		}
		return ""
	})
	t.Logf("%d cleanouts waited", waited)
	assert.Greater(t, waited, int(randomDays())/4)
}

func TestSearchedPlansObeyTheRulesAndBeatTheBaseline(t *testing.T) {
	eachRandomDay(t, func(in model.Input, p *model.Problem, rng *rand.Rand) string {
		r, err := planner.Plan(context.Background(), p, planner.Settings{Steps: 2000, Seed: rng.Uint64()})
		if err != nil {
			return err.Error()
		}
		total, first := r.Plan.Cost.Total(), r.Baseline.Cost.Total()
		switch {
		case r.Plan.Left > r.Baseline.Left || r.Plan.Left == r.Baseline.Left && total > first:
			return fmt.Sprintf("plan leaves %v for %v, first come first served %v for %v", r.Plan.Left, total, r.Baseline.Left, first)
		case r.Plan.Left == 0 && r.Bound > total:
			return fmt.Sprintf("bound %v is above the plan's cost %v", r.Bound, total)
		}
		return breaches(&in, p, r.Plan, r.Baseline)
	})
}

func TestInterruptedSearchGivesAPlanThatObeysTheRules(t *testing.T) {
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	eachRandomDay(t, func(in model.Input, p *model.Problem, _ *rand.Rand) string {
		r, err := planner.Plan(ended, p, planner.Settings{Steps: 1_000_000_000, Seed: 1})
		if err != nil {
			return err.Error()
		}
		if r.Status == model.StatusBounded {
			return "an interrupted search says that it took all its steps"
		}
		return breaches(&in, p, r.Plan, r.Baseline)
	})
}

// TestSamePlanOnAnyNumberOfCores holds seed and steps and changes the cores.
func TestSamePlanOnAnyNumberOfCores(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for seed := range uint64(12) {
		p, _ := model.NewProblem(scenario.Random(rand.New(rand.NewPCG(seed, 1))))
		var first map[string][]byte
		for _, cores := range []int{1, 2, 4} {
			runtime.GOMAXPROCS(cores)
			r, err := planner.Plan(context.Background(), p, planner.Settings{Steps: 5000, Seed: seed})
			require.NoError(t, err)
			document, err := planfile.Build(p, r)
			require.NoError(t, err)
			files, err := planfile.Render(document)
			require.NoError(t, err)
			if first == nil {
				first = files
			}
			assert.Equal(t, first, files, "seed %d on %d cores", seed, cores)
		}
	}
}

// TestShrunkDays plans days on which a property once failed, each named for
// what was wrong.
func TestShrunkDays(t *testing.T) {
	paths, err := filepath.Glob("testdata/shrunk/*.json")
	require.NoError(t, err)
	for _, path := range paths {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".json"), func(t *testing.T) {
			text, err := os.ReadFile(path)
			require.NoError(t, err)
			var in model.Input
			require.NoError(t, json.Unmarshal(text, &in))
			p, report := model.NewProblem(in)
			require.Empty(t, report.Errors)
			r, err := planner.Plan(context.Background(), p, planner.Settings{Steps: 2000, Seed: 1})
			require.NoError(t, err)
			assert.Empty(t, breaches(&in, p, r.Baseline, r.Baseline), "first come, first served")
			assert.Empty(t, breaches(&in, p, r.Plan, r.Baseline), "searched")
			rng := rand.New(rand.NewPCG(1, 1))
			for range 60 {
				plan, err := planner.Evaluate(p, randomDecisions(p, rng))
				require.NoError(t, err)
				require.Empty(t, breaches(&in, p, plan, plan), "chance decisions")
			}
		})
	}
}
