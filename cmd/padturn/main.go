// Command padturn plans the day of a load pad: it reads a day folder and gives
// the crew a load order, with amounts, connections, sprayer turns, projected
// stock and what it all costs.
//
// In: the command line, one file per command; flags and environment become
// settings here and nowhere else; what goes to which stream, and with which
// exit code the program ends.
//
// Not in: reading a day (io/dayfiles), searching (planner), writing a plan
// (io/planfile), printing it (io/terminal) and judging it (io/audit).
package main

import (
	"context"
	"io"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	// The first signal asks for the best plan so far. From then on signals do
	// what they always do, so that a second one ends the program.
	context.AfterFunc(ctx, stop)
	os.Exit(run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// run runs the program with the arguments that follow its name and returns its
// exit code. When ctx ends, a search under way answers with its best plan.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	root := newRoot()
	root.SetArgs(append([]string{}, args...)) // never nil: cobra would take the process's own
	root.SetIn(stdin)
	root.SetOut(stdout)
	root.SetErr(stderr)
	command, err := root.ExecuteContextC(ctx)
	return report(stderr, command.CommandPath(), err)
}
