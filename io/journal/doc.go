// Package journal keeps what was reported of a day: facts, one a line, in a
// file beside the day's own. A line is only ever added. What was reported by
// mistake is undone by a further line.
//
// In: reading a journal ([Read]), adding to it ([Append]), and sheet progress as
// facts ([Progress], [ProgressOf]).
//
// Not in: what facts mean and which are refused (model/standing).
//
// # What is promised
//
// When [Append] returns without an error its lines are on the disk, the file's
// folder too. When it returns one, or the program or the machine stops in the
// middle, none or some of the lines are there, each whole or not at all: every
// line ends with a sum over itself and all lines before it, and an unfinished
// last line is no fact; the next Append cuts it off and says so. A line that
// was changed, removed or put between others is found by the sums, and the
// journal is refused from there on: it is never repaired in silence.
//
// Two writers take turns by a lock on a file beside it, which is left there.
package journal
