package main

import (
	"errors"
	"fmt"
	"io"
	"strings"
)

// The exit codes. Scripts rely on them: a code never changes its meaning.
const (
	exitPlanned     = 0   // all planned
	exitWorkLeft    = 1   // a plan, but it leaves work undone, or a tank to decide about
	exitInput       = 2   // the input is wrong, or the command line is
	exitBreach      = 3   // our own checker found a breach; nothing was written
	exitInterrupted = 130 // interrupted before there was any plan
)

const exitCodes = `Exit codes: 0 all planned; 1 a plan was written, but it leaves work undone or a
filled tank to decide about; 2 wrong input or usage, nothing written; 3 the
program's own checker found a breach in the plan, nothing written; 130
interrupted before there was a plan.`

// outcome is an error that ends the program with a code. Its text, which may be
// empty, is printed as it is: it speaks of the day and not of the command line.
type outcome struct {
	code int
	text string
}

func (o *outcome) Error() string { return o.text }

// wrongInput is the outcome of input that cannot be used.
func wrongInput(format string, args ...any) error {
	return &outcome{exitInput, fmt.Sprintf(format, args...)}
}

// report prints what a command came to and returns the exit code. An error that
// is no outcome is one of usage, and help is near.
func report(stderr io.Writer, command string, err error) int {
	var o *outcome
	switch {
	case err == nil:
		return exitPlanned
	case errors.As(err, &o):
		if o.text != "" {
			fmt.Fprintln(stderr, o.text)
		}
		return o.code
	}
	if flags, ok := strings.CutPrefix(err.Error(), "required flag(s) "); ok { // the words of cobra
		err = fmt.Errorf("--%s is missing", strings.ReplaceAll(strings.Trim(strings.TrimSuffix(flags, " not set"), `"`), `", "`, ", --"))
	}
	fmt.Fprintf(stderr, "padturn: %v\nsee %s --help\n", err, command)
	return exitInput
}
