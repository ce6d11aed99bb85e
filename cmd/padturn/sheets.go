package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"padturn/io/handout"
	"padturn/io/pdf"
	"padturn/io/webpage"
	"padturn/io/whole"
	"padturn/model"
)

// The files of the crew's sheets.
const (
	sheetsPDF  = "sheets.pdf"
	sheetsHTML = "sheets.html"
)

func newSheets() *cobra.Command {
	var out, paper, format string
	cmd := &cobra.Command{
		Use:   "sheets PLAN",
		Short: "print the crew's sheets: load orders, load sheets, staging, stock",
		Long: "Write what the pad crew holds in its hands: the load order of every bay, a sheet\n" +
			"for every load, what to bring out and connect hour by hour, and the stock. They\n" +
			"go into the plan's folder as sheets.pdf, for a printer, and sheets.html, for a\n" +
			"phone or a screen. Both say the same.",
		Example: "  padturn sheets monday\n" +
			"  padturn sheets monday/plan --paper a4 --format pdf\n" +
			"  padturn sheets examples/small/plan -o clipboard",
		Args:              oneArgument("PLAN", planMeaning),
		ValidArgsFunction: plans,
		RunE: func(cmd *cobra.Command, args []string) error {
			formats, err := sheetFormats(format)
			if err != nil {
				return err
			}
			if !slices.Contains(pdf.Papers(), pdf.Paper(paper)) {
				return fmt.Errorf("there is no paper %q; expected letter or a4", paper)
			}
			return writeSheets(cmd, planOf(args[0]), out, pdf.Paper(paper), formats)
		},
	}
	cmd.Flags().StringVarP(&out, "out", "o", "", "`folder` to write to; default: the plan's")
	cmd.Flags().StringVar(&paper, "paper", string(pdf.Letter), "`size` of the PDF's paper: letter or a4")
	cmd.Flags().StringVar(&format, "format", "pdf,html", "`list` of what to write: pdf, html or both")
	return cmd
}

// sheetFormats reads the list of formats.
func sheetFormats(list string) (formats []string, err error) {
	for name := range strings.SplitSeq(list, ",") {
		name = strings.TrimSpace(name)
		if name != "pdf" && name != "html" {
			return nil, fmt.Errorf("there is no format %q; expected pdf, html or pdf,html", name)
		}
		formats = append(formats, name)
	}
	return formats, nil
}

func writeSheets(cmd *cobra.Command, plan, out string, paper pdf.Paper, formats []string) error {
	doc, err := readPlan(plan)
	if err != nil {
		return err
	}
	if out == "" {
		out = folderOf(plan)
	}
	day, err := handout.Of(doc)
	if err != nil {
		return wrongInput("%s cannot be printed: %v", plan, err)
	}
	files := map[string][]byte{}
	if slices.Contains(formats, "pdf") {
		data, missing, err := pdf.Print(day, paper)
		if err != nil {
			return wrongInput("%s cannot be printed: %v", plan, err)
		}
		files[sheetsPDF] = data
		tellMissing(cmd, missing)
	}
	if slices.Contains(formats, "html") {
		if files[sheetsHTML], err = webpage.Print(day); err != nil {
			return wrongInput("%s cannot be printed: %v", plan, err)
		}
	}
	if err := whole.Files(out, files); err != nil {
		return wrongInput("%v", err)
	}
	for _, name := range []string{sheetsPDF, sheetsHTML} {
		if files[name] != nil {
			fmt.Fprintln(cmd.OutOrStdout(), filepath.Join(out, name))
		}
	}
	fmt.Fprintf(cmd.ErrOrStderr(), "sheets of %s, revision %s\n", model.Count(len(day.ToFill()), "load"), day.Revision)
	return nil
}

// tellMissing says which characters the PDF shows a question mark for.
func tellMissing(cmd *cobra.Command, missing []rune) {
	if len(missing) == 0 {
		return
	}
	fmt.Fprintf(cmd.ErrOrStderr(), "the PDF's font lacks %q; it shows ? for each, %s shows them\n", string(missing), sheetsHTML)
}
