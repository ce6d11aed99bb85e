// Package standing works out where a day stands at a moment: from the day as
// its files have it, the plan that the crew was told, and the facts that were
// reported since. What nobody reported is presumed to have gone as planned, one
// thing after the other, and said to be presumed.
//
// In: [At], which gives a [Standing]; what is left of the day as a
// [model.Input] with Underway ([Standing.Rest]); which told loads fall in doubt
// ([Standing.Doubts]), which tanks need a decision ([Standing.Stranded]) and
// which fields rain may have washed ([Standing.Washed]).
//
// Not in: reading or keeping facts (io/journal), planning the rest (planner),
// judging a plan (io/audit). It reads no files and knows no clock.
//
// # How facts are read
//
//   - A load has begun when a fact says that it is filling or beyond, or when
//     nothing is reported of it and its planned start lies before the moment.
//     A delay that is reported delays what is presumed after it on the same
//     sprayer and bay, by the planned lengths of each step.
//   - Where nothing was reported that the plan does not know of, and the files of the
//     day are as they were, all goes as the plan has it: its loads that had begun have
//     the times that were made of the reports then.
//   - A load was filled when that was first reported. A later report that it is
//     filled adds what was drawn, and moves nothing.
//   - A load reported as waiting has not begun, until something else is
//     reported of it.
//   - A load dropped without having been reported as begun was never filled. A
//     load dropped later leaves the acres in its tank to be sprayed anew; what
//     was in the tank is gone from the stock.
//   - Stock falls at the start of a filling by what was planned, or by what was
//     really drawn where that is reported. A count says what is at the pad at its
//     moment, what hangs on the connections counted in; a filling that began
//     earlier is counted as drawn. What is drawn beyond what is reckoned to be there was
//     there: stock is never below nothing.
//   - What happened after the moment is left alone. Holds, jobs and late
//     deliveries count whenever they were reported: they are about what is to come.
//   - A hold that is reported stops spraying while it lasts, as in a plan; so
//     does a sprayer's being out.
package standing
