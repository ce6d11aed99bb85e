package main

import (
	"os"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
)

// newMan is for packagers, so it is hidden. SOURCE_DATE_EPOCH, where set, is
// the date of the pages.
func newMan() *cobra.Command {
	return &cobra.Command{
		Use:     "man DIR",
		Short:   "write manual pages into a folder",
		Example: "  padturn man share/man/man1",
		Hidden:  true,
		Args:    oneArgument("DIR", "the folder for the pages"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := os.MkdirAll(args[0], 0o755); err != nil {
				return wrongInput("%v", err)
			}
			root := cmd.Root()
			root.DisableAutoGenTag = true
			if completion, _, err := root.Find([]string{"completion"}); err == nil {
				root.RemoveCommand(completion) // its help is all there is to say
			}
			if err := doc.GenManTree(root, &doc.GenManHeader{Section: "1", Source: "padturn"}, args[0]); err != nil {
				return wrongInput("manual pages cannot be written: %v", err)
			}
			return nil
		},
	}
}
