package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"padturn/io/dayfiles"
	"padturn/io/terminal"
	"padturn/model"
)

func newCheck() *cobra.Command {
	return &cobra.Command{
		Use:   "check DAY",
		Short: "find every mistake in a day, without planning it",
		Long: "Read a day folder, or a day's workbook (.xlsx), and list all that is wrong with\n" +
			"it at once, with file or sheet, line, column and value. Where nothing is, say\n" +
			"what the day holds. Nothing is planned or written.",
		Example: "  padturn check examples/small\n" +
			"  padturn check monday && padturn plan monday",
		Args:              oneArgument("DAY", dayMeaning),
		ValidArgsFunction: days,
		RunE: func(cmd *cobra.Command, args []string) error {
			day, err := readDay(cmd.ErrOrStderr(), args[0])
			if err != nil {
				return err
			}
			return terminal.Labelled(cmd.OutOrStdout(), args[0]+" is in order; it holds:", held(day), width(cmd.OutOrStdout()))
		},
	}
}

// held says what a sound day holds.
func held(day *dayfiles.Day) [][2]string {
	p := day.Problem
	return [][2]string{
		{"jobs", fmt.Sprintf("%d, %s ac%s", len(p.Jobs), acresOf(p.Jobs), anySprayer(p.Jobs))},
		{"mixes", listed(p.Mixes, func(m model.Mix) string { return m.Name })},
		{"sprayers", listed(p.Sprayers, func(s model.Sprayer) string { return s.Name })},
		{"bays", listed(p.Bays, func(b model.Bay) string { return b.Name })},
		{"products", fmt.Sprint(len(p.Products))},
		{"deliveries", fmt.Sprint(len(day.Input.Deliveries))},
		{"rules", fmt.Sprint(len(day.Input.Rules))},
		{"holds", fmt.Sprintf("%d, with those of the forecast", len(p.Holds))},
		{"pad", fmt.Sprintf("%s to %s", p.Settings.Pad.Opens.HHMM(), p.Settings.Pad.Closes.HHMM())},
		{"spraying", fmt.Sprintf("%s to %s", p.Settings.SprayFrom.HHMM(), p.Settings.SprayUntil.HHMM())},
	}
}

func acresOf(jobs []model.Job) model.Decimal {
	var sum model.Decimal
	for _, j := range jobs {
		sum += j.Acres
	}
	return sum
}

func anySprayer(jobs []model.Job) string {
	n := 0
	for _, j := range jobs {
		if j.Sprayer == model.None {
			n++
		}
	}
	if n == 0 {
		return ""
	}
	return fmt.Sprintf(", %d for any sprayer", n)
}

// listed counts things and names them.
func listed[T any](things []T, name func(T) string) string {
	names := make([]string, len(things))
	for i, t := range things {
		names[i] = name(t)
	}
	return fmt.Sprintf("%d: %s", len(names), strings.Join(names, ", "))
}
