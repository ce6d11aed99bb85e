package audit

import (
	"math/big"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/model"
)

// fieldLoad is a load of 60 acres, a minute each, with ten minutes of drive and
// half an hour of filling, in a mix that keeps for so many hours.
func fieldLoad(lifeHours int64, holds ...hold) (*day, *load) {
	set := model.DefaultSettings() // spraying from 06:00 to 21:00
	d := &day{set: &set, products: map[string]*product{}}
	d.products["p"] = &product{ProductRow: model.ProductRow{Product: "p", TankLifeH: n(lifeHours)}}
	l := &load{
		mix: &mix{contents: []string{"p"}, d: d}, sprayer: &sprayer{secPerAcre: whole(60)}, end: clock(0, 30),
		parts: []*part{{job: &job{}, acres: whole(60), holds: holds}}, legs: []model.Clock{600, 600},
	}
	return d, l
}

func TestFollow(t *testing.T) {
	rain := []hold{{from: clock(7, 0), to: clock(8, 0)}, {from: clock(7, 30), to: clock(9, 0)}}
	cases := []struct {
		name  string
		end   model.Clock
		want  []span
		never bool
	}{
		{"nothing in the way", clock(10, 0), []span{
			{"drive", clock(10, 0), clock(10, 10)}, {"spray", clock(10, 10), clock(11, 10)}, {"drive", clock(11, 10), clock(11, 20)}}, false},
		{"before dawn, then into two holds that overlap", clock(5, 30), []span{
			{"drive", clock(5, 30), clock(5, 40)}, {"pause", clock(5, 40), clock(6, 0)}, {"spray", clock(6, 0), clock(7, 0)},
			{"drive", clock(7, 0), clock(7, 10)}}, false},
		{"caught spraying", clock(6, 20), []span{
			{"drive", clock(6, 20), clock(6, 30)}, {"spray", clock(6, 30), clock(7, 0)}, {"pause", clock(7, 0), clock(9, 0)},
			{"spray", clock(9, 0), clock(9, 30)}, {"drive", clock(9, 30), clock(9, 40)}}, false},
		{"done at the very end", clock(19, 50), []span{
			{"drive", clock(19, 50), clock(20, 0)}, {"spray", clock(20, 0), clock(21, 0)}, {"drive", clock(21, 0), clock(21, 10)}}, false},
		{"a minute too late", clock(19, 51), nil, true},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			d, l := fieldLoad(8, rain...)
			w := d.follow(l, c.end)
			assert.Equal(t, c.never, w.never)
			if !c.never {
				assert.Equal(t, c.want, w.spans)
			}
		})
	}
}

// A cleanout of 30 min begins at 08:20 and the filling at 09:00: of a sprayer that
// is there at 08:00 it is 20 min late, so with the 10 min after it 30 min are paid,
// but for what the tank life costs anyway.
func TestStandingAtThePad(t *testing.T) {
	held, wait, cleanout := "held", "wait", span{"cleanout", clock(8, 20), clock(8, 50)}
	cases := []struct {
		name     string
		earliest model.Clock
		want     []span
	}{
		{"all is paid", clock(8, 30), []span{{wait, clock(8, 0), clock(8, 20)}, cleanout, {wait, clock(8, 50), clock(9, 0)}}},
		{"held before it", clock(8, 35), []span{
			{held, clock(8, 0), clock(8, 5)}, {wait, clock(8, 5), clock(8, 20)}, cleanout, {wait, clock(8, 50), clock(9, 0)}}},
		{"held before and after it", clock(8, 56), []span{
			{held, clock(8, 0), clock(8, 20)}, cleanout, {held, clock(8, 50), clock(8, 56)}, {wait, clock(8, 56), clock(9, 0)}}},
		{"nothing is paid", clock(9, 0), []span{{held, clock(8, 0), clock(8, 20)}, cleanout, {held, clock(8, 50), clock(9, 0)}}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			l := &load{soonest: clock(8, 30), earliest: c.earliest, cleanFrom: clock(8, 20), ready: clock(8, 50), start: clock(9, 0)}
			assert.Equal(t, c.want, slices.DeleteFunc(l.standing(clock(8, 0)), span.empty))
		})
	}
}

// Filling 30 min, drive 10, spraying 60: 100 min at least. With a life of 2 h a
// start has to leave no more than 20 min of pauses.
func TestLifeKept(t *testing.T) {
	rain := hold{from: clock(9, 0), to: clock(11, 0)}
	cases := []struct {
		name    string
		life    int64
		t, want model.Clock
	}{
		{"nothing in the way", 2, clock(7, 0), clock(7, 0)},
		{"sprayed out as the rain begins", 2, clock(7, 20), clock(7, 20)},
		{"starts late enough to wait only 20 min for the end of the rain", 2, clock(8, 0), clock(10, 0)},
		{"caught with a minute to go", 2, clock(7, 21), clock(10, 0)},
		{"a long life does not mind", 5, clock(8, 0), clock(8, 0)},
		{"too short for any start: the moment asked for", 1, clock(8, 0), clock(8, 0)},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			d, l := fieldLoad(c.life, rain)
			assert.Equal(t, c.want.String(), d.lifeKept(l, c.t).String())
		})
	}
}

