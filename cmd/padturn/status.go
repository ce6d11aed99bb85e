package main

import (
	"time"

	"github.com/spf13/cobra"

	"padturn/io/journal"
	"padturn/io/terminal"
)

func newStatus() *cobra.Command {
	var at string
	var all bool
	cmd := &cobra.Command{
		Use:   "status DAY",
		Short: "say where a day stands now, by its plan and what was reported",
		Long: "Say where a day stands: loads, sprayers, bays, jobs and stock, by the plan and\n" +
			"by what was reported with padturn mark and padturn hold. What nobody reported\n" +
			"is presumed to have gone as planned, and said to be. First come the tanks that\n" +
			"need a decision, the fields to check for efficacy after rain, the loads that\n" +
			"can't be kept as they were told, and the holds in force or to come. Nothing\n" +
			"is changed.",
		Example: "  padturn status monday\n" +
			"  padturn status monday --at 10:35",
		Args:              oneArgument("DAY", dayMeaning),
		ValidArgsFunction: days,
		RunE: func(cmd *cobra.Command, args []string) error {
			begun, err := readBegun(cmd.ErrOrStderr(), args[0])
			if err != nil {
				return err
			}
			moment, err := moment(at, begun.day.Input.Settings.Date, time.Now())
			if err != nil {
				return err
			}
			j, err := journal.Read(journalOf(args[0]))
			if err != nil {
				return wrongInput("%v", err)
			}
			tellTorn(cmd.ErrOrStderr(), args[0], j, "the next report cuts it off")
			tellSheet(cmd.ErrOrStderr(), args[0], j)
			s, err := begun.standsAt(begun.facts(j), moment)
			if err != nil {
				return wrongInput("%v", err)
			}
			return terminal.Status(cmd.OutOrStdout(), begun.doc, s, all, width(cmd.OutOrStdout()))
		},
	}
	cmd.Flags().StringVar(&at, "at", "", "`time` of day, HH:MM (default: now, if DAY is dated today)")
	cmd.Flags().BoolVar(&all, "all", false, "list all loads in doubt, however many")
	return cmd
}
