// Package scenario makes days of an invented load pad, in memory and from a
// seed: small random ones that use every feature of a day in chance
// combinations (Random), for tests of properties, and a family of realistic
// ones of given size and crowding (Day, Shape.Day), for benchmarks.
//
// Names, places and prices are invented; products are called by what is in
// them. The same seed gives the same day. It is no reader and no writer of
// files, and knows nothing of plans.
package scenario
