package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"padturn/io/audit"
	"padturn/io/planfile"
	"padturn/io/terminal"
	"padturn/model"
	"padturn/planner"
)

func newPlan() *cobra.Command {
	var out string
	var asJSON, anew bool
	cmd := &cobra.Command{
		Use:   "plan DAY",
		Short: "plan a day and write the plan",
		Long: "Plan a day: read its folder or its workbook (.xlsx), search for the order of\n" +
			"loads that costs least, have the plan checked, write it and say what it comes\n" +
			"to. Ctrl-C gives the best plan so far. The same day, effort and seed give the\n" +
			"same plan.\n\n" + exitCodes,
		Example: "  padturn plan examples/small\n" +
			"  padturn plan monday.xlsx\n" +
			"  padturn plan monday --effort deep\n" +
			"  padturn plan monday -o monday-b --seed 2\n" +
			"  padturn plan monday --keep-order\n" +
			"  padturn plan monday --keep-order --prove\n" +
			"  padturn plan monday --json | jq .totals",
		Args:              oneArgument("DAY", dayMeaning),
		ValidArgsFunction: days,
		RunE: func(cmd *cobra.Command, args []string) error {
			settings, effort, err := searchSettings(cmd.Flags(), os.Environ())
			if err != nil {
				return err
			}
			if out == "" {
				out = defaultOut(args[0])
			}
			return planning{
				day: args[0], out: out, json: asJSON, anew: anew, settings: settings, effort: effort,
				search: planner.Plan, check: audit.Check,
				stdout: cmd.OutOrStdout(), stderr: cmd.ErrOrStderr(),
			}.run(cmd.Context())
		},
	}
	cmd.Flags().StringVarP(&out, "out", "o", "", "`folder` for the plan (default DAY/plan, or DAY-plan for DAY.xlsx)")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print plan.json instead of the summary")
	cmd.Flags().BoolVar(&anew, "anew", false, "plan the day from its morning, though something was reported of it")
	addSearchFlags(cmd.Flags())
	completeEffort(cmd)
	return cmd
}

// planning is one plan command under way.
type planning struct {
	day, out string
	json     bool
	anew     bool // begin a day again of which something was reported
	settings planner.Settings
	effort   string // as it was asked for
	// search and check are the planner and the independent checker; tests put
	// others in their place.
	search         func(context.Context, *model.Problem, planner.Settings) (*model.Result, error)
	check          func(*model.Input, map[string][]byte) []model.Violation
	stdout, stderr io.Writer
}

func (p planning) run(ctx context.Context) error {
	day, err := readDay(p.stderr, p.day)
	if err != nil {
		return err
	}
	if err := checkOut(p.out); err != nil {
		return err
	}
	begun, err := p.mayBegin()
	if err != nil {
		return err
	}
	if ctx.Err() != nil {
		return &outcome{exitInterrupted, "interrupted before there was a plan; nothing was written"}
	}
	result, err := p.find(ctx, day.Problem)
	if err != nil {
		return wrongInput("%s cannot be planned: %v", p.day, err)
	}
	doc, files, err := written(&day.Input, day.Problem, result)
	if err != nil {
		return &outcome{exitBreach, fmt.Sprintf("the plan is faulty, which is a mistake in padturn: %v; nothing was written", err)}
	}
	if breaches := p.check(&day.Input, files); len(breaches) > 0 {
		return p.refuse(breaches)
	}
	if begun && p.out == defaultOut(p.day) {
		if err := p.keepBegun(); err != nil {
			return err
		}
	}
	if err := writePlan(p.stderr, p.out, files); err != nil {
		return err
	}
	return p.tell(doc, files)
}

// mayBegin refuses to put a plan of the whole day in the place of the one that a
// crew works by, unless that was asked for. It returns whether the day has begun.
func (p planning) mayBegin() (bool, error) {
	facts, err := factsOf(p.day)
	if err != nil || len(facts) == 0 {
		return false, nil //nolint:nilerr // whoever reads the journal tells what is wrong with it
	}
	reports := model.Count(len(facts), "report")
	if p.out == defaultOut(p.day) && !p.anew && exists(filepath.Join(p.out, planfile.PlanFile)) {
		return true, wrongInput("%s of %s: it has begun, and padturn replan %s goes on from where it stands; "+
			"padturn plan %s --anew begins it again; nothing was written", reports, p.day, p.day, p.day)
	}
	fmt.Fprintf(p.stderr, "warning: %s of %s: this plan begins the day anew, and what they say of a load now counts for whatever load has its name here; "+
		"padturn replan goes on from where it stands\n", reports, p.day)
	return true, nil
}

