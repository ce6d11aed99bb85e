// Package handout is the content of what a pad crew holds in its hands: the
// load order of every bay, a sheet for every load, what to bring out and to
// connect hour by hour, and the stock over the day. It is worked out once,
// from a [planfile.Document], so that paper, screen and workbook say the same.
//
// It decides no layout, opens no file and plans nothing. What it adds to the
// plan is words and rounding: amounts in units that a person can measure, and
// the rule that nothing is lost by it.
//
// # Rounding
//
// A product is printed to one step for the whole day, the coarsest of a fixed
// list (such as 0.1 gal, then 0.01 gal) that is at most a hundredth of its
// smallest dose. Within a job what is rounded off one load is carried on to
// the next, so that the printed amounts of a job's loads add up to the job's
// rounded total exactly.
package handout
