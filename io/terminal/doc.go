// Package terminal prints for a person at a terminal: the summary that follows
// planning, the whole plan as tables, two plans side by side, where a day stands,
// what a replan changes, and what a day's end comes to. It takes a
// [planfile.Document], so that a plan just made and a plan read from its folder
// look the same, and a [standing.Standing].
//
// It writes plain text: no colour codes, no cursor movement, nothing that a
// pipe, a printer or NO_COLOR would mind. No line is wider than asked; long
// names are clipped with an ellipsis. It reads no files and asks nothing about
// the terminal: who calls it says how wide it is.
package terminal