// A degree of latitude is 3958.7613 × π ÷ 180 = 69.0934 mi; the road is 1.3
// times as long, and 25 mph take 12,934.29 s for it.
func TestDrives(t *testing.T) {
	degree := func(lat float64) *float64 { return &lat }
	set := model.DefaultSettings()
	set.Pad.Lat, set.Pad.Lon = degree(41), degree(-93)
	d := &day{set: &set}
	s := &sprayer{roadMph: whole(25)}
	far := &job{JobRow: model.JobRow{Lat: degree(42), Lon: degree(-93)}}
	least, most := d.padLeg(s, far).seconds()
	assert.Equal(t, []model.Clock{12935, 12935}, []model.Clock{least, most})

	here := &job{JobRow: model.JobRow{Lat: degree(41), Lon: degree(-93)}}
	least, _ = d.fieldLeg(s, far, here).seconds()
	assert.Equal(t, model.Clock(12935), least, "both have a position")

	near := &job{JobRow: model.JobRow{DriveMin: new(model.One * 75 / 10)}}
	least, _ = d.fieldLeg(s, near, near).seconds()
	assert.Equal(t, model.Clock(900), least, "without positions through the pad: 2 × 7.5 min")
	set.Pad.BetweenMin = n(4)
	least, _ = d.fieldLeg(s, near, near).seconds()
	assert.Equal(t, model.Clock(240), least, "or between_min, if that is less")
}

// 1000 gal at 06:00, 10 gal/min, room for 1200. At 07:00 700 gal are used.
func TestWaterFrom(t *testing.T) {
	set := model.DefaultSettings()
	set.Pad.Water = &model.WaterSettings{OnHandGal: *n(1000), CapacityGal: *n(1200), RefillGpm: *n(10)}
	now := tank{set.Pad.Water, clock(6, 0), whole(1000)}
	use := &waterEvent{at: clock(7, 0), use: whole(700)}
	now.take(use)
	assert.Equal(t, whole(500), now.level, "full at 06:20, so 1200 less 700")
	use.after = now
	a := &audit{d: &day{set: &set}, water: []*waterEvent{use}}
	cases := []struct {
		name    string
		t, used model.Clock
		gal     int64
		want    model.Clock
	}{
		{"there at once", clock(6, 0), clock(6, 30), 1000, clock(6, 0)},
		{"comes in 5 min", clock(6, 0), clock(6, 30), 1050, clock(6, 5)},
		{"used by another first", clock(6, 30), clock(9, 0), 600, clock(7, 10)},
		{"more than there is room", clock(6, 0), clock(6, 30), 1201, model.Never},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			assert.Equal(t, c.want, a.waterFrom(c.t, c.used, whole(c.gal)))
		})
	}
}

// Sprayed: sulfonyl on corn. A rule wants a triple rinse between it and beans,
// another a water flush between any two mixes.
func TestCleanoutLooksBack(t *testing.T) {
	set := model.DefaultSettings()
	d := &day{set: &set, rules: []model.RuleRow{
		{Where: "sprayer", After: "sulfonyl", Before: "crop:beans", Level: "triple rinse"},
		{Where: "sprayer", After: "*", Before: "*", Level: "water flush"},
	}}
	mixOf := func(name string, contents ...string) *mix { return &mix{name: name, contents: contents, d: d} }
	first, second, third := mixOf("first", "sulfonyl"), mixOf("second", "other"), mixOf("third", "sulfonyl", "more")
	on := func(m *mix, crop string, cleanout int) *load {
		return &load{mix: m, cleanout: cleanout, parts: []*part{{job: &job{JobRow: model.JobRow{Crop: crop}}}}}
	}
	const flush, triple = 0, 1
	cases := []struct {
		name string
		past []*load
		next *load
		want string
	}{
		{"same mix, same crop", []*load{on(first, "corn", -1)}, on(first, "corn", -1), ""},
		{"same mix, on beans for the first time", []*load{on(first, "corn", -1)}, on(first, "beans", -1), "triple rinse"},
		{"same mix, on beans before", []*load{on(first, "beans", -1)}, on(first, "beans", -1), ""},
		{"other mix", []*load{on(first, "corn", -1)}, on(second, "corn", -1), "water flush"},
		{"over a lighter cleanout", []*load{on(first, "corn", -1), on(second, "corn", flush)}, on(second, "beans", -1), "triple rinse"},
		{"not over one of its level", []*load{on(first, "corn", -1), on(second, "corn", triple)}, on(second, "beans", -1), ""},
		{"the next mix brings it too, but the crop is new", []*load{on(first, "corn", -1)}, on(third, "beans", -1), "triple rinse"},
		{"the next mix brings it too, on the same crop", []*load{on(first, "beans", -1)}, on(third, "beans", -1), ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			for i := -1; i < len(set.CleanoutLevels); i++ {
				a, p := &audit{d: d}, newPast(nil)
				for _, l := range c.past {
					p.spray(l)
				}
				c.next.cleanout = i
				a.checkCleanout(c.next, p)
				assert.Equal(t, levelName(set.CleanoutLevels, i) == c.want, len(a.found) == 0, "level %d, found %v", i, a.found)
			}
		})
	}
}

// An opened container goes on before a full one, the one first drawn from
// before the others; none that is on a bay, empty or not there yet.
func TestNextContainer(t *testing.T) {
	full := &container{left: whole(100)}
	late := &container{left: whole(100), freeAt: clock(9, 0)}
	second := &container{left: whole(30), opened: 2}
	first := &container{left: whole(40), opened: 1, freeAt: clock(8, 0)}
	empty := &container{left: new(big.Rat), opened: 3}
	p := &product{containers: []*container{empty, full, late, second, first}}
	assert.Same(t, second, p.next(clock(7, 59)))
	assert.Same(t, first, p.next(clock(8, 0)))
	first.on, second.on = &bay{}, &bay{}
	assert.Same(t, full, p.next(clock(9, 0)))
	full.on = &bay{}
	assert.Same(t, late, p.next(clock(9, 0)))
	assert.Nil(t, p.next(clock(8, 0)))
}
