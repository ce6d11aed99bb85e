// Package tomorrow makes the next day of a day that ends: the jobs with
// the acres that are left, the stock that is there, what is on the connections,
// and the last mixes of manifolds and sprayers.
//
// In: the day ([Of]) with what a person must know of it, and the files of its
// folder ([Files]). Not in: where the day stands (model/standing), a day as a
// workbook (io/workbook), and writing files (io/whole).
package tomorrow
