package planner

import (
	"encoding/binary"
	"math/big"
	"math/bits"
	"slices"
	"strings"

	"padturn/model"
)

// mask is a set of metered products by number.
type mask [2]uint64

// maxMetered is how many metered products one day's jobs may need.
const maxMetered = len(mask{}) * 64

func (m *mask) add(n int)      { m[n/64] |= 1 << (n % 64) }
func (m *mask) has(n int) bool { return m[n/64]&(1<<(n%64)) != 0 }
func (m *mask) drop(n int)     { m[n/64] &^= 1 << (n % 64) }
func (m *mask) isEmpty() bool  { return m[0]|m[1] == 0 }
func (m *mask) count() int     { return bits.OnesCount64(m[0]) + bits.OnesCount64(m[1]) }

// without returns m less what o has.
func (m *mask) without(o *mask) mask { return mask{m[0] &^ o[0], m[1] &^ o[1]} }

// both returns what m and o have.
func (m *mask) both(o *mask) mask { return mask{m[0] & o[0], m[1] & o[1]} }

// offSet numbers products that may come off.
func (in *instance) offSet(products []int) uint32 {
	var set uint32
	for _, product := range products {
		if n := in.meteredOf[product]; n != model.None {
			set |= 1 << n
		}
	}
	return set
}

// offList returns the products of a set.
func (in *instance) offList(set uint32) []int {
	var list []int
	for ; set != 0; set &= set - 1 {
		list = append(list, in.products[bits.TrailingZeros32(set)])
	}
	return list
}

// load is a model.Load laid out for evaluation.
type load struct {
	*model.Load
	// What the evaluator reads for every load is kept here beside the rest.
	sprayer, mix        int
	driveOut, driveBack model.Clock
	contents            int // number of its mix and crops among the tank contents
	parts               []part
	tankLife            model.Seconds
	lastEnd             model.Clock // by when it must be filled, its tank life aside
	metered             []draw      // in adding order, as in the recipe at ties
	ties                []tie       // stretches of metered that may go in in any order
	wants               mask        // the same as a set
	totes               []draw      // those of metered that are kept in totes
	needs               []draw      // tracked products, by tracked index
	water               int64       // of the carrier, in waterData's unit; 0 for another carrier
	wait                model.HourlyRate
	// anyTime is the driving and spraying time of jobs whose sprayer was free.
	anyTime model.Seconds
	left    model.Decimal // Σ priority × acres
	acres   model.Decimal
}

// tie is a stretch [from, to) of a load's metered products that stand at one place
// of the adding order.
type tie struct{ from, to int }

// draw is an amount of a product.
type draw struct {
	n      int // metered number, or tracked index
	amount model.Decimal
}

// part is a model.Part laid out for evaluation.
type part struct {
	job        int
	drive      model.Seconds
	spray      model.Seconds
	blocked    []span      // when it may not be sprayed, by time
	timeliness model.Money // for each second until it is sprayed
}

// workshop makes loads and keeps those it has made. Each search has its own.
type workshop struct {
	in       *instance
	runs     map[string][]*load
	blocked  map[blockKey][]span
	share    map[place]bool
	contents []model.TankContents
	cleanout [][]int16 // by earlier and later contents: cleanout level or None
	history  [][]tankful
	key      []byte
}

func newWorkshop(in *instance) *workshop {
	w := &workshop{in: in, runs: map[string][]*load{}, blocked: map[blockKey][]span{}, share: map[place]bool{}}
	for m := range in.p.Mixes {
		w.contentsOf(model.TankContents{Mix: m}) // number m: a last mix, its crops unknown
	}
	w.layOutHistory()
	return w
}

// loads returns the loads of a run on a sprayer.
func (w *workshop) loads(sprayer int, run Run) []*load {
	w.key = binary.AppendUvarint(w.key[:0], uint64(sprayer))
	for _, j := range run {
		w.key = binary.AppendUvarint(w.key, uint64(j))
	}
	if made, ok := w.runs[string(w.key)]; ok {
		return made
	}
	plain := w.plainLoads(sprayer, run)
	made := make([]*load, len(plain))
	for i := range plain {
		made[i] = w.layOut(&plain[i])
	}
	w.runs[string(w.key)] = made
	return made
}

// plainLoads returns the loads of a run as the model makes them, for the key at hand. Its
// exact arithmetic takes so long that all workshops of a day share what it comes to.
func (w *workshop) plainLoads(sprayer int, run Run) []model.Load {
	if made, ok := w.in.runs.Load(string(w.key)); ok {
		return made.([]model.Load)
	}
	made := w.in.p.RunLoads(sprayer, run)
	w.in.runs.Store(string(w.key), made)
	return made
}

