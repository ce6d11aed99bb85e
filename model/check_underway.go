package model

import (
	"fmt"
	"math/big"
	"slices"
)

// UnderwayTable names what is checked of an [Underway], which is no file.
const UnderwayTable Table = "underway"

// buildUnderway looks up where bays, sprayers and jobs stand.
func (b *builder) buildUnderway() {
	u := b.in.Underway
	if u == nil {
		return
	}
	b.p.Underway.At, b.p.Underway.Rinsate, b.p.Underway.Water, b.p.Underway.NoNews = u.At, u.Rinsate, u.Water, u.NoNews
	b.sameCount("bays", len(u.Bays), len(b.p.Bays))
	b.sameCount("sprayers", len(u.Sprayers), len(b.p.Sprayers))
	b.within(UnderwayTable, None, "rinsate", u.Rinsate, gallonsLimit)
	for i := range u.Sprayers {
		b.buildStandingSprayer(i, &u.Sprayers[i])
	}
	for i := range b.p.Jobs {
		b.p.Jobs[i].rest = ExactRest(b.p.Jobs[i].Acres)
	}
	for i, j := range u.Begun {
		b.buildBegun(i, &j)
	}
	for i, j := range b.p.Jobs {
		if slices.Contains(u.ToldLeft, j.Name) {
			b.p.Underway.ToldLeft = append(b.p.Underway.ToldLeft, i)
		}
	}
	for i := range u.Told {
		b.buildTold(i, &u.Told[i])
	}
}

// sameCount reports a list that is not as long as the list it speaks of.
func (b *builder) sameCount(column string, have, want int) {
	if have != want {
		b.fail(UnderwayTable, None, column, fmt.Sprint(have), "expected %d, one each", want)
	}
}

func (b *builder) buildStandingSprayer(i int, r *SprayerUnderway) {
	key := fmt.Sprintf("sprayers[%d]", i)
	s := StandingSprayer{BackAt: r.BackAt, Loads: r.Loads, Gone: r.Gone, Cleaned: b.cleanoutLevel(i, key, r.Cleaned)}
	if s.Loads == 0 {
		s.Loads = len(r.Sprayed)
	}
	for _, t := range r.Sprayed {
		tank := StandingTank{Cleanout: b.cleanoutLevel(i, key, t.Cleanout)}
		if tank.Mix = b.lookUp(&b.mixes, "mixes.csv", UnderwayTable, i, key, t.Mix); tank.Mix == None {
			continue
		}
		tank.Crops = slices.Clone(t.Crops)
		if len(tank.Crops) == 0 {
			tank.Crops = []string{""}
		}
		slices.Sort(tank.Crops)
		tank.Crops = slices.Compact(tank.Crops)
		s.Sprayed = append(s.Sprayed, tank)
	}
	b.p.Underway.Sprayers = append(b.p.Underway.Sprayers, s)
}

func (b *builder) cleanoutLevel(row int, key, level string) int {
	return b.lookUp(&b.cleanouts, "cleanout_levels of day.yaml", UnderwayTable, row, key, level)
}

// buildBegun ties a begun job to its sprayer.
func (b *builder) buildBegun(row int, r *BegunJob) {
	i := slices.IndexFunc(b.p.Jobs, func(j Job) bool { return j.Name == r.Job })
	sprayer := b.lookUp(&b.sprayers, "sprayers.csv", UnderwayTable, row, "begun", r.Sprayer)
	if i == None || sprayer == None {
		return // all of it is in tanks, or reported
	}
	j := &b.p.Jobs[i]
	if j.Sprayer != None && j.Sprayer != sprayer {
		b.fail(UnderwayTable, row, "begun", r.Sprayer, "job %q is begun by it, but named for %s", r.Job, b.p.Sprayers[j.Sprayer].Name)
	}
	j.Sprayer = sprayer
	// A sprayer goes on with one job; of two that are begun only the first can
	// come first.
	j.Begun = !slices.ContainsFunc(b.p.Jobs, func(o Job) bool { return o.Begun && o.Sprayer == sprayer })
}

// ExactRest returns what the rest of a job is exactly, when it is known to about
// a billionth: the simplest fraction that is no further off. Loads are equal parts of
// their run, so the rest of 160 acres after one load of three is 320/3 acres,
// and 106.666666667 would be a drop too much for two full tanks.
func ExactRest(acres Decimal) *big.Rat {
	off := big.NewRat(1, int64(One))
	if acres < 1000 {
		return acres.Rat()
	}
	return simplest(new(big.Rat).Sub(acres.Rat(), off), new(big.Rat).Add(acres.Rat(), off))
}

