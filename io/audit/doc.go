// Package audit is the independent checker: it reads the files of a plan as a
// stranger would, together with the day's records, and judges them by the rules
// R1 to R11 and the cost of a plan. It lists every breach with the rule, the
// place, the value seen and the value expected.
//
// With the evaluator that times and costs plans it shares the vocabulary and
// nothing else: the records of a day ([model.Input]), exact decimals and clock
// moments, the table of units with its conversions, and the tables of
// formulations and adding orders. Loads, amounts, filling times, rules,
// connections, drives, spraying, stock, water and costs are worked out here a
// second time, with math/big where exactness matters, so that a mistake has to
// be made twice to go unseen. Clarity goes before speed.
//
// Not in here: the check of the day itself (names that are looked up in vain
// are left out of the reckoning), the baseline of R12 and whether a better plan
// exists. Of plan.json only the main figures are compared; all else is taken
// from the CSV files.
//
// How it reads what the rules leave open:
//
//   - A container is off a bay when the changeover that takes it off is done,
//     and, inside a load, when that load is filled. It counts as opened from
//     the first draw.
//   - Up to a millionth of the stock unit left in a container is nothing left.
//   - Starting later than necessary is a breach unless starting earlier would
//     have left a load in between without stock or water.
//   - Loads of a run may be missing where acres of it are listed as left. Which
//     jobs a run has, a load's own row says.
//   - A sprayer waits from when it would have been clean, had nothing kept its
//     cleanout: waiting for the cleanout's water, or on a day that has begun for
//     the moment, is paid like waiting for a bay.
//   - Water refills from the moment that water.csv gives the opening.
package audit
