package audit

import (
	"math/big"

	"padturn/model"
)

// goOn lets a day that has begun go on from where it stands: nothing starts
// before the moment, bays and sprayers are free when they are, and a job of
// which acres are sprayed goes on first.
func (d *day) goOn() {
	u := d.begun
	if u == nil {
		return
	}
	d.now, d.cleanNow = max(d.now, u.At), u.At
	for i, b := range d.bayOrder {
		b.free = d.now
		if i < len(u.Bays) {
			b.free = max(d.now, u.Bays[i].FreeFrom)
			b.rinsed = level(d.set.RinseLevels, u.Bays[i].Rinsed)
			b.filled = u.Bays[i].Loads
		}
	}
	for i, s := range d.sprayerOrder {
		if i < len(u.Sprayers) {
			d.goOnSprayer(s, &u.Sprayers[i])
		}
	}
	for _, j := range d.jobOrder {
		j.acres = plainest(j.acres)
	}
	for _, r := range u.Begun {
		d.goOnJob(d.jobs[r.Job], d.sprayers[r.Sprayer])
	}
}

func (d *day) goOnSprayer(s *sprayer, u *model.SprayerUnderway) {
	s.from = max(s.from, u.BackAt)
	s.had = newPast(s.lastMix)
	for _, t := range u.Sprayed {
		s.had.clean(level(d.set.CleanoutLevels, t.Cleanout))
		crops := t.Crops
		if len(crops) == 0 {
			crops = []string{""}
		}
		*s.had = append(*s.had, &sprayed{d.mixes[t.Mix], crops, -1})
	}
	s.had.clean(level(d.set.CleanoutLevels, u.Cleaned))
	if s.named = u.Loads; s.named == 0 {
		s.named = len(u.Sprayed)
	}
}

// goOnJob ties a job to its sprayer.
func (d *day) goOnJob(j *job, s *sprayer) {
	if j == nil || s == nil {
		return
	}
	j.begunBy = s
	if s.goesOn == nil {
		s.goesOn = j
	}
}

// plainest returns the fraction of the smallest denominator that is at most a
// billionth off; the number itself where there is none up to a million. What
// loads leave of a job is a share of it, and known no better.
func plainest(r *big.Rat) *big.Rat {
	tolerance := big.NewRat(1, 1_000_000_000)
	value, _ := r.Float64()
	for q := int64(1); q <= 1_000_000; q++ {
		// A float is good enough to say which numerator it must be.
		p := int64(value*float64(q) + 0.5)
		if off := float64(p) - value*float64(q); off > 1e-3 || off < -1e-3 {
			continue
		}
		if f := big.NewRat(p, q); near(f, r, tolerance) {
			return f
		}
	}
	return r
}

// addTotes adds the totes that are opened or hang on a connection, in the order
// of their opening.
func (d *day) addTotes(in *model.Input) {
	if in.Underway == nil {
		return
	}
	d.totes = map[[2]int]*container{}
	for _, t := range in.Underway.Totes {
		p := d.products[t.Product]
		if p == nil || !p.metered || p.bulk {
			continue
		}
		c := &container{left: t.Left.Rat(), freeAt: t.FreeFrom}
		if t.Opened {
			c.opened = p.openContainers() + 1
		}
		p.onHand = add(p.onHand, c.left)
		p.containers = append(p.containers, c)
		if t.Bay >= 0 {
			d.totes[[2]int{t.Bay, t.Connection}] = c
		}
	}
}

// hang returns the tote on a connection of a day that has begun, or nil.
func (d *day) hang(b *bay, connection int) *container { return d.totes[[2]int{b.index, connection}] }
