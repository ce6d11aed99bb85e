package main

import (
	"cmp"
	"fmt"
	"io"
	"path/filepath"

	"github.com/spf13/cobra"

	"padturn/io/closing"
	"padturn/io/table"
	"padturn/io/terminal"
	"padturn/io/whole"
)

// closingFlags are the flags of close, as text.
type closingFlags struct {
	at, out, tolerance string
	all                bool
}

func newClose() *cobra.Command {
	var f closingFlags
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
			return f.close(cmd.OutOrStdout(), cmd.ErrOrStderr(), args[0])
		},
	}
	cmd.Flags().StringVar(&f.at, "at", "", "`time` at which the day ends, HH:MM (default: when all that was told is done)")
	cmd.Flags().StringVarP(&f.out, "out", "o", "", "`folder` for the sheets (default DAY/close, or DAY-close for DAY.xlsx)")
	cmd.Flags().StringVar(&f.tolerance, "tolerance", "5", "`per cent` by which use may be off before it is flagged")
	cmd.Flags().BoolVar(&f.all, "all", false, "records of every product that has a registration number")
	return cmd
}

// close writes the sheets of a day and says what it comes to.
func (f closingFlags) close(stdout, stderr io.Writer, day string) error {
	off, err := table.ParseDecimal(f.tolerance)
	if err != nil || off < 0 {
		return fmt.Errorf("--tolerance %q: expected per cent, such as 5", f.tolerance)
	}
	s, err := readEnded(stderr, day, f.at)
	if err != nil {
		return err
	}
	out := cmp.Or(f.out, ofDay(day, "close"))
	if err := checkSheets(out); err != nil {
		return err
	}
	if err := whole.Files(out, closing.Sheets(s, off, f.all)); err != nil {
		return wrongInput("cannot write %s: %v", out, err)
	}
	if err := terminal.Close(stdout, s, off, width(stdout)); err != nil {
		return wrongInput("%s is written, but what it comes to cannot be printed: %v", out, err)
	}
	fmt.Fprintf(stderr, "sheets written to %s; next: padturn carry %s NEWDAY\n", out, day)
	return nil
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
