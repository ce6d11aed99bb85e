package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"padturn/io/chart"
	"padturn/io/planfile"
)

func newChart() *cobra.Command {
	var out string
	cmd := &cobra.Command{
		Use:   "chart PLAN",
		Short: "draw a plan: bays, sprayers and stock over the day",
		Long: "Draw a plan as a picture: what every bay and every sprayer does over the day,\n" +
			"and the stock of each product below. The name of the file says the form: .svg\n" +
			"prints sharp at any size, .png is for messages. Without -o the SVG goes to\n" +
			"standard output.",
		Example: "  padturn chart monday/plan -o monday.svg\n" +
			"  padturn chart monday/plan -o monday.png",
		Args:              oneArgument("PLAN", planMeaning),
		ValidArgsFunction: folders,
		RunE: func(cmd *cobra.Command, args []string) error {
			draw, err := chartForm(out)
			if err != nil {
				return err
			}
			doc, err := readPlan(args[0])
			if err != nil {
				return err
			}
			data, err := draw(doc)
			if err != nil {
				return wrongInput("the plan cannot be drawn: %v", err)
			}
			return writeOut(cmd.OutOrStdout(), cmd.ErrOrStderr(), out, data)
		},
	}
	cmd.Flags().StringVarP(&out, "out", "o", "", "`file` to write, .svg or .png")
	return cmd
}

// chartForm chooses how a plan is drawn by the name of the file.
func chartForm(out string) (func(*planfile.Document) ([]byte, error), error) {
	switch strings.ToLower(filepath.Ext(out)) {
	case "", ".svg":
		return func(d *planfile.Document) ([]byte, error) { return chart.SVG(d), nil }, nil
	case ".png":
		return func(d *planfile.Document) ([]byte, error) {
			var data bytes.Buffer
			err := chart.PNG(&data, d)
			return data.Bytes(), err
		}, nil
	}
	return nil, fmt.Errorf("-o %s: expected a name that ends in .svg or .png", out)
}
