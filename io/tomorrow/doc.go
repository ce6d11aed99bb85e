// Package tomorrow makes the next day's folder of a day that ends: the jobs with
// the acres that are left, the stock that is there, what is on the connections,
// and the last mixes of manifolds and sprayers.
//
// In: the files' bytes ([Files]) and what a person must know of them. Not in:
// where the day stands (model/standing), and writing them (io/whole).
package tomorrow
