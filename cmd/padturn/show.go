package main

import (
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
			"  padturn show monday/plan/plan.json | less",
		Args: oneArgument("PLAN", "the folder of a plan, or its plan.json"),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"json"}, cobra.ShellCompDirectiveFilterFileExt
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			doc, err := planfile.Read(args[0])
			if err != nil {
				return wrongInput("%v", err)
			}
			return terminal.Show(cmd.OutOrStdout(), doc, width(cmd.OutOrStdout()))
		},
	}
}
