package main

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"padturn/io/audit"
	"padturn/io/changes"
	"padturn/io/journal"
	"padturn/io/planfile"
	"padturn/io/terminal"
	"padturn/model"
	"padturn/model/standing"
	"padturn/planner"
)

func newReplan() *cobra.Command {
	var at, out string
	cmd := &cobra.Command{
		Use:   "replan DAY",
		Short: "plan the rest of a day that has begun",
		Long: "Plan the rest of a day from where it stands: loads that have begun stay as they\n" +
			"are, stock, totes, water and sprayers are where the plan and the facts put them,\n" +
			"and what the crew was told changes as little as it must. It prints what to tell\n" +
			"each sprayer over the radio. The plan before it is kept beside the new one.\n" +
			"Reports of what happened later than --at are left out, and listed. A time before\n" +
			"that of the last replan is refused.\n\n" + exitCodes,
		Example: "  padturn replan monday --at 10:35\n" +
			"  padturn replan monday --at 10:35 --keep-order\n" +
			"  padturn replan monday --at 10:35 --from-scratch -o monday-b",
		Args:              oneArgument("DAY", dayMeaning),
		ValidArgsFunction: days,
		RunE: func(cmd *cobra.Command, args []string) error {
			r, err := replanningOf(cmd, args[0], out, at)
			if err != nil {
				return err
			}
			return r.run(cmd.Context())
		},
	}
	cmd.Flags().StringVar(&at, "at", "", "`time` of day from which to plan, HH:MM")
	cmd.Flags().StringVarP(&out, "out", "o", "", "`folder` for the plan (default DAY/plan, or DAY-plan for DAY.xlsx)")
	addEffortFlags(cmd.Flags())
	cmd.Flags().Bool("keep-order", false, "keep all that the crew was told in its order; only times move")
	cmd.Flags().Bool("from-scratch", false, "plan the rest as if nobody had been told anything")
	cmd.MarkFlagsMutuallyExclusive("keep-order", "from-scratch")
	if err := cmd.MarkFlagRequired("at"); err != nil {
		panic("padturn: " + err.Error()) // the flag is missing: a mistake in this file
	}
	completeEffort(cmd)
	return cmd
}

// replanSettings reads the settings of a replan.
func replanSettings(flags *pflag.FlagSet, environ []string) (s planner.Settings, effort string, err error) {
	if s, effort, err = effortSettings(flags, environ); err != nil {
		return s, effort, err
	}
	if s.KeepTold, err = flags.GetBool("keep-order"); err != nil {
		return s, effort, err
	}
	s.FromScratch, err = flags.GetBool("from-scratch")
	return s, effort, err
}

// replanning is one replan command under way.
type replanning struct {
	planning
	at model.Clock
}

// replanningOf reads what a replan command was given.
func replanningOf(cmd *cobra.Command, day, out, at string) (r replanning, err error) {
	settings, effort, err := replanSettings(cmd.Flags(), os.Environ())
	if err != nil {
		return r, err
	}
	moment, err := model.ParseHHMM(at)
	if err != nil {
		return r, fmt.Errorf("--at %q: expected a time such as 10:35", at)
	}
	return replanning{
		planning: planning{
			day: day, out: cmp.Or(out, defaultOut(day)), settings: settings, effort: effort,
			search: planner.Plan, check: audit.Check,
			stdout: cmd.OutOrStdout(), stderr: cmd.ErrOrStderr(),
		},
		at: moment,
	}, nil
}

