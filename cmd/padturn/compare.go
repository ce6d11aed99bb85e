package main

import (
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
			"part, and the loads that are not the same. A start that shifts by five minutes\n" +
			"or less is left out, unless a crew that keeps to the first plan would go wrong.\n" +
			"A replan keeps the plan before it, as DAY/plan-0, DAY/plan-1 and so on.",
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
	fields := changes.FieldsOf(a, b)
	for _, c := range changes.Between(a, b, nil) {
		m := terminal.Move{What: c.What, Was: "-", Is: "-"}
		if c.Was != nil {
			m.Was = filledAt(c.Was, c.Is, fields)
		}
		if c.Is != nil {
			m.Is = filledAt(c.Is, c.Was, fields)
		}
		if why := aside(&c); why != "" {
			m.Is += ", " + why
		}
		moves = append(moves, m)
	}
	return moves
}

// filledAt is what a load is called, when and where it is filled, and what of it the
// other plan has otherwise.
func filledAt(l, other *planfile.Load, fields changes.Fields) string {
	parts := []string{l.Load, model.Clock(l.Start).HHMM() + " " + l.Bay}
	if other == nil || other.Mix != l.Mix {
		parts = append(parts, l.Mix)
	}
	if other == nil || fields.Of(other) != fields.Of(l) {
		parts = append(parts, "for "+fields.Of(l))
	}
	if other == nil || other.Acres.Fixed(1) != l.Acres.Fixed(1) {
		parts = append(parts, l.Acres.Fixed(1)+" ac")
	}
	return strings.Join(parts, ", ")
}

// aside says of a change what the two times and places do not show.
func aside(c *changes.Change) string {
	switch {
	case c.What == changes.Reordered:
		return "its products in another order"
	case c.OutOfOrder:
		return "behind another load"
	}
	return c.Why
}
