package main

import (
	"encoding/json"
	"fmt"
	"runtime/debug"

	"github.com/spf13/cobra"

	"padturn/io/planfile"
)

// version is set when a release is linked: -ldflags "-X main.version=v1.2.3".
var version string

// build says what this program was made from.
type build struct {
	Version  string `json:"version"`
	Commit   string `json:"commit,omitempty"`
	Time     string `json:"time,omitempty"` // of the commit, RFC 3339
	Modified bool   `json:"modified"`       // built with changes that are in no commit
	Go       string `json:"go,omitempty"`
	Plan     string `json:"plan_schema"`
}

// buildVersion asks the linker first, then what Go noted when it built.
func buildVersion() build {
	b := build{Version: version, Plan: planfile.Schema}
	info, ok := debug.ReadBuildInfo()
	if ok {
		b.Go = info.GoVersion
		for _, s := range info.Settings {
			switch s.Key {
			case "vcs.revision":
				b.Commit = s.Value
			case "vcs.time":
				b.Time = s.Value
			case "vcs.modified":
				b.Modified = s.Value == "true"
			}
		}
		if b.Version == "" {
			b.Version = info.Main.Version
		}
	}
	if b.Version == "" {
		b.Version = "(devel)"
	}
	return b
}

func (b build) line() string { return "padturn " + b.Version }

func newVersion() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:     "version",
		Short:   "say which padturn this is",
		Example: "  padturn version\n  padturn version --json",
		Args:    cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			b := buildVersion()
			if asJSON {
				return json.NewEncoder(cmd.OutOrStdout()).Encode(b)
			}
			_, err := fmt.Fprintln(cmd.OutOrStdout(), b.line())
			return err
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "all that is known of the build, as JSON")
	return cmd
}
