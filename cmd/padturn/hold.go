package main

import (
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"padturn/io/journal"
	"padturn/model"
	"padturn/model/standing"
)

func newHold() *cobra.Command {
	var f markFlags
	var scope, reason, kind string
	cmd := &cobra.Command{
		Use:   "hold DAY FROM-TO",
		Short: "report that nothing may be sprayed, or a bay is shut, for a while",
		Long: "Report a hold that was not known in the morning: rain, wind, an inversion, or a\n" +
			"bay that is shut. It is a line of the day's journal, and undone as any other:\n" +
			"padturn mark DAY undo N. Fields sprayed shortly before rain are then listed by\n" +
			"padturn status.",
		Example: "  padturn hold monday 10:30-13:15 --kind rain\n" +
			"  padturn hold monday 10:30-11:00 --scope field:Ridge --reason \"bee yard\"\n" +
			"  padturn hold monday 14:00-15:00 --scope \"bay:bay 2\" --reason \"meter\"",
		Args: func(_ *cobra.Command, args []string) error {
			if err := needsDay(nil, args); err != nil {
				return err
			}
			return words(args[1:], "hold", "FROM-TO, such as 10:30-13:15,")
		},
		ValidArgsFunction: days,
		RunE: func(cmd *cobra.Command, args []string) error {
			m := marking{dir: args[0], flags: &f, now: time.Now(), stdout: cmd.OutOrStdout(), stderr: cmd.ErrOrStderr()}
			hold := model.HoldRow{Kind: kind, Scope: scope, Reason: reason}
			var err error
			if hold.From, hold.To, err = parseSpan(args[1]); err != nil {
				return err
			}
			if err := checkWords("--reason", reason); err != nil {
				return err
			}
			return m.hold(hold)
		},
	}
	cmd.Flags().StringVar(&f.at, "at", "", "`time` it was known, HH:MM (default: now, if DAY is dated today)")
	cmd.Flags().StringVar(&kind, "kind", "", "`kind` of hold: rain, wind, inversion or other")
	cmd.Flags().StringVar(&scope, "scope", "", "`what` it holds: sprayer:NAME, field:NAME, product:NAME, @group or bay:NAME\n(default: everything)")
	cmd.Flags().StringVar(&reason, "reason", "", "`words` for people")
	return cmd
}

// parseSpan reads FROM-TO.
func parseSpan(text string) (from, to model.Clock, err error) {
	first, second, found := strings.Cut(text, "-")
	if !found {
		return 0, 0, fmt.Errorf("hold %q: expected FROM-TO, such as 10:30-13:15", text)
	}
	if from, err = model.ParseHHMM(first); err != nil {
		return 0, 0, fmt.Errorf("hold from %q: %w", first, err)
	}
	if to, err = model.ParseHHMM(second); err != nil {
		return 0, 0, fmt.Errorf("hold to %q: %w", second, err)
	}
	return from, to, nil
}

func (m marking) hold(hold model.HoldRow) error {
	begun, err := readBegun(m.stderr, m.dir)
	if err != nil {
		return err
	}
	at, err := moment(m.flags.at, begun.day.Input.Settings.Date, m.now)
	if err != nil {
		return err
	}
	note := journal.Note{At: at, News: standing.HoldMark{Hold: hold}}
	return m.write(begun, func(*journal.Journal) ([]journal.Note, error) { return []journal.Note{note}, nil })
}
