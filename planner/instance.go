package planner

import (
	"math/big"
	"slices"
	"sync"

	"padturn/model"
)

// span is a time [from, to).
type span struct{ from, to model.Clock }

// level is a rinse or cleanout level, ready to be counted with.
type level struct {
	time  model.Seconds
	gal   model.Decimal
	money model.Money // the rinsate's cost; a rinse's crew time too
}

// instance is a problem laid out for fast evaluation. It does not change once
// made, so that searches can share it.
type instance struct {
	p         *model.Problem
	opens     model.Clock
	cleanFrom model.Clock // no cleanout begins before it
	now       model.Clock // when work can start: the opening, or later in a day that has begun
	closes    model.Clock
	lastEnd   model.Clock // by when a load must end

	rinses    []level
	cleanouts []level
	rinse     [][]int16 // by earlier mix and later mix: rinse level or None

	change      model.Seconds
	changeMoney model.Money

	bays     []bayData
	sprayers []sprayerData
	told     *toldPlan // nil: nobody was told anything, or it does not count
	// metered numbers the metered products that jobs need: products[metered]
	// is the product's index in the problem, meteredOf the way back.
	products  []int
	meteredOf []int

	toteOf []int // by metered number: its tracked index if it is kept in totes, or None

	tracked   []trackedProduct // products that can run short, or whose totes can
	trackedOf []int            // by product: its index in tracked, or None

	water *waterData // nil: never runs short

	sprayerRules bool // some rule is about sprayers
	picky        bool // some bay can't fill some mix
	due          []dueJob
	anyJobs      []int        // jobs for any sprayer
	partHolds    []model.Hold // holds that keep parts from being sprayed
	overtime     model.HourlyRate
	crew         model.HourlyRate
	runs         *sync.Map // see workshop.plainLoads
}

// dueJob is a job that costs money when it is late.
type dueJob struct {
	job  int
	at   model.Clock
	rate model.HourlyRate
}

// bayData is a bay laid out for evaluation.
type bayData struct {
	lastMix     int
	free        int // connections that are not plumbed
	plumbed     mask
	fills       []bool       // by mix: the bay has the carrier and connections for it
	crowded     []bool       // by mix: it wants more products than there are free connections
	crowds      bool         // some mix does
	conns       []connection // at the opening: plumbed, hooked, empty
	freeFrom    model.Clock
	rinsed      int16 // rinse level that is done already before the first load
	onAtOpening mask
	where       []int8 // by metered number, for those on at the opening
	shut        []span
}

// trackedProduct is stock that must be watched.
type trackedProduct struct {
	product    int
	onHand     model.Decimal
	deliveries []arrival // by time, with the sum so far
	discrete   bool      // kept in totes or drums, each of its own
	containers []container
}

type arrival struct {
	at  model.Clock
	sum model.Decimal
}

// container is one tote or drum of a metered product.
type container struct {
	left   model.Decimal
	from   model.Clock // at the pad and off every bay since
	opened int32       // place in the order of opening; neverOpened for a full one
	onBay  bool
}

const neverOpened int32 = 1 << 30

// waterData is the pad's water in sixtieths of the billionth of a gallon, so
// that what refills in a second is a whole number.
type waterData struct {
	onHand, capacity, perSecond int64
	// from is when onHand is there: at the opening, or when the first sprayer
	// is there, whose cleanout may take some.
	from model.Clock
}

const waterScale = 60

func newInstance(p *model.Problem) *instance {
	s := &p.Settings
	in := &instance{
		runs: &sync.Map{},
		p:    p, opens: s.Pad.Opens, now: s.Pad.Opens, closes: s.Pad.Closes, lastEnd: s.Pad.Closes,
		change:      model.CeilMinutes(s.Pad.ChangeoverMin),
		changeMoney: model.MoneyFromRat(s.Costs.Changeover.Rat()),
		overtime:    model.RatePerHour(s.Costs.OvertimePerH),
	}
	if s.Pad.OvertimeUntil != nil {
		in.lastEnd = *s.Pad.OvertimeUntil
	}
	if u := p.Underway; u != nil {
		in.now, in.cleanFrom = max(in.now, u.At), u.At
	}
	in.crew = model.RatePerHour(s.Costs.CrewPerH)
	in.rinses = levels(s.RinseLevels, s.Costs.RinsatePerGal, in.crew)
	in.cleanouts = levels(s.CleanoutLevels, s.Costs.RinsatePerGal, 0)
	for i := range p.Jobs {
		if p.Jobs[i].Sprayer == model.None {
			in.anyJobs = append(in.anyJobs, i)
		}
	}
	in.layOutRules()
	in.numberProducts()
	in.trackStock()
	in.listTotes()
	in.layOutBays()
	in.layOutSprayers()
	in.layOutTold()
	if w := s.Pad.Water; w != nil {
		in.water = &waterData{int64(w.OnHandGal) * waterScale, int64(w.CapacityGal) * waterScale, int64(w.RefillGpm), in.opens}
		for i := range p.Sprayers {
			in.water.from = min(in.water.from, p.Sprayers[i].AvailableFrom)
		}
		in.standingWater()
	}
	return in
}

// levels works out what each level takes; perHour is the crew's price of its
// time.
func levels(list []model.LevelSettings, perGal model.Decimal, perHour model.HourlyRate) []level {
	out := make([]level, len(list))
	for i, l := range list {
		out[i] = level{time: model.CeilMinutes(l.Min), gal: l.Gal}
		out[i].money = perHour.For(out[i].time) + model.MoneyFromRat(new(big.Rat).Mul(l.Gal.Rat(), perGal.Rat()))
	}
	return out
}

