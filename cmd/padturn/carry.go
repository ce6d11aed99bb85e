package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"

	"github.com/spf13/cobra"

	"padturn/io/dayfiles"
	"padturn/io/journal"
	"padturn/io/terminal"
	"padturn/io/tomorrow"
	"padturn/io/whole"
	"padturn/io/workbook"
	"padturn/model"
	"padturn/model/standing"
)

func newCarry() *cobra.Command {
	var at string
	cmd := &cobra.Command{
		Use:   "carry DAY NEWDAY",
		Short: "write the next day: jobs left, stock, last mixes",
		Long: "Write the next day from where a day ends: the jobs with the acres that are left,\n" +
			"the more important first, the closing stock, what is on the connections, and the\n" +
			"last mixes of manifolds and sprayers. Without --at the day ends when all that\n" +
			"was told and can still be done is done; with it, what has not begun by then is\n" +
			"carried. NEWDAY must not exist yet; the day itself is not changed. Where its\n" +
			"name ends in .xlsx it is a workbook, without the sheets and columns that are\n" +
			"your own; the next day of a workbook is always one.",
		Example: "  padturn carry monday tuesday\n" +
			"  padturn carry monday.xlsx tuesday.xlsx\n" +
			"  padturn carry monday tuesday --at 16:30 && padturn check tuesday",
		Args: func(_ *cobra.Command, args []string) error {
			return words(args, "carry", "DAY", "NEWDAY, the folder or workbook to make,")
		},
		ValidArgsFunction: days,
		RunE: func(cmd *cobra.Command, args []string) error {
			if isWorkbook(args[0]) && !workbookName(args[1]) {
				return wrongInput("%s is a workbook, and so is its next day: give %s a name that ends in .xlsx", args[0], args[1])
			}
			s, err := readEnded(cmd.ErrOrStderr(), args[0], at)
			if err != nil {
				return err
			}
			return carry(cmd.OutOrStdout(), cmd.ErrOrStderr(), args[0], args[1], s)
		},
	}
	cmd.Flags().StringVar(&at, "at", "", "`time` at which the day ends, HH:MM")
	return cmd
}

// readEnded reads a day and says where it stands at a time, or at its end where
// none is given.
func readEnded(stderr io.Writer, day, at string) (*standing.Standing, error) {
	b, err := readBegun(stderr, day)
	if err != nil {
		return nil, err
	}
	j, err := journal.Read(journalOf(b.dir))
	if err != nil {
		return nil, wrongInput("%v", err)
	}
	facts := b.facts(j)
	if at == "" {
		s, err := standing.AtEnd(b.day.Input, b.told, facts)
		if err != nil {
			return nil, wrongInput("%v", err)
		}
		return s, nil
	}
	end, err := model.ParseHHMM(at)
	if err != nil {
		return nil, fmt.Errorf("--at %q: %w", at, err)
	}
	s, err := b.standsAt(facts, end)
	if err != nil {
		return nil, wrongInput("%v", err)
	}
	return s, nil
}

func carry(stdout, stderr io.Writer, dir, newDir string, s *standing.Standing) error {
	next, notes, err := tomorrow.Of(s)
	if err != nil {
		return wrongInput("%s cannot be carried: %v; nothing was written", dir, err)
	}
	if workbookName(newDir) {
		err = newWorkbookDay(newDir, next)
	} else {
		err = newFolderDay(dir, newDir, next)
	}
	if err != nil {
		return err
	}
	if err := terminal.Carry(stdout, newDir, s, notes, width(stdout)); err != nil {
		return wrongInput("%s is written, but what to know of it cannot be printed: %v", newDir, err)
	}
	if len(next.Jobs) == 0 {
		fmt.Fprintf(stderr, "nothing is left to spray; next: give %s its jobs, then padturn check %s\n", newDir, newDir)
		return nil
	}
	fmt.Fprintf(stderr, "next: padturn check %s\n", newDir)
	return nil
}

// newFolderDay writes a day into a folder of its own, after that of another.
func newFolderDay(dir, newDir string, next model.Input) error {
	files, err := tomorrow.Files(dir, next)
	if err != nil {
		return wrongInput("%s cannot be carried: %v; nothing was written", dir, err)
	}
	err = whole.NewFolder(newDir, files, func(dir string) error {
		_, err := dayfiles.Read(dir)
		return inOrder(err)
	})
	if err != nil {
		return wrongInput("%s cannot be written: %v", newDir, err)
	}
	return nil
}

// newWorkbookDay writes a day as a workbook that is not there yet.
func newWorkbookDay(path string, day model.Input) error {
	if exists(path) {
		return wrongInput("%s is there already; nothing was written", path)
	}
	data, err := workbook.Day(day)
	if err != nil {
		return err
	}
	if _, err = workbook.ReadBytes(filepath.Base(path), data); inOrder(err) != nil {
		return wrongInput("%s cannot be written: %v", path, inOrder(err))
	}
	return writeWhole(path, data)
}

// inOrder passes on what is wrong with a day that was read back, but for one
// thing: it may have no jobs yet.
func inOrder(err error) error {
	var problems *dayfiles.Problems
	if !errors.As(err, &problems) {
		return err
	}
	if len(problems.Errors) == 1 && problems.Errors[0].Want == model.NeedsJob {
		return nil
	}
	return fmt.Errorf("it would be no day in order:\n%w", err)
}
