// Package planner makes plans: it turns decisions about a day into a timed and
// costed plan, and searches for the decisions whose plan is best. It reads no
// files and no clock; randomness comes from a seed.
//
// # Decisions and evaluation
//
// [Decisions] say in which order each sprayer does its jobs and which of them
// share loads, in which order and at which bay loads are filled, and by which
// rule products come off connections. Everything else follows: the evaluator
// plays the day in the order of time (rules R5 to R11 of the README), and what
// does not fit it drops and says why. [Evaluate] is its door. One candidate
// takes microseconds and no memory, so a search can try hundreds of thousands.
//
// The evaluator (evaluate*.go) knows nothing of how decisions are searched, and
// a search knows the evaluator only as a score, or, where it builds plans load
// by load, as a state that can be saved and restored (snapshot.go).
//
// # Search
//
// [Plan] goes on from first come, first served (baseline.go):
//
//  1. Beams (beam.go) build plans load by load, keeping the most promising of
//     those with equally many loads filled. Some serve the sprayer that is back
//     first and choose only what it does next and at which bay, others choose the
//     sprayer too; and they differ in what a bay's time is held to be worth. After
//     Libralesso et al., "Tree search for the sequential ordering problem" (arXiv
//     1911.12427), without its bounds. A beam too large for its share of the steps
//     is left out.
//
//  2. Where jobs can change at all, four walkers look for jobs of sprayers that go
//     well together, by simulated annealing (routes.go): each try changes the jobs, and
//     a simple rule lays out the loads anew (dispatch.go). The rule plays the day nearly
//     as the evaluator does, so that what it holds a plan to cost says of most tries that
//     they are too dear; only the others are evaluated. Sprayers should come to a mix
//     at about the same time, so jobs are moved by mixes too, on all sprayers
//     (move_mix.go).
//
//  3. The walkers improve what they found by annealing of all decisions (walk.go,
//     moves.go), with temperatures by what a load costs, cooler from the beginning
//     where there are many loads. They go their own ways
//     from their own seeds, and meet four times; after the first time each goes on
//     from its own plan, later from the best. From time to time each is kicked: it
//     changes jobs, whatever that costs, and goes back if its next steps make
//     nothing of it. Most moves of a load follow the current plan's own times: it goes
//     where its sprayer is ready, the sooner the longer it waited or was waited for
//     (move_fit.go). A job that changes its sprayer takes the last slots along
//     (move_give.go). Where the jobs of sprayers keep their order or have none, and in the rest
//     of a day, walkers that leave nothing undone also have another load come next somewhere
//     and the rule lay out what follows, all or some (move_redispatch.go): through single
//     loads there are few ways to that which are not far dearer. Where the order of loads
//     at one bay is all there is to decide, a candidate is not evaluated when what loads cost behind one another (kin.go) says
//     that it will be too dear; how much of that comes true the walker learns.
//
//  4. When they meet, beams of labels (exact.go, below) look for better plans: after
//     the first round among all plans that the exact search knows, where it knows
//     the day; else, for several walkers, among those with the same routes, once for
//     each, or on a day that it knows with the same jobs on each sprayer. Where jobs keep
//     their order and it knows the day, one wide beam finds most, and there are no others.
//
// Where a crew was told (told.go), the first two rounds look as if moving a load
// weighed nothing, unless it is frozen: the best plan is often far from the told one,
// with every plan between them dearer than both. The others go on from what that
// found and from the told plan, with the weight counted. The walkers look for no routes
// in the rest of a day, from scratch or not, and no beams look (told_search.go).
//
// How many beams and walkers there are does not depend on cores, so that the plan is the
// same on any number of them. What comes off a connection is decided by a rule, and by
// lists where a search makes some ([Decisions].Off); so is the order of products at one
// place of the adding order (evaluate_ties.go). The rule is, but where another makes
// a better plan, Tang and Denardo's ("A job grouping/tool switching model", Operations
// Research 36, 1988): the one wanted furthest ahead goes first, which needs the
// fewest changeovers for a given order of loads.
//
// # Bound and proof
//
// lowerBound (bound.go) adds up what every plan that sprays all must pay whatever
// the order. Where the turns that sprayers may take can all be listed (exact_turns.go),
// what each pays at least if the pad is its own, cleanouts and lateness and all, is
// more: that and the changeovers and the overtime that nobody avoids are the
// unavoidable part of a cost.
//
// Prices (prices*.go) raise the bound: bays are paid for each mix by the second,
// sprayers pay while they are filled, and what all of them cost at least, each by
// itself, is a bound at whatever prices. It is the Lagrangian relaxation of the
// time-indexed model. A subgradient search looks for good prices; it takes a moment
// for days of any size. It knows holds, rinses and changeovers between mixes as they
// are, but lets sprayers and bays be in several places by halves: where a pad is busy
// and not full, most of the waiting comes from two that want to be filled at once,
// and that it does not see. A bay that is half there could even do without rinses, as if
// each mix had a bay of its own, with its sprayers filled again and again. So in a proof,
// when no better prices for mixes are found, each sprayer's fillings of a mix get their own,
// and a bay does not fill a sprayer again before it can be back (prices_line.go). Totes that
// run dry inside loads no prices follow, so a sprayer may stay at a bay for as many changes
// as it pays for (prices_stay.go).
//
// The exact search (exact*.go) counts the day as a walk: a state is which loads
// each sprayer has had, which jobs for any sprayer are taken, and what is in
// manifolds and on connections; a step gives one sprayer's next load to a bay. A
// label is one way to a state, with the times of bays and sprayers and a value:
// its cost less what the sprayers' ready times are worth, since who is ready
// sooner pays for the longer wait. One label makes another needless when it is
// cheaper by what its later times can cost at most (padModel.delayCost).
// Once nothing waits for a time of day any more, a label all of whose times are sooner
// also saves something at least (exact_steady.go), whether labels are compared or what
// follows one is told by another.
//
// Times are settled (exact_settle.go): made as late as they can be without changing what
// follows, so that labels that mean the same look the same. What the labels of a state
// have in common is worked out once (exact_arc.go). A job that any sprayer may do and none
// has done yet costs something whoever does it; a state in which all of them have passed
// it over is left out (exact_any.go).
//
// A pass (exact_pass.go) goes through all states, layer by layer. It cuts time into cells
// (exact_cells.go): labels of a state whose times all lie in the same cells are merged to
// the least of their values and times, which stands for all of them and costs no more;
// what one loses by all its times being made sooner is added to its value, where it is
// known. Before a layer is taken further, the labels that others make needless, of
// whatever cells, are left out. So the cheapest end of a pass is a bound, and it loses no
// more than cells are long. The way back (exact_ahead.go) gives each label the least that
// can follow it, by which the next pass leaves out what comes to nothing better than the
// best plan. Its cells are finer, so that its bound is higher; the last merges none: what
// it finds is the best plan (with holds: see below). Beams between passes (exact_beam.go)
// look for cheaper plans, which leave the next pass less to do. A pass that is stopped has
// a bound too: what the labels come to at least that it has not gone on from
// (exact_frontier.go).
// After Tanaka, Fujikuma and Araki ("An exact algorithm for single-machine scheduling
// without machine idle time", Journal of Scheduling 12, 2009), decision diagrams with
// merged nodes (Hooker, arXiv 1908.07076), and grids of time that are refined (Boland,
// Hewitt, Marshall and Savelsbergh, "The continuous-time service network design
// problem", Operations Research 65, 2017).
//
// Where jobs stay in order and neighbours may share loads, most states differ in who
// shares what with whom. There the first passes go through a model with fewer
// (exact_coarse.go, exact_stages.go): stops at which a sprayer is as far from its end
// are joined, and lead on as any of them. What it has drawn by then is known only to
// lie between two amounts, and where a tote may or may not have run dry, both are
// tried: a filling without that changeover is shorter, but the sprayer then waits for
// longer, so that leaving it out is no bound. What those passes say is still to come
// leaves later ones, of all states, next to nothing to look at.
//
// A pass runs on all cores (exact_work.go). Some states of a layer at a time are cut
// into chunks of so many; the steps out of a chunk are offered to shards, each of which
// has some of the states of every layer (exact_layer.go); then each shard takes what is
// offered to it in the order of the chunks. Chunks and shards are as large and as many
// on any number of cores, and one goroutine at a time works at each, so that the labels
// and their order are always the same. Only the numbers of pad states depend on who
// comes first (exact_numbers.go), and nothing depends on them.
//
// The model leaves out what can only make a plan dearer, or time later: closing
// times and the end of the spraying hours, tank lives, water that runs short, on
// several bays totes that run dry or are wanted twice. Plans it finds are
// evaluated in full; where their cost is the bound's, that is a proof. What sprayers
// may gain where a tank life keeps them from being filled, unpaid, is taken off the
// bound (padModel.unpaid). So is what they gain by totes that run dry inside loads and
// are not in the model: the filling takes longer, unpaid, where a model without it has
// the sprayer back sooner and waiting, for pay (exact_unpaid.go).
//
// Holds are in the model (exact_holds.go), and a pause in one costs nothing. So a
// sprayer that comes sooner may be worse off, as it misses a pause and waits at the pad
// instead, and labels would not make each other needless. Therefore passes may put a
// load off until a hold is the first to catch it (turn.jumps); other moments are no
// better than the one before. With that, whoever comes sooner can do the same as
// whoever comes later, so that merged labels bound plans as before; that no plan puts a
// load off only makes the bound lower. Until all holds are over, a label makes another
// needless only where all its times are as early. Labels are not merged across the end
// of a hold, lest sprayers gain by it more than once. The last pass puts nothing off
// (asPlanned): it merges nothing, and a label makes another needless only if it is
// cheaper by all that the other's pauses may be worth. It is only for days on which no
// load starts later than the model has it (padModel.startsAsModelled): a plan could
// gain a pause by that.
//
// The model does not know mixes with more metered products than a bay has connections, or more
// states than fit into a key; there the bound is that of the prices.
//
// Stops that nothing tells apart but what was before them are joined
// (exact_join.go): most pasts of a tank ask for no cleanout any more.
//
// A beam need not be a bound, and a model for plans (forPlans) counts more: holds in the
// middle of the day, when a load must be filled by, tank lives, deliveries and totes on
// several bays. It compares labels with sooner ones as if nothing waited for a time of day
// any more. What moving a load weighs that was told it does not know. Of the bays it
// leaves out those that have too few connections for a mix. A day under way is other
// numbers in its first label (padModel.first), and in the pasts of tanks.
package planner
