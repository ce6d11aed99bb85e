package main

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"padturn/io/closing"
	"padturn/io/table"
	"padturn/io/terminal"
	"padturn/io/whole"
)

func newClose() *cobra.Command {
	var at, out, tolerance string
	var all bool
	cmd := &cobra.Command{
		Use:   "close DAY",
		Short: "end a day: use against plan, empties, reorder list, records",
		Long: "End a day. Into DAY/close go use.csv (what was used of each product, against\n" +
			"what the recipes ask for), containers.csv (how many are empty), reorder.csv, and\n" +
			"records.csv: what a record of restricted-use products has to hold by 7 CFR 110.3\n" +
			"and 40 CFR 171.303(b)(7), with FILL IN where a person has to. States ask for\n" +
			"more. Count the stock first (padturn mark DAY stock): without a count real use\n" +
			"is the plan's own figure.",
		Example: "  padturn close monday\n" +
			"  padturn close monday --tolerance 3 --all",
		Args:              oneArgument("DAY", dayMeaning),
		ValidArgsFunction: days,
		RunE: func(cmd *cobra.Command, args []string) error {
			off, err := table.ParseDecimal(tolerance)
			if err != nil || off < 0 {
				return fmt.Errorf("--tolerance %q: expected per cent, such as 5", tolerance)
			}
			s, err := readEnded(cmd.ErrOrStderr(), args[0], at)
			if err != nil {
				return err
			}
			if out == "" {
				out = ofDay(args[0], "close")
			}
			if err := checkSheets(out); err != nil {
				return err
			}
			if err := whole.Files(out, closing.Sheets(s, off, all)); err != nil {
				return wrongInput("cannot write %s: %v", out, err)
			}
			if err := terminal.Close(cmd.OutOrStdout(), s, off, width(cmd.OutOrStdout())); err != nil {
				return wrongInput("%s is written, but what it comes to cannot be printed: %v", out, err)
			}
			fmt.Fprintf(cmd.ErrOrStderr(), "sheets written to %s; next: padturn carry %s NEWDAY\n", out, args[0])
			return nil
		},
	}
	cmd.Flags().StringVar(&at, "at", "", "`time` at which the day ends, HH:MM (default: when all that was told is done)")
	cmd.Flags().StringVarP(&out, "out", "o", "", "`folder` for the sheets (default DAY/close, or DAY-close for DAY.xlsx)")
	cmd.Flags().StringVar(&tolerance, "tolerance", "5", "`per cent` by which use may be off before it is flagged")
	cmd.Flags().BoolVar(&all, "all", false, "records of every product that has a registration number")
	return cmd
}

// checkSheets keeps the sheets out of a day folder and of a plan's.
func checkSheets(out string) error {
	for _, name := range []string{"jobs.csv", "plan.json"} {
		if exists(filepath.Join(out, name)) {
			return wrongInput("cannot write %s: it holds a %s; choose another folder", out, name)
		}
	}
	return nil
}