// simplest returns the fraction of the smallest denominator from lo to hi,
// which are not negative, by their continued fractions.
func simplest(lo, hi *big.Rat) *big.Rat {
	whole := new(big.Rat).SetInt(new(big.Int).Quo(lo.Num(), lo.Denom()))
	if whole.Cmp(lo) == 0 {
		return whole
	}
	next := new(big.Rat).Add(whole, big.NewRat(1, 1))
	if next.Cmp(hi) <= 0 {
		return next
	}
	rest := simplest(new(big.Rat).Inv(new(big.Rat).Sub(hi, whole)), new(big.Rat).Inv(new(big.Rat).Sub(lo, whole)))
	return whole.Add(whole, rest.Inv(rest))
}

// buildTold looks up a load that the crew was told. What is no longer in the
// day is left out of it.
func (b *builder) buildTold(row int, r *ToldLoad) {
	l := StandingLoad{Sprayer: b.sprayers.find(r.Sprayer), Mix: b.mixes.find(r.Mix), Bay: b.bays.find(r.Bay), Acres: r.Acres, Start: r.Start}
	l.Jobs, l.Run = b.jobsOfRest(r.Jobs), b.jobsOfRest(r.Run)
	if len(r.Run) == 0 {
		l.Run = l.Jobs // a plan of an earlier version
	}
	for _, name := range r.Off {
		if i := b.products.find(name); i != None {
			l.Off = append(l.Off, i)
		}
	}
	if l.Sprayer != None && l.Mix != None && l.Bay != None && len(l.Jobs) > 0 {
		b.p.Underway.Told = append(b.p.Underway.Told, l)
	}
}

// jobsOfRest looks up those of some jobs that are still in the day.
func (b *builder) jobsOfRest(names []string) []int {
	var jobs []int
	for _, name := range names {
		if i := slices.IndexFunc(b.p.Jobs, func(j Job) bool { return j.Name == name }); i != None {
			jobs = append(jobs, i)
		}
	}
	return jobs
}

// buildTotes reads the totes that are opened or on a connection. They come
// before all others of their products.
func (b *builder) buildTotes(opened [][]Container, totals []Decimal) {
	u := b.in.Underway
	if u == nil {
		return
	}
	b.p.Underway = &Standing{}
	for i, bay := range b.in.Settings.Pad.Bays {
		s := StandingBay{Hung: make([]int, max(bay.Connections, 0)), Rinsed: None}
		for c := range s.Hung {
			s.Hung[c] = None
		}
		if i < len(u.Bays) {
			s.FreeFrom, s.Unused, s.Loads = u.Bays[i].FreeFrom, u.Bays[i].Unused, u.Bays[i].Loads
			s.Rinsed = b.lookUp(&b.rinses, "rinse_levels of day.yaml", UnderwayTable, i, "rinsed", u.Bays[i].Rinsed)
		}
		b.p.Underway.Bays = append(b.p.Underway.Bays, s)
	}
	for i, t := range u.Totes {
		b.buildTote(i, &t, opened, totals)
	}
}

func (b *builder) buildTote(row int, t *ToteUnderway, opened [][]Container, totals []Decimal) {
	j := b.lookUp(&b.products, "products.csv", UnderwayTable, row, "totes", t.Product)
	if j == None || !b.p.Products[j].toldApart() {
		return
	}
	if !b.within(UnderwayTable, row, "totes", t.Left, limits{0, stockLimit.most, "of the stock unit", false}) {
		return
	}
	if t.Bay != None && !b.hangs(row, t, len(opened[j])) {
		return
	}
	if t.Left <= One/1_000_000 {
		t.Left = 0 // as good as empty
	}
	kind := t.Kind
	if kind == "" {
		kind = "tote"
	}
	opened[j] = append(opened[j], Container{kind, max(t.Size, t.Left), t.Left, t.Opened, t.FreeFrom})
	totals[j] += t.Left
}

// hangs notes which container is on a connection.
func (b *builder) hangs(row int, t *ToteUnderway, container int) bool {
	if t.Bay < 0 || t.Bay >= len(b.p.Underway.Bays) || t.Connection < 0 || t.Connection >= len(b.p.Underway.Bays[t.Bay].Hung) {
		b.fail(UnderwayTable, row, "totes", t.Product, "is on bay %d, connection %d, which there is not", t.Bay+1, t.Connection+1)
		return false
	}
	b.p.Underway.Bays[t.Bay].Hung[t.Connection] = container
	return true
}