func (w *workshop) layOut(m *model.Load) *load {
	p := w.in.p
	l := &load{Load: m, sprayer: m.Sprayer, mix: m.Mix, acres: acresOf(m),
		driveOut: model.Clock(m.DriveOut), driveBack: model.Clock(m.DriveBack), wait: p.Sprayers[m.Sprayer].Wait, tankLife: model.Seconds(model.Never)}
	var crops []string
	for i, part := range m.Parts {
		l.parts = append(l.parts, w.layOutPart(m, &part))
		job := &p.Jobs[part.Job]
		l.left += weighted(job.Priority, part.Acres)
		if !slices.Contains(crops, job.Crop) {
			crops = append(crops, job.Crop)
		}
		if job.Any {
			l.anyTime += part.Spray + m.DriveTo(i)
		}
	}
	if p.Jobs[m.Parts[len(m.Parts)-1].Job].Any {
		l.anyTime += m.DriveBack
	}
	slices.Sort(crops)
	l.contents = w.contentsOf(model.TankContents{Mix: m.Mix, Crops: crops})
	w.addDraws(l)
	w.addTies(l)
	l.lastEnd = w.in.lastFill(l)
	return l
}

// weighted returns priority × acres, rounded to the billionth.
func weighted(priority, acres model.Decimal) model.Decimal {
	return model.RoundRat(new(big.Rat).Mul(priority.Rat(), acres.Rat()))
}

func (w *workshop) layOutPart(m *model.Load, mp *model.Part) part {
	job := &w.in.p.Jobs[mp.Job]
	return part{
		job: mp.Job, drive: mp.Drive, spray: mp.Spray, blocked: w.blockedSpans(m.Sprayer, mp.Job),
		timeliness: w.in.timelinessRate(job, mp.Acres).For(1),
	}
}

func (w *workshop) addDraws(l *load) {
	in := w.in
	for _, d := range l.Doses {
		product := &in.p.Products[d.Product]
		l.tankLife = min(l.tankLife, product.TankLife)
		if n := in.meteredOf[d.Product]; n != model.None {
			l.metered = append(l.metered, draw{n, d.Amount})
			l.wants.add(n)
			if in.toteOf[n] != model.None {
				l.totes = append(l.totes, draw{n, d.Amount})
			}
		}
		if t := in.trackedOf[d.Product]; t != model.None {
			l.needs = append(l.needs, draw{t, d.Amount})
		}
	}
	carrier, amount := carrierDraw(in.p, l.Load)
	if carrier == model.None {
		l.water = int64(l.Carrier) * waterScale
		return
	}
	l.tankLife = min(l.tankLife, in.p.Products[carrier].TankLife)
	if t := in.trackedOf[carrier]; t != model.None {
		l.needs = append(l.needs, draw{t, amount})
	}
}

// addTies finds the metered products that may go in in any order: they stand at
// one place of the adding order (R3).
func (w *workshop) addTies(l *load) {
	var at []model.Decimal // by metered product of the load
	for _, d := range l.Doses {
		if w.in.meteredOf[d.Product] != model.None {
			at = append(at, w.in.p.Mixes[l.Mix].Recipe[d.Ingredient].Step)
		}
	}
	from := 0
	for i := 1; i <= len(at); i++ {
		if i == len(at) || at[i] != at[from] {
			if i-from > 1 {
				l.ties = append(l.ties, tie{from, i})
			}
			from = i
		}
	}
}

// blockKey is all that the times when a part may not be sprayed depend on.
type blockKey struct {
	sprayer, mix int
	field        string
	earliest     model.Clock
}

// blockedSpans returns when a job may not be sprayed by a sprayer: before the
// spraying hours and its earliest, and in the holds that apply to it.
func (w *workshop) blockedSpans(sprayer, job int) []span {
	j := &w.in.p.Jobs[job]
	key := blockKey{sprayer, j.Mix, j.Field, j.Earliest}
	if made, ok := w.blocked[key]; ok {
		return made
	}
	list := []span{{-model.Never, max(j.Earliest, w.in.p.Settings.SprayFrom)}}
	for i := range w.in.partHolds {
		if h := &w.in.partHolds[i]; h.Applies(w.in.p, sprayer, job) {
			list = append(list, span{h.From, h.To})
		}
	}
	made := merged(list)
	w.blocked[key] = made
	return made
}

// contentsOf numbers what a load leaves in a sprayer, and works out its
// cleanouts against all numbered before.
func (w *workshop) contentsOf(c model.TankContents) int {
	same := func(o model.TankContents) bool {
		return o.Mix == c.Mix && strings.Join(o.Crops, ";") == strings.Join(c.Crops, ";") && (o.Crops == nil) == (c.Crops == nil)
	}
	if i := slices.IndexFunc(w.contents, same); i >= 0 {
		return i
	}
	w.contents = append(w.contents, c)
	n := len(w.contents)
	for i := range w.cleanout {
		w.cleanout[i] = append(w.cleanout[i], w.in.cleanoutBetween(w.contents[i], c))
	}
	row := make([]int16, n)
	for i := range row {
		row[i] = w.in.cleanoutBetween(c, w.contents[i])
	}
	w.cleanout = append(w.cleanout, row)
	return n - 1
}

// cleanoutBetween is Problem.CleanoutBetween, quick on a day without sprayer
// rules.
func (in *instance) cleanoutBetween(earlier, later model.TankContents) int16 {
	if !in.sprayerRules {
		return model.None
	}
	return int16(in.p.CleanoutBetween(earlier, later))
}
