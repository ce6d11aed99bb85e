package planner

import (
	"sync"
	"sync/atomic"

	"padturn/model"
)

// work is what goroutines need to go through a pass together. What they make does
// not depend on how many they are: a pass is cut into chunks and shards of fixed
// sizes, each of which only one of them works at.
type work struct {
	hands  []hand
	chunks []chunk
	atOnce int // chunks that are opened before the shards take what they offer
}

// hand is what one goroutine needs.
type hand struct {
	stepper *stepper
	shift   shift
	list    []labelAhead
	likely  int   // which of the steps that were found was best last
	made    int64 // labels it has kept
	merged  bool  // it has merged some
}

// How a layer is cut: into chunks of so many states, at most so many at a time, and
// fewer where they offer more labels than take little memory.
const (
	chunkStates = 16
	mostChunks  = 64
	fewChunks   = 8
	mostOffers  = 1 << 17
)

// chunk is some states of a shard, and what is found when they are opened.
type chunk struct {
	shard    int32 // as spots count them
	from, to int32 // states
	offers   [shardCount]offers
	reach    int32 // the deepest layer of the offers
	spent    int64
	best     model.Money
	bestEnd  spot
	boundEnd model.Money
}

// offers are labels that a chunk offers to a shard, and their times.
type offers struct {
	list  []offer
	times []int32
}

// offer is a label for a state.
type offer struct {
	key   uint64
	rank  model.Money
	depth int32
	label label
}

// newWork lays out the work of so many goroutines.
func newWork(m *padModel, goroutines int) *work {
	w := &work{chunks: make([]chunk, mostChunks), atOnce: mostChunks}
	for range min(goroutines, mostChunks) {
		w.hands = append(w.hands, hand{stepper: newStepper(m)})
	}
	return w
}

// each calls do for every number below n, on all hands.
func (w *work) each(n int, do func(h *hand, i int)) {
	if len(w.hands) == 1 || n == 1 {
		for i := range n {
			do(&w.hands[0], i)
		}
		return
	}
	var next atomic.Int64
	var group sync.WaitGroup
	for k := range w.hands {
		group.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(&w.hands[k], i)
			}
		})
	}
	group.Wait()
}

// cut cuts the next states of a layer, from one of a shard on, into chunks. It returns
// how many, and where the next begin; no shard is there at the end.
func (p *pass) cut(depth, shard, state int32) (n int, nextShard, nextState int32) {
	for n < p.work.atOnce && shard < shardCount {
		states := int32(len(p.layers[depth].shards[shard].table.keys))
		if state >= states {
			shard, state = shard+1, 0
			continue
		}
		c := &p.work.chunks[n]
		c.clear()
		c.shard, c.from, c.to = depth*shardCount+shard, state, min(state+chunkStates, states)
		state = c.to
		n++
	}
	return n, shard, state
}

// pace chooses how many chunks come next, after some that offered so many labels.
func (w *work) pace(offered int) {
	switch {
	case offered > mostOffers:
		w.atOnce = max(w.atOnce/2, fewChunks)
	case offered < mostOffers/4:
		w.atOnce = min(w.atOnce*2, len(w.chunks))
	}
}

func (c *chunk) clear() {
	for i := range c.offers {
		c.offers[i].list, c.offers[i].times = c.offers[i].list[:0], c.offers[i].times[:0]
	}
	c.spent, c.reach, c.best, c.boundEnd = 0, 0, noWay, noWay
}
