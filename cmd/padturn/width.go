package main

import (
	"io"
	"os"
	"strconv"

	"golang.org/x/term"

	"padturn/io/terminal"
)

// width is how wide what goes to w may be: as wide as the terminal, else what
// COLUMNS says, else 80.
func width(w io.Writer) int {
	if f := terminalOf(w); f != nil {
		if columns, _, err := term.GetSize(int(f.Fd())); err == nil && columns > 0 {
			return columns
		}
	}
	if columns, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && columns > 0 {
		return columns
	}
	return terminal.DefaultWidth
}

// terminalOf returns w where it is a terminal, else nil.
func terminalOf(w io.Writer) *os.File {
	f, ok := w.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return nil
	}
	return f
}
