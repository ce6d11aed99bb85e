package main

import (
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"padturn/io/workbook"
)

func newWorkbook() *cobra.Command {
	var out string
	cmd := &cobra.Command{
		Use:   "workbook PLAN",
		Short: "write a plan as a workbook (.xlsx)",
		Long: "Write a plan as a workbook: load order, amounts, stock with charts, sprayers and\n" +
			"a summary. Its numbers are those of the plan's CSV files.\n" +
			"An earlier plan's workbook is replaced, any other file is left alone.",
		Example: "  padturn workbook monday                    writes monday/plan/plan.xlsx\n" +
			"  padturn workbook monday.xlsx               writes monday-plan/plan.xlsx\n" +
			"  padturn workbook monday/plan -o board.xlsx",
		Args:              oneArgument("PLAN", planMeaning),
		ValidArgsFunction: days,
		RunE: func(cmd *cobra.Command, args []string) error {
			from := planOf(args[0])
			doc, err := readPlan(from)
			if err != nil {
				return err
			}
			if out == "" {
				out = filepath.Join(folderOf(from), planWorkbook)
			}
			data, err := workbook.Plan(doc)
			if err != nil {
				return wrongInput("%s: %v", from, err)
			}
			if err := checkReplaceable(out); err != nil {
				return err
			}
			return writeOut(cmd.OutOrStdout(), cmd.ErrOrStderr(), out, data)
		},
	}
	cmd.Flags().StringVarP(&out, "out", "o", "", "`file` to write (default plan.xlsx beside plan.json)")
	return cmd
}

// planWorkbook is what a plan's workbook is called unless told otherwise.
const planWorkbook = "plan.xlsx"

// checkReplaceable makes sure that a plan's workbook replaces nothing but
// another: monday.xlsx may be the day itself.
func checkReplaceable(path string) error {
	if _, err := os.Lstat(path); err == nil && !workbook.IsPlan(path) {
		return wrongInput("cannot write %s: it is there and no plan's workbook; choose another name", path)
	}
	return nil
}
