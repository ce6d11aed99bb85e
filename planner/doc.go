// Package planner makes plans: it turns decisions about a day into a timed and
// costed plan, and searches for the decisions whose plan is best. It reads no
// files and no clock; randomness comes from a seed.
//
// # Decisions and evaluation
//
// [Decisions] say in which order each sprayer does its jobs and which of them
// share loads, in which order and at which bay loads are filled, and by which
// rule products come off connections. Everything else follows: the evaluator
// plays the day in the order of time (rules R5 to R11 of the contract), and what
// does not fit it drops and says why. [Evaluate] is its door. One candidate
// takes microseconds and no memory, so a search can try hundreds of thousands.
//
// The evaluator (evaluate*.go) knows nothing of how decisions are searched, and
// a search knows the evaluator only as a score, or, where it builds plans load
// by load, as a state that can be saved and restored (snapshot.go).
//
// # Search
//
// [Plan] goes on from first come, first served (baseline.go), in two stages:
//
//  1. Beams (beam.go) build plans load by load, keeping the most promising of
//     those with equally many loads filled. They differ in what a bay's time is
//     held to be worth. After Libralesso et al., "Tree search for the sequential
//     ordering problem" (arXiv 1911.12427), without its bounds. A day too large
//     for its steps goes without.
//  2. Four walkers improve them by simulated annealing (walk.go, moves.go). They
//     go their own ways from their own seeds for a quarter of their steps, meet,
//     and go on from the best. From time to time each is kicked: it changes jobs,
//     whatever that costs, and goes back if its next steps make nothing of it.
//
// The number of beams and walkers is fixed, so that the plan is the same on any
// number of cores. What comes off a connection is decided by a rule, not one by
// one, and products of one class go in in the order of the recipe. The rule is,
// but where another makes a better plan, Tang and Denardo's
// ("A job grouping/tool switching model", Operations Research 36, 1988): the one
// wanted furthest ahead goes first, which needs the fewest changeovers for a
// given order of loads.
//
// # Bound
//
// lowerBound (bound.go) adds up what every plan that sprays all must pay.
package planner
