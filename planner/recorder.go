package planner

import (
	"cmp"
	"fmt"
	"slices"

	"padturn/model"
)

// recorder writes down what an evaluation does, to make a plan of it.
type recorder struct {
	in      *instance
	loads   []model.PlannedLoad
	changes []model.Changeover
	dropped []droppedLoad
	onConn  [][]int // by bay and connection: product on it
	pending [][]int // by bay: changes whose load has not started yet
	inside  int     // changeovers inside the load being recorded
}

type droppedLoad struct {
	ref    LoadRef
	reason dropReason
}

func newRecorder(in *instance) *recorder {
	r := &recorder{in: in, onConn: make([][]int, len(in.bays)), pending: make([][]int, len(in.bays))}
	for i := range in.p.Bays {
		b := &in.p.Bays[i]
		r.onConn[i] = slices.Concat(b.Plumbed, b.Hooked)
		for len(r.onConn[i]) < b.Connections {
			r.onConn[i] = append(r.onConn[i], model.None)
		}
	}
	return r
}

// changeover records a set-up changeover for the bay's next load.
func (r *recorder) changeover(b, where, n int, at model.Clock) {
	r.pending[b] = append(r.pending[b], len(r.changes))
	r.put(model.Changeover{Bay: b, Connection: where, At: at}, n)
}

func (r *recorder) put(c model.Changeover, n int) {
	c.Off, c.On = r.onConn[c.Bay][c.Connection], r.in.products[n]
	r.onConn[c.Bay][c.Connection] = c.On
	r.changes = append(r.changes, c)
}

// insideChange records a changeover inside the load that was recorded last. A
// product that did not fit goes on when its turn comes; a fresh tote goes on some
// way into the draw.
func (r *recorder) insideChange(b, where, n int) {
	load := len(r.loads) - 1
	pl := &r.loads[load]
	dose := r.doseOf(pl.Doses, n)
	at := pl.Start + model.Clock(pl.DoseBegins(dose, r.inside))
	if r.onConn[b][where] == r.in.products[n] {
		at = pl.Start + model.Clock((pl.DoseBegins(dose, r.inside)+pl.DoseBegins(dose+1, r.inside))/2)
	}
	at = min(max(at, pl.Start+1), pl.End)
	r.inside++
	r.put(model.Changeover{Bay: b, Connection: where, At: at, Load: load, Inside: true}, n)
}

func (r *recorder) doseOf(doses []model.Dose, n int) int {
	return slices.IndexFunc(doses, func(d model.Dose) bool { return d.Product == r.in.products[n] })
}

// load records the load a bay starts.
func (r *recorder) load(e *evaluator, b int, start, end, earliest model.Clock, inside int) {
	bay := &e.bays[b]
	l := bay.queue[bay.pos].l
	s := &e.sprayers[l.Sprayer]
	pl := model.PlannedLoad{
		Load: r.inOrder(l, bay.draws), Bay: b, CleanoutFrom: s.ready, Ready: s.ready, SetupStart: start, Start: start, End: end,
		Wait: model.Seconds(start - earliest), Held: model.Seconds(earliest - s.soonest),
		Cleanout: int(s.cleanout), Rinse: int(bay.rinse), Changeovers: bay.changes + inside,
	}
	if bay.hasSetup {
		pl.SetupStart = bay.setupStart
	}
	if s.cleanout != model.None {
		pl.CleanoutFrom = s.cleanAt
	}
	t := end + model.Clock(l.DriveOut)
	for i := range l.parts {
		t = l.parts[i].finish(t + model.Clock(l.parts[i].drive))
		pl.SprayedAt = append(pl.SprayedAt, t)
	}
	pl.BackAt = t + model.Clock(l.DriveBack)
	for _, i := range r.pending[b] {
		r.changes[i].Load = len(r.loads)
	}
	r.pending[b] = r.pending[b][:0]
	r.inside = 0
	r.loads = append(r.loads, pl)
}

// inOrder returns a load with its metered products in the order that they are
// drawn in.
func (r *recorder) inOrder(l *load, draws []draw) model.Load {
	if slices.Equal(draws, l.metered) {
		return *l.Load
	}
	order, drawn := make([]int, len(l.Doses)), 0
	for i, d := range l.Doses {
		order[i] = i
		if r.in.meteredOf[d.Product] != model.None {
			order[i] = r.doseOf(l.Doses, draws[drawn].n)
			drawn++
		}
	}
	return l.InOrder(order)
}

// drop records a load that is left out.
func (r *recorder) drop(ref LoadRef, reason dropReason) {
	r.dropped = append(r.dropped, droppedLoad{ref, reason})
}

// order sorts loads by start and bay, numbers them, and lets changes follow.
func (r *recorder) order() {
	place := make([]int, len(r.loads)) // new to old
	for i := range place {
		place[i] = i
	}
	slices.SortStableFunc(place, func(x, y int) int {
		a, b := &r.loads[x], &r.loads[y]
		return cmp.Or(cmp.Compare(a.Start, b.Start), cmp.Compare(a.Bay, b.Bay))
	})
	now := make([]int, len(place))
	sorted := make([]model.PlannedLoad, len(place))
	perBay, perSprayer := r.in.loadsBefore()
	for i, old := range place {
		now[old] = i
		pl := r.loads[old]
		perBay[pl.Bay]++
		perSprayer[pl.Sprayer]++
		pl.Seq = perBay[pl.Bay]
		pl.ID = fmt.Sprintf("%s-%d", r.in.p.Sprayers[pl.Sprayer].Name, perSprayer[pl.Sprayer])
		sorted[i] = pl
	}
	r.loads = sorted
	for i := range r.changes {
		r.changes[i].Load = now[r.changes[i].Load]
	}
	// Of changes at one moment the one recorded first stays first: a tote must
	// be let go before another bay has it, even where that takes no time.
	slices.SortStableFunc(r.changes, func(x, y model.Changeover) int { return cmp.Compare(x.At, y.At) })
}
