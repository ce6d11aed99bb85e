package main

import (
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"padturn/io/dayfiles"
	"padturn/io/tomorrow"
	"padturn/io/whole"
	"padturn/model"
	"padturn/model/standing"
)

func newCarry() *cobra.Command {
	var at string
	cmd := &cobra.Command{
		Use:   "carry DAY NEWDAY",
		Short: "write the next day's folder: jobs left, stock, last mixes",
		Long: "Write the next day's folder from where a day ends: the jobs with the acres that\n" +
			"are left, the more important first, the closing stock, what is on the\n" +
			"connections, and the last mixes of manifolds and sprayers. Without --at the day\n" +
			"ends when all that was told and can still be done is done; with it, what has\n" +
			"not begun by then is carried. NEWDAY must not exist yet; the day itself is not\n" +
			"changed.",
		Example: "  padturn carry monday tuesday\n" +
			"  padturn carry monday tuesday --at 16:30 && padturn check tuesday",
		Args: func(_ *cobra.Command, args []string) error {
			return words(args, "carry", "DAY", "NEWDAY, the folder to make,")
		},
		ValidArgsFunction: folders,
		RunE: func(cmd *cobra.Command, args []string) error {
			begun, err := readBegun(cmd.ErrOrStderr(), args[0])
			if err != nil {
				return err
			}
			s, err := begun.endsAt(at)
			if err != nil {
				return err
			}
			return carry(cmd.OutOrStdout(), cmd.ErrOrStderr(), args[0], args[1], s)
		},
	}
	cmd.Flags().StringVar(&at, "at", "", "`time` at which the day ends, HH:MM")
	return cmd
}

// endsAt is where a day stands at a time, or at its end where none is given.
func (b *begunDay) endsAt(at string) (*standing.Standing, error) {
	facts, err := factsOf(b.dir)
	if err != nil {
		return nil, wrongInput("%v", err)
	}
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
	files, notes, err := tomorrow.Files(dir, s)
	if err != nil {
		return wrongInput("%s cannot be carried: %v; nothing was written", dir, err)
	}
	if err := whole.NewFolder(newDir, files, isDay); err != nil {
		return wrongInput("%s cannot be written: %v", newDir, err)
	}
	var acres model.Decimal
	jobs := 0
	for _, j := range s.Jobs {
		if j.ToFill > 0 {
			acres, jobs = acres+j.ToFill, jobs+1
		}
	}
	fmt.Fprintf(stdout, "%s: %s with %s ac left at %s\n", newDir, count(jobs, "job"), acres.Fixed(1), s.At.HHMM())
	for _, l := range s.Loads {
		if l.InTank() {
			notes = append(notes, fmt.Sprintf("load %s has %s ac left in the tank: taken as sprayed today, by %s", l.Told.ID, l.LeftAcres().Fixed(1), l.SprayedOut().HHMM()))
		}
	}
	for _, note := range notes {
		fmt.Fprintf(stdout, "- %s\n", note)
	}
	fmt.Fprintf(stderr, "next: padturn check %s\n", newDir)
	return nil
}

// isDay makes sure that a folder is a day in order; without jobs yet it may be.
func isDay(dir string) error {
	_, err := dayfiles.Read(dir)
	var problems *dayfiles.Problems
	if !errors.As(err, &problems) {
		return err
	}
	if len(problems.Errors) == 1 && problems.Errors[0].Want == "at least one job is needed" {
		return nil
	}
	return fmt.Errorf("it would be no day in order:\n%w", err)
}
