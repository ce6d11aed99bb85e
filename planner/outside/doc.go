// Package outside turns published instances of known problems into days of a
// load pad, so that plans can be checked against values that others have found:
// tool switching, tool switching on several machines, asymmetric tours, one
// server for two machines, the two-machine flow shop, and sprayers that come
// back like clockwork.
//
// Each kind of instance has a reader of its published format, a Day that says
// the same in sprayers, mixes and bays, and a Value that counts what a plan is
// worth by the publication's own arithmetic, from nothing but which job was
// filled where and after which. The type's comment says how the cost of a plan
// and that value hang together, and what of the published problem a day cannot
// say.
//
// The package opens no files, knows no published values and plans nothing.
package outside
