package main

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"github.com/spf13/cobra"
)

//go:embed starter
var starterFiles embed.FS

func newInit() *cobra.Command {
	return &cobra.Command{
		Use:   "init DIR",
		Short: "write a small day to start from",
		Long: "Write a small day that can be planned as it is, with comments on what is what.\n" +
			"Put your own pad, products and jobs in its place. A folder that holds anything\n" +
			"is left alone.",
		Example:           "  padturn init monday\n  padturn plan monday",
		Args:              oneArgument("DIR", "the folder for the new day"),
		ValidArgsFunction: folders,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := writeStarter(args[0]); err != nil {
				return err
			}
			_, err := fmt.Fprintf(cmd.ErrOrStderr(), "a day to start from is in %s; README.md there says what is what\nnext: padturn plan %s\n", args[0], args[0])
			return err
		},
	}
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
