package planner

import (
	"math/big"
	"slices"

	"padturn/model"
)

// sprayerData is a sprayer laid out for evaluation.
type sprayerData struct {
	base    model.Clock // when it is at the pad for its first load
	begun   int         // job that it goes on with first, or None
	used    bool        // it has had loads, or a cleanout, since the opening
	cleaned int16       // cleanout level that is done already before its first load
}

// tankful is what a sprayer had in its tank before the loads that are planned.
type tankful struct {
	contents int
	cleanout int16 // level done before it, or None
}

func (in *instance) layOutSprayers() {
	for i := range in.p.Sprayers {
		d := sprayerData{base: in.p.Sprayers[i].AvailableFrom, begun: model.None, cleaned: model.None}
		if u := in.p.Underway; u != nil {
			s := &u.Sprayers[i]
			d.base = max(d.base, s.BackAt)
			d.used, d.cleaned = len(s.Sprayed) > 0 || s.Cleaned != model.None, int16(s.Cleaned)
		}
		in.sprayers = append(in.sprayers, d)
	}
	for i, j := range in.p.Jobs {
		if j.Begun {
			in.sprayers[j.Sprayer].begun = i
		}
	}
}

// begunFirst moves the job that a sprayer has begun to the front of its jobs.
func (in *instance) begunFirst(jobs []int, sprayer int) {
	begun := in.sprayers[sprayer].begun
	if begun == model.None {
		return
	}
	if at := slices.Index(jobs, begun); at > 0 {
		copy(jobs[1:at+1], jobs[:at])
		jobs[0] = begun
	}
}

// standingBay lays out what hangs on a bay in the middle of a day.
func (in *instance) standingBay(s *model.StandingBay, d *bayData) {
	d.freeFrom, d.rinsed = max(s.FreeFrom, in.now), int16(s.Rinsed)
	for i := range d.conns {
		c := &d.conns[i]
		if c.metered == model.None {
			continue
		}
		if t := in.toteOf[c.metered]; t != model.None && s.Hung[i] != model.None {
			c.tote = s.Hung[i]
			in.tracked[t].containers[c.tote].onBay = true
		}
		if i < len(s.Unused) && c.lastUsed != plumbedForever {
			c.lastUsed = -1 - s.Unused[i]
		}
	}
}

// lastHung is the last container of a product that hangs on a bay.
func (in *instance) lastHung(product int) int {
	last := model.None
	if in.p.Underway == nil {
		return last
	}
	for i := range in.p.Bays {
		b := &in.p.Bays[i]
		if at := slices.Index(slices.Concat(b.Plumbed, b.Hooked), product); at >= 0 {
			last = max(last, in.p.Underway.Bays[i].Hung[at])
		}
	}
	return last
}

// standingWater sets the water that is there in the middle of a day.
func (in *instance) standingWater() {
	u := in.p.Underway
	if u == nil {
		return
	}
	in.water.from = max(in.water.from, u.At) // it refills from the opening on
	if u.Water != nil {
		exact := new(big.Rat).Mul(u.Water, big.NewRat(int64(model.One)*waterScale, 1))
		in.water.onHand = new(big.Int).Quo(exact.Num(), exact.Denom()).Int64()
	}
}

func (in *instance) rinsateBefore() model.Decimal {
	if in.p.Underway == nil {
		return 0
	}
	return in.p.Underway.Rinsate
}

// loadsBefore counts the loads of each bay and sprayer that are behind us.
func (in *instance) loadsBefore() (perBay, perSprayer []int) {
	perBay, perSprayer = make([]int, len(in.bays)), make([]int, len(in.p.Sprayers))
	if u := in.p.Underway; u != nil {
		for i := range u.Bays {
			perBay[i] = u.Bays[i].Loads
		}
		for i := range u.Sprayers {
			perSprayer[i] = u.Sprayers[i].Loads
		}
	}
	return perBay, perSprayer
}

// layOutHistory numbers what each sprayer has had in its tank.
func (w *workshop) layOutHistory() {
	u := w.in.p.Underway
	if u == nil {
		return
	}
	w.history = make([][]tankful, len(u.Sprayers))
	for i := range u.Sprayers {
		for _, t := range u.Sprayers[i].Sprayed {
			w.history[i] = append(w.history[i], tankful{w.contentsOf(t.TankContents), int16(t.Cleanout)})
		}
	}
}

// remember fills a sprayer's past with the loads it has had.
func (s *sprayerState) remember(loads []tankful, cleaned int16) {
	for _, t := range loads {
		s.cleanedOut(t.cleanout)
		s.done++
		s.fillWith(t.contents)
	}
	s.cleanedOut(cleaned)
}

// cleanedOut notes that a cleanout was done after all loads so far.
func (s *sprayerState) cleanedOut(level int16) {
	for v := range s.since[:level+1] {
		s.since[v] = s.done
	}
}

// eachDrawn lists the products on connections that were drawn from today: they
// come off by the same rules as what is still wanted.
func (in *instance) eachDrawn(yield func(product int)) {
	u := in.p.Underway
	if u == nil {
		return
	}
	for i := range u.Bays {
		b, s := &in.p.Bays[i], &u.Bays[i]
		for k, product := range b.Hooked {
			if at := len(b.Plumbed) + k; at >= len(s.Unused) || s.Unused[at] < s.Loads {
				yield(product)
			}
		}
	}
}
