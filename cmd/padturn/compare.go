package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"padturn/io/changes"
	"padturn/io/planfile"
	"padturn/io/terminal"
	"padturn/model"
)

func newCompare() *cobra.Command {
	return &cobra.Command{
		Use:   "compare PLAN PLAN",
		Short: "set two plans side by side: what moved, and cost by its parts",
		Long: "Set two plans of a day side by side: their figures, what each costs part by\n" +
			"part, and the loads that are not the same, a shift of less than five minutes\n" +
			"aside. A replan keeps the plan before it, as DAY/plan-0, DAY/plan-1 and so on.",
		Example: "  padturn compare monday/plan-0 monday/plan\n" +
			"  padturn compare monday monday-b",
		Args: func(_ *cobra.Command, args []string) error {
			return words(args, "compare", "the first PLAN", "the second PLAN")
		},
		ValidArgsFunction: folders,
		RunE: func(cmd *cobra.Command, args []string) error {
			a, err := readPlan(args[0])
			if err != nil {
				return err
			}
			b, err := readPlan(args[1])
			if err != nil {
				return err
			}
			return terminal.Compare(cmd.OutOrStdout(), a, b, movesBetween(a, b), width(cmd.OutOrStdout()))
		},
	}
}

// movesBetween lists the loads that two plans do not have alike.
func movesBetween(a, b *planfile.Document) []terminal.Move {
	var moves []terminal.Move
	for _, c := range changes.Between(a, b, nil) {
		m := terminal.Move{What: c.What, Was: "-", Is: "-"}
		if c.Was != nil {
			m.Load, m.Was = c.Was.Load, filledAt(c.Was, c.Is)
		}
		if c.Is != nil {
			m.Load, m.Is = c.Is.Load, filledAt(c.Is, c.Was)
		}
		moves = append(moves, m)
	}
	return moves
}

// filledAt is when and where a load is filled, and, where the other plan has it
// for another sprayer or mix, for whom and with what.
func filledAt(l, other *planfile.Load) string {
	parts := []string{model.Clock(l.Start).HHMM(), l.Bay}
	if other == nil || other.Sprayer != l.Sprayer {
		parts = append(parts, l.Sprayer)
	}
	if other == nil || other.Mix != l.Mix {
		parts = append(parts, l.Mix)
	}
	if other == nil {
		parts = append(parts, fmt.Sprintf("%s ac of %s", l.Acres.Fixed(1), l.Parts[0].Job))
	}
	return strings.Join(parts, ", ")
}
