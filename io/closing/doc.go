// Package closing makes the sheets of a day that is over: what was used against
// what was projected, the containers emptied, what to reorder, and what a record
// of the applications has to hold.
//
// In: the sheets' bytes ([Sheets]). Not in: where the day stands and what was
// used and applied (model/standing), and writing files (io/whole).
package closing
