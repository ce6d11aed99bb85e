// Package model holds the words and the arithmetic of a load pad: quantities
// and units, the records of a day, the problem they make, the loads a run of
// jobs is filled as, and the plan that comes out. It reads no files, knows no
// clock and searches nothing.
//
// # Glossary
//
// One word, one meaning, here and in every file a user sees.
//
//   - pad: the place where sprayers are filled.
//   - bay: one fill position, with its own manifold and its own crew.
//   - manifold: the pipe that carrier and metered products run through.
//   - connection: a place on a bay's manifold where a tote or a bulk line is
//     hooked up; plumbed means permanently so.
//   - metered: drawn through a connection and a meter.
//   - hopper: the induction hopper (ISO 21278-2) where jugs and bags go in.
//   - carrier: water or a liquid fertilizer.
//   - job: what was asked: a field, a mix and acres.
//   - run: jobs next to each other on one sprayer, filled as one.
//   - load: one tankful for one sprayer, a part of a run.
//   - turn: one round of a sprayer: fill, drive, spray, come back.
//   - rinse: cleaning of a manifold between loads.
//   - changeover: taking one product off a connection and putting another, or
//     a fresh tote of the same, on; also filling an empty connection.
//   - cleanout: cleaning of a sprayer's own tank and boom.
//   - hold: a span in which there is no spraying.
//   - rinsate: water that came out of a rinse or cleanout.
//   - set-up: the rinse and the changeovers a bay does before a load.
//   - paid wait: the time a sprayer stands at the pad that a better order could
//     save; held is the time that the opening hour and the holds cost anyway.
//
// # Quantities
//
// Every number of the input is a [Decimal], a count of billionths, so that it
// is kept exactly; times are whole seconds; money is whole 1/3600 micro-dollars
// (one micro-dollar an hour, for one second). What is derived from them
// exactly, such as the equal parts of a run, is worked out with math/big and
// rounded once.
package model
