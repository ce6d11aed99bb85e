package main

import (
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"padturn/io/planfile"
	"padturn/io/terminal"
)

func newShow() *cobra.Command {
	return &cobra.Command{
		Use:   "show PLAN",
		Short: "print a plan: load order, sprayers, stock",
		Long: "Print a plan that was written before: the load order of every bay, the sprayers,\n" +
			"the stock at the end of the day and the cautions.",
		Example: "  padturn show examples/small/plan\n" +
			"  padturn show monday\n" +
			"  padturn show monday/plan/plan.json | less",
		Args:              oneArgument("PLAN", planMeaning),
		ValidArgsFunction: plans,
		RunE: func(cmd *cobra.Command, args []string) error {
			doc, err := readPlan(args[0])
			if err != nil {
				return err
			}
			return terminal.Show(cmd.OutOrStdout(), doc, width(cmd.OutOrStdout()))
		},
	}
}

// planOf returns where the plan of a path is: for a day, the folder that plan
// writes it to unless told otherwise.
func planOf(path string) string {
	inDay := defaultOut(path)
	if !isDay(path) {
		return path
	}
	if _, err := os.Stat(filepath.Join(inDay, planfile.PlanFile)); err != nil {
		return path
	}
	return inDay
}

// isDay says whether a path is a day's, not a plan's.
func isDay(path string) bool {
	_, err := os.Stat(filepath.Join(path, "jobs.csv"))
	return err == nil || isWorkbook(path)
}

// readPlan reads the plan of a path. Of a day that was never planned it says so.
func readPlan(path string) (*planfile.Document, error) {
	from := planOf(path)
	if from == path && isDay(path) && exists(path) && !exists(filepath.Join(path, planfile.PlanFile)) {
		return nil, wrongInput("%s has no plan yet: there is no %s; next: padturn plan %s",
			path, filepath.Join(defaultOut(path), planfile.PlanFile), path)
	}
	doc, err := planfile.Read(from)
	if err != nil {
		return nil, wrongInput("%v", err)
	}
	return doc, nil
}
