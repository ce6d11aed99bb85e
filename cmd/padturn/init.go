package main

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"padturn/io/dayfiles"
)

//go:embed starter
var starterFiles embed.FS

func newInit() *cobra.Command {
	var asWorkbook bool
	cmd := &cobra.Command{
		Use:   "init DIR",
		Short: "write a small day to start from",
		Long: "Write a small day that can be planned as it is, with comments on what is what.\n" +
			"Put your own pad, products and jobs in its place. With --xlsx it is one workbook\n" +
			"instead of a folder. A folder that holds anything is left alone, and so is a\n" +
			"file that is there.",
		Example: "  padturn init monday\n  padturn plan monday\n" +
			"  padturn init --xlsx monday.xlsx\n  padturn plan monday.xlsx",
		Args:              oneArgument("DIR", "the folder for the new day, or with --xlsx its file"),
		ValidArgsFunction: folders,
		RunE: func(cmd *cobra.Command, args []string) error {
			write, help := writeStarter, "README.md there"
			if asWorkbook {
				write, help = writeStarterWorkbook, "sheet readme"
			}
			if err := write(args[0]); err != nil {
				return err
			}
			_, err := fmt.Fprintf(cmd.ErrOrStderr(), "a day to start from is in %s; %s says what is what\nnext: padturn plan %s\n", args[0], help, args[0])
			return err
		},
	}
	cmd.Flags().BoolVar(&asWorkbook, "xlsx", false, "write a workbook with a sheet for each table")
	return cmd
}

// writeStarterWorkbook writes the starter day as a workbook that is not there
// yet.
func writeStarterWorkbook(path string) error {
	if !workbookName(path) {
		return wrongInput("%s: the name of a workbook ends in .xlsx; nothing was written", path)
	}
	starter, err := fs.Sub(starterFiles, "starter")
	if err != nil {
		return err
	}
	day, err := dayfiles.ReadFS(starter, "starter")
	if err != nil {
		return err
	}
	return newWorkbookDay(path, day.Input)
}

// writeStarter puts the starter day into a folder that is empty or not there.
func writeStarter(dir string) error {
	entries, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return wrongInput("cannot write %s: %v", dir, err)
	case len(entries) > 0:
		return wrongInput("%s is not empty (it holds %s); nothing was written", dir, entries[0].Name())
	}
	starter, err := fs.Sub(starterFiles, "starter")
	if err != nil {
		return err
	}
	if err := os.CopyFS(dir, starter); err != nil {
		return wrongInput("cannot write %s: %v", dir, err)
	}
	return nil
}
