package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
)

// helpTemplate puts the examples first: they are what most people look for.
const helpTemplate = `{{with or .Long .Short}}{{. | trimTrailingWhitespaces}}

{{end}}{{if .HasExample}}Examples:
{{.Example}}

{{end}}Usage:
  {{if .HasAvailableSubCommands}}{{.CommandPath}} COMMAND{{else}}{{.UseLine}}{{end}}
{{range meanings .UseLine}}  {{.}}
{{end}}{{if .HasAvailableSubCommands}}{{$all := .Commands}}{{range $group := .Groups}}
{{.Title}}{{range $all}}{{if and .IsAvailableCommand (eq .GroupID $group.ID)}}
  {{rpad .Name .NamePadding}} {{.Short}}{{end}}{{end}}
{{end}}
Also:{{range .Commands}}{{if and .IsAvailableCommand (eq .GroupID "")}}
  {{rpad .Name .NamePadding}} {{.Short}}{{end}}{{end}}
{{end}}{{if .HasAvailableLocalFlags}}
Flags:
{{.LocalFlags.FlagUsagesWrapped 80 | trimTrailingWhitespaces}}
{{end}}`

// newRoot returns the program's command with all that it can do.
func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:   "padturn",
		Short: "Plan the day of a load pad.",
		Long: "Padturn plans the day of a load pad: which load is filled when, on which bay and\n" +
			"with what, so that rinses, changeovers and waiting sprayers cost least.\n\n" + exitCodes,
		Example: "  padturn init monday                write a small day to start from\n" +
			"  padturn check monday               find every mistake in it\n" +
			"  padturn plan monday                plan it; the plan goes to monday/plan\n" +
			"  padturn show monday                print the load order\n" +
			"  padturn sheets monday              write the crew's sheets, PDF and HTML\n" +
			"  padturn mark monday Wren-1 filled  report what happened\n" +
			"  padturn hold monday 10:30-13:15    report rain, or a bay that is shut\n" +
			"  padturn status monday              say where the day stands now\n" +
			"  padturn replan monday --at 10:35   plan the rest of the day\n" +
			"  padturn carry monday tuesday       write the next day",
		Version:       buildVersion().line(),
		SilenceErrors: true,
		SilenceUsage:  true,
	}
	root.SetVersionTemplate("{{.Version}}\n")
	root.SetHelpTemplate(helpTemplate)
	root.SetHelpCommand(newHelp())
	addGroup(root, "Before the day:", newInit(), newCheck(), newPlan(), newShow())
	addGroup(root, "For the crew and other systems:", newSheets(), newChart(), newWorkbook(), newExport())
	addGroup(root, "When the day changes:", newMark(), newHold(), newStatus(), newReplan(), newCompare())
	addGroup(root, "At the end of the day:", newClose(), newCarry())
	root.AddCommand(newVersion(), newMan())
	root.InitDefaultCompletionCmd()
	if completion, _, err := root.Find([]string{"completion"}); err == nil {
		completion.Short = "write a script with which a shell completes commands"
		completion.Long = "Write a script with which a shell completes commands and folders when\n" +
			"you press the tab key. Help on each shell says how to load it."
		completion.Example = "  padturn completion bash > padturn.bash && . ./padturn.bash\n" +
			"  padturn help completion zsh"
	}
	return root
}

// Commands are listed in the order of use, not of the alphabet.
func init() {
	cobra.EnableCommandSorting = false
	cobra.AddTemplateFunc("meanings", meanings)
}

// meanings says what DAY and PLAN are, where a command takes them.
func meanings(use string) []string {
	var list []string
	for _, a := range [][2]string{{"DAY", dayMeaning}, {"PLAN", planMeaning}} {
		if slices.Contains(strings.Fields(use), a[0]) {
			list = append(list, a[0]+": "+a[1])
		}
	}
	return list
}

// addGroup adds commands that help lists under a title.
func addGroup(root *cobra.Command, title string, commands ...*cobra.Command) {
	root.AddGroup(&cobra.Group{ID: title, Title: title})
	for _, c := range commands {
		c.GroupID = title
		root.AddCommand(c)
	}
}

// newHelp is cobra's help command, but for one thing: help on a command that
// does not exist is an error.
func newHelp() *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND]",
		Short: "say how a command is used",
		RunE: func(cmd *cobra.Command, args []string) error {
			about, rest, err := cmd.Root().Find(args)
			if err == nil && len(rest) > 0 {
				err = fmt.Errorf("there is no command %q below %s", rest[0], about.CommandPath())
			}
			if err != nil {
				return err
			}
			about.InitDefaultHelpFlag()
			return about.Help()
		},
	}
}

// oneArgument makes sure that a command has its one argument, and says what it
// is where it has not.
func oneArgument(name, meaning string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		switch {
		case len(args) == 0:
			return fmt.Errorf("%s is missing: %s", name, meaning)
		case len(args) > 1:
			return fmt.Errorf("%q is one argument too many: expected only %s, %s", args[1], name, meaning)
		}
		return nil
	}
}

// dayMeaning says what the argument DAY is.
const dayMeaning = "the folder of the day, or its workbook (.xlsx)"

// days completes an argument by folders and workbooks.
func days(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return []string{"xlsx"}, cobra.ShellCompDirectiveFilterFileExt
}

// planMeaning says what the argument PLAN is.
const planMeaning = "the folder of a plan, its plan.json, or the day it was made for"

// plans completes an argument by folders and plan.json.
func plans(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return []string{"json"}, cobra.ShellCompDirectiveFilterFileExt
}

// folders completes an argument by the folders there are.
func folders(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return nil, cobra.ShellCompDirectiveFilterDirs
}