func (in *instance) layOutRules() {
	n := len(in.p.Mixes)
	in.rinse = make([][]int16, n)
	for a := range in.rinse {
		in.rinse[a] = make([]int16, n)
		for b := range in.rinse[a] {
			in.rinse[a][b] = int16(in.p.RinseBetween(a, b))
		}
	}
	in.sprayerRules = slices.ContainsFunc(in.p.Rules, func(r model.Rule) bool { return r.Where == model.InSprayer })
	for _, h := range in.p.Holds {
		if h.Scope.Bay == model.None {
			in.partHolds = append(in.partHolds, h)
		}
	}
	for i, j := range in.p.Jobs {
		if j.Due != model.Never {
			rate := model.RatePerHour(weighted(j.Priority, in.p.Settings.Costs.LatePerH))
			in.due = append(in.due, dueJob{i, j.Due, rate})
		}
	}
}

// numberProducts gives the metered products that jobs need their numbers.
func (in *instance) numberProducts() {
	in.meteredOf = make([]int, len(in.p.Products))
	for i := range in.meteredOf {
		in.meteredOf[i] = model.None
	}
	number := func(product int) {
		if in.p.Products[product].Metered && in.meteredOf[product] == model.None {
			in.meteredOf[product] = len(in.products)
			in.products = append(in.products, product)
		}
	}
	for _, j := range in.p.Jobs {
		for _, g := range in.p.Mixes[j.Mix].Recipe {
			number(g.Product)
		}
	}
	in.eachDrawn(number)
}

func (in *instance) layOutBays() {
	for i := range in.p.Bays {
		b := &in.p.Bays[i]
		d := bayData{lastMix: b.LastMix, free: b.Connections - len(b.Plumbed)}
		for _, product := range b.Plumbed {
			if m := in.meteredOf[product]; m != model.None {
				d.plumbed.add(m)
			}
		}
		d.freeFrom, d.rinsed = in.opens, model.None
		in.layOutConnections(b, &d)
		if u := in.p.Underway; u != nil {
			in.standingBay(&u.Bays[i], &d)
		}
		for m := range in.p.Mixes {
			d.fills = append(d.fills, in.bayFills(b, &d, m))
			d.crowded = append(d.crowded, in.crowds(&d, m))
			d.crowds = d.crowds || d.crowded[m]
			in.picky = in.picky || !d.fills[m]
		}
		for _, h := range in.p.Holds {
			if h.Scope.Bay == i {
				d.shut = append(d.shut, span{h.From, h.To})
			}
		}
		d.shut = merged(d.shut)
		in.bays = append(in.bays, d)
	}
}

// layOutConnections puts plumbed and hooked products on a bay's connections.
// Products that no job needs have no number; they can be taken off first.
func (in *instance) layOutConnections(b *model.Bay, d *bayData) {
	d.where = make([]int8, len(in.products))
	for i, product := range slices.Concat(b.Plumbed, b.Hooked) {
		c := connection{metered: in.meteredOf[product], tote: model.None, lastUsed: -1}
		if i < len(b.Plumbed) {
			c.lastUsed = plumbedForever
		}
		if c.metered != model.None {
			d.onAtOpening.add(c.metered)
			d.where[c.metered] = int8(i)
			if t := in.trackedOf[product]; t != model.None && in.tracked[t].discrete && in.p.Underway == nil {
				c.tote = nextContainer(in.tracked[t].containers, 0)
				if c.tote != model.None {
					in.tracked[t].containers[c.tote].onBay = true
				}
			}
		}
		d.conns = append(d.conns, c)
	}
	for len(d.conns) < b.Connections {
		d.conns = append(d.conns, connection{metered: model.None, tote: model.None, lastUsed: -1})
	}
}

// bayFills says whether a bay has a mix's carrier, and a connection for what
// it takes through the meter.
func (in *instance) bayFills(b *model.Bay, d *bayData, mix int) bool {
	m := &in.p.Mixes[mix]
	if !slices.Contains(b.Carriers, m.Carrier) {
		return false
	}
	return d.free > 0 || !slices.ContainsFunc(m.Recipe, func(g model.Ingredient) bool {
		n := in.meteredOf[g.Product]
		return n != model.None && !d.plumbed.has(n)
	})
}

// crowds says whether a mix has more metered products than a bay has connections
// for, the plumbed ones aside.
func (in *instance) crowds(d *bayData, mix int) bool { return in.excess(d, mix) > 0 }

// excess returns how many products of a mix a bay has no connection for.
func (in *instance) excess(d *bayData, mix int) int {
	wanted := 0
	for _, g := range in.p.Mixes[mix].Recipe {
		if n := in.meteredOf[g.Product]; n != model.None && !d.plumbed.has(n) {
			wanted++
		}
	}
	return max(wanted-d.free, 0)
}

// merged sorts spans and joins those that touch.
func merged(list []span) []span {
	slices.SortFunc(list, func(x, y span) int { return int(x.from - y.from) })
	var out []span
	for _, s := range list {
		if n := len(out); n > 0 && s.from <= out[n-1].to {
			out[n-1].to = max(out[n-1].to, s.to)
			continue
		}
		out = append(out, s)
	}
	return out
}
