package main

import (
	"errors"
	"fmt"
	"io"

	"padturn/io/dayfiles"
	"padturn/io/table"
)

// readDay reads a day folder. It prints the warnings and, where there are
// mistakes, all of them; then its error is an [outcome].
func readDay(stderr io.Writer, dir string) (*dayfiles.Day, error) {
	day, err := dayfiles.Read(dir)
	var problems *dayfiles.Problems
	switch {
	case err == nil:
		printWarnings(stderr, day.Warnings)
		return day, nil
	case errors.As(err, &problems):
		printWarnings(stderr, problems.Warnings)
		fmt.Fprintln(stderr, problems)
		return nil, wrongInput("%s in %s; nothing was planned", count(len(problems.Errors), "mistake"), dir)
	}
	return nil, wrongInput("%v", err)
}

func printWarnings(stderr io.Writer, warnings []table.Fault) {
	for _, w := range warnings {
		fmt.Fprintf(stderr, "warning: %s\n", w)
	}
}

// count puts a number before a word, in the singular where it is one.
func count(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}