func (r replanning) run(ctx context.Context) error {
	day, err := readDay(r.stderr, r.day)
	if err != nil {
		return err
	}
	told, err := readPlan(r.day)
	if err != nil {
		return err
	}
	if before := told.Told().At; r.at < before {
		return wrongInput("--at %s is before %s, when replan %d was made: what it told counts from then on; give a time from %s on",
			r.at.HHMM(), before.HHMM(), told.Replans(), before.HHMM())
	}
	if err := checkOut(r.out); err != nil {
		return err
	}
	j, err := journal.Read(journalOf(r.day))
	if err != nil {
		return wrongInput("%v", err)
	}
	tellTorn(r.stderr, r.day, j, "the next report cuts it off")
	tellSheet(r.stderr, r.day, j)
	facts := j.Facts()
	asTold := told.ToldOn(&day.Input)
	asTold.Same = asTold.Same && !takesBack(j, &asTold)
	stands, err := standing.At(day.Input, asTold, facts, r.at)
	if err != nil {
		return wrongInput("%v", err)
	}
	rest := leftToPlan(told, stands)
	problem, report := model.NewProblem(rest)
	if !report.OK() {
		return r.refuseRest(report.Errors)
	}
	result, err := r.find(ctx, problem)
	if err != nil {
		return wrongInput("%s cannot be planned: %v", r.day, err)
	}
	return r.finish(&replan{
		day: &day.Input, told: told, stands: stands, facts: facts, entries: len(j.Entries), later: sayings(j, stands.Ahead),
		rest: &rest, problem: problem, result: result,
	})
}

// finish has the plan checked, writes it and says what it changes.
func (r replanning) finish(p *replan) error {
	_, restFiles, err := written(p.rest, p.problem, p.result)
	if err != nil {
		return &outcome{exitBreach, fmt.Sprintf("the plan is faulty, which is a mistake in padturn: %v; nothing was written", err)}
	}
	if breaches := r.check(p.rest, restFiles); len(breaches) > 0 {
		return r.refuse(breaches)
	}
	doc, files, err := p.whole()
	if err != nil {
		return &outcome{exitBreach, fmt.Sprintf("the plan is faulty, which is a mistake in padturn: %v; nothing was written", err)}
	}
	judged, err := p.judged(restFiles, files, r.settings)
	if err != nil {
		return &outcome{exitBreach, fmt.Sprintf("the plan cannot be judged, which is a mistake in padturn: %v; nothing was written", err)}
	}
	if breaches := audit.CheckReplan(judged); len(breaches) > 0 {
		return r.refuse(breaches)
	}
	if _, err := r.keepTold(); err != nil {
		return err
	}
	if err := writePlan(r.stderr, r.out, files); err != nil {
		return err
	}
	err = terminal.Replan(r.stdout, doc, changes.Radio(changes.AsTold(p.told), doc, doc.Replan.Begun), p.attention(), width(r.stdout))
	if err != nil {
		return wrongInput("the plan cannot be printed: %v", err)
	}
	r.tellInterrupted(doc)
	fmt.Fprintf(r.stderr, "replan %d written to %s; next: padturn show %s\n", doc.Replan.Number, r.out, r.out)
	if n := len(doc.Unsprayed); n > 0 {
		return &outcome{exitWorkLeft, model.Count(n, "job") + " not sprayed, or not wholly; unsprayed.csv says why"}
	}
	if n := len(p.stands.Stranded()); n > 0 {
		return &outcome{exitWorkLeft, model.Count(n, "tank") + " to be decided about by whoever reads the label"}
	}
	return nil
}

// refuseRest lists what keeps the rest of a day from being planned.
func (r replanning) refuseRest(faults []model.Fault) error {
	for _, f := range faults {
		fmt.Fprintf(r.stderr, "%s: %s %q: %s\n", f.Table, f.Column, f.Value, f.Want)
	}
	return wrongInput("the rest of %s cannot be planned", r.day)
}

// keepTold keeps the plan that is replaced, for comparing. It says where, which is
// blank where there was none.
func (p planning) keepTold() (kept string, err error) {
	if _, err := os.Stat(filepath.Join(p.out, planfile.PlanFile)); err != nil {
		return "", nil //nolint:nilerr // nothing is replaced
	}
	old, err := planfile.Read(p.out)
	if err != nil {
		return "", nil //nolint:nilerr // not a plan that anybody could compare
	}
	files, err := planfile.Render(old)
	if err != nil {
		return "", wrongInput("cannot keep %s: %v", p.out, err)
	}
	kept = fmt.Sprintf("%s-%d", filepath.Clean(p.out), old.Replans())
	if err := planfile.Write(kept, files); err != nil {
		return "", wrongInput("cannot write %s: %v", kept, err)
	}
	return kept, nil
}