// keepBegun keeps the plan that the crew works by, so that it is not lost to a
// plan that was meant to be a replan.
func (p planning) keepBegun() error {
	kept, err := p.keepTold()
	if err == nil && kept != "" {
		fmt.Fprintf(p.stderr, "the plan that was in %s is kept in %s\n", p.out, kept)
	}
	return err
}

// find searches, with a progress line where somebody watches.
func (p planning) find(ctx context.Context, problem *model.Problem) (*model.Result, error) {
	if terminalOf(p.stderr) != nil {
		line := showProgress(p.stderr, width(p.stderr))
		defer line.end()
		p.settings.Progress = line.heard
	} else if p.settings.Prove {
		p.settings.Progress = tellProof(p.stderr)
	}
	result, err := p.search(ctx, problem, p.settings)
	if err == nil {
		result.Effort = p.effort
	}
	return result, err
}

// written turns a result into the document and the files of a plan.
func written(day *model.Input, problem *model.Problem, result *model.Result) (*planfile.Document, map[string][]byte, error) {
	doc, err := planfile.Build(problem, result)
	if err != nil {
		return nil, nil, err
	}
	doc.Day.FilesSum = planfile.SumOf(day)
	files, err := planfile.Render(doc)
	return doc, files, err
}

// refuse lists the breaches that the checker found in a plan.
func (p planning) refuse(breaches []model.Violation) error {
	for _, b := range breaches {
		fmt.Fprintf(p.stderr, "%s: %s: %s\n", b.Rule, b.Where, b.What)
	}
	return &outcome{exitBreach, fmt.Sprintf(
		"the checker found %s of the rules in the plan, which is a mistake in padturn; nothing was written", breachCount(len(breaches)))}
}

func breachCount(n int) string {
	if n == 1 {
		return "1 breach"
	}
	return fmt.Sprintf("%d breaches", n)
}

// tell prints what the plan comes to, and where it is.
func (p planning) tell(doc *planfile.Document, files map[string][]byte) error {
	var err error
	if p.json {
		_, err = p.stdout.Write(files[planfile.PlanFile])
	} else {
		err = terminal.Summary(p.stdout, doc, width(p.stdout))
	}
	p.tellInterrupted(doc)
	p.tellUnproved(doc)
	fmt.Fprintf(p.stderr, "plan written to %s; next: padturn show %s\n", p.out, p.out)
	if err != nil {
		return wrongInput("the plan cannot be printed: %v", err)
	}
	if n := len(doc.Unsprayed); n > 0 {
		return &outcome{exitWorkLeft, model.Count(n, "job") + " not sprayed, or not wholly; unsprayed.csv says why"}
	}
	return nil
}

// tellInterrupted says of a plan that its search was broken off.
func (p planning) tellInterrupted(doc *planfile.Document) {
	if doc.Search.Status == string(model.StatusInterrupted) {
		fmt.Fprintln(p.stderr, "interrupted: this is the best plan found until then")
	}
}

// tellUnproved says of a proof that was asked for that there is none: its end
// looks like one.
func (p planning) tellUnproved(doc *planfile.Document) {
	if p.settings.Prove && doc.Search.Status == string(model.StatusBounded) {
		fmt.Fprintln(p.stderr, "--prove ended without a proof: it has nothing left to try that is likely to help")
	}
}

// completeEffort offers the efforts that have a name.
func completeEffort(cmd *cobra.Command) {
	names := []string{"quick\ta glance", "normal\tthe default", "deep\twhen the day is worth a coffee"}
	err := cmd.RegisterFlagCompletionFunc("effort", cobra.FixedCompletions(names, cobra.ShellCompDirectiveNoFileComp))
	if err != nil {
		panic("padturn: " + err.Error()) // the flag is missing: a mistake in this file
	}
}
