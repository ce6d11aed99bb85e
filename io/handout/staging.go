package handout

import (
	"cmp"
	"math/big"
	"slices"

	"padturn/io/planfile"
	"padturn/model"
)

// Hour is what has to happen at a bay in an hour of the day, beside filling.
type Hour struct {
	From    planfile.Time
	Bring   []Bring  // before the hour's first load
	Connect []Change // by time
	Empty   []Empty  // expected by the end of the hour
}

// Bring is containers of a hopper product to bring out.
type Bring struct {
	Product   string
	Count     int64  // of containers; 0 where the pack is not known
	Container string // such as "jug of 2.5 gal"; blank where the pack is not known
	Need      Amount // of the hour's loads
}

// Empty is containers that will be empty. Hopper packs are counted bay by bay;
// totes and drums when a fresh one takes their place.
type Empty struct {
	Product   string
	Count     int64
	Container string
}

// hours lists, for the sheets of one bay, the hours in which there is something
// to bring, connect or take away. What was begun before the plan was made is
// done.
func (w *writer) hours(sheets []Sheet) []Hour {
	st := staging{w: w, used: map[string]*big.Rat{}, byHour: map[planfile.Time]*Hour{}}
	for _, s := range sheets {
		for _, c := range s.Changes {
			if w.doc.Replan == nil || c.At >= w.doc.Replan.At {
				st.connect(c)
			}
		}
		for _, line := range s.Lines {
			st.bring(s, line)
		}
	}
	out := make([]Hour, 0, len(st.byHour))
	for _, h := range st.byHour {
		slices.SortStableFunc(h.Connect, func(a, b Change) int { return cmp.Compare(a.At, b.At) })
		out = append(out, *h)
	}
	slices.SortFunc(out, func(a, b Hour) int { return cmp.Compare(a.From, b.From) })
	return out
}

// staging collects the hours of a bay.
type staging struct {
	w      *writer
	used   map[string]*big.Rat // of hopper products, in their packs
	byHour map[planfile.Time]*Hour
}

func (st *staging) hour(at planfile.Time) *Hour {
	from := at - at%3600
	if st.byHour[from] == nil {
		st.byHour[from] = &Hour{From: from}
	}
	return st.byHour[from]
}

func (st *staging) connect(c Change) {
	h := st.hour(c.At)
	h.Connect = append(h.Connect, c)
	if c.Off == c.On {
		h.empty(c.Off, 1, st.w.container(c.Off))
	}
}

// bring adds a line's hopper product to its hour: as many packs as have to be
// opened beyond those that the bay has opened before.
func (st *staging) bring(s Sheet, line Line) {
	p := st.w.products[line.Product]
	if line.Carrier || p == nil || p.Handling != planfile.SourceHopper {
		return
	}
	if p.Pack == nil || *p.Pack <= 0 {
		if !s.Begun {
			st.hour(s.Start).bring(Bring{Product: line.Product, Need: line.Amount})
		}
		return
	}
	before := st.used[line.Product]
	if before == nil {
		before = new(big.Rat)
	}
	pack := p.exact(model.Decimal(*p.Pack).Rat(), line.Amount.Scale)
	after := new(big.Rat).Add(before, new(big.Rat).Quo(line.Amount.Exact(), pack))
	st.used[line.Product] = after
	if s.Begun {
		return
	}
	h := st.hour(s.Start)
	container := p.pack() + " of " + p.Pack.String() + " " + unitWord(p.Unit)
	h.bring(Bring{line.Product, wholeUp(after) - wholeUp(before), container, line.Amount})
	h.empty(line.Product, wholeDown(after)-wholeDown(before), container)
}

func wholeDown(r *big.Rat) int64 { return new(big.Int).Quo(r.Num(), r.Denom()).Int64() }

func wholeUp(r *big.Rat) int64 {
	n := wholeDown(r)
	if r.IsInt() {
		return n
	}
	return n + 1
}

func (h *Hour) bring(b Bring) {
	for i := range h.Bring {
		if h.Bring[i].Product == b.Product {
			h.Bring[i].Count += b.Count
			h.Bring[i].Need = h.Bring[i].Need.plus(b.Need)
			return
		}
	}
	h.Bring = append(h.Bring, b)
}

func (h *Hour) empty(product string, count int64, container string) {
	if count == 0 {
		return
	}
	for i := range h.Empty {
		if h.Empty[i].Product == product {
			h.Empty[i].Count += count
			return
		}
	}
	h.Empty = append(h.Empty, Empty{product, count, container})
}

// container is what a metered product comes in, with its size where all of
// its containers have one size.
func (w *writer) container(product string) string {
	p := w.products[product]
	if p == nil {
		return ""
	}
	if p.Bulk {
		return "bulk line"
	}
	kinds, sizes := map[string]bool{}, map[planfile.Number]bool{}
	kind, size := "", planfile.Number(0)
	note := func(k string, s planfile.Number) {
		kind, size = k, s
		kinds[k], sizes[s] = true, true
	}
	for _, c := range p.Containers {
		note(c.Container, c.Size)
	}
	for _, d := range w.doc.Deliveries {
		if d.Product == product {
			note(d.Container, d.Size)
		}
	}
	switch {
	case len(kinds) != 1:
		return "container"
	case len(sizes) != 1 || size == 0:
		return kind
	}
	return kind + " of " + size.String() + " " + unitWord(p.Unit)
}
