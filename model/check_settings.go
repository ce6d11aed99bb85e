package model

import (
	"fmt"
	"time"
)

// Limits of settings: generous, to catch a slipped digit or unit.
var (
	minutesLimit = limits{0, WholeDecimal(24 * 60), "minutes", false}
	gallonsLimit = limits{0, WholeDecimal(10_000_000), "gal", false}
	flowLimit    = limits{0, WholeDecimal(10_000), "gal/min", true}
	dollarLimit  = limits{0, WholeDecimal(100_000), "dollars", false}
	shareLimit   = limits{0, One, "(a share)", false}
)

// buildSettings checks day.yaml's own values; bays are built when products
// are known.
func (b *builder) buildSettings() {
	s := &b.in.Settings
	if s.Date != "" {
		if _, err := time.Parse(time.DateOnly, s.Date); err != nil {
			b.fail(DayTable, None, "date", s.Date, "expected a date such as 2026-05-04")
		}
	}
	b.oneOf(DayTable, None, "units", s.Units, "us", "metric")
	b.oneOf(DayTable, None, "split", s.Split, "even", "full_first")
	if b.oneOf(DayTable, None, "adding_order", s.AddingOrder, AddingOrderNames()...) {
		b.order, _ = FindAddingOrder(s.AddingOrder)
	}
	b.within(DayTable, None, "share_max_min", s.ShareMaxMin, minutesLimit)
	b.within(DayTable, None, "freeze_min", s.FreezeMin, minutesLimit)
	b.timesInOrder("spray_from", s.SprayFrom, "spray_until", s.SprayUntil)
	b.buildPad(&s.Pad)
	for i, l := range s.RinseLevels {
		b.checkLevel("rinse_levels", i, l)
	}
	for i, l := range s.CleanoutLevels {
		b.checkLevel("cleanout_levels", i, l)
	}
	b.checkCosts(&s.Costs)
}

func (b *builder) timesInOrder(fromKey string, from Clock, untilKey string, until Clock) {
	if from >= until {
		b.fail(DayTable, None, untilKey, until.HHMM(), "must be later than %s (%s)", fromKey, from.HHMM())
	}
}

func (b *builder) buildPad(pad *PadSettings) {
	b.timesInOrder("pad.opens", pad.Opens, "pad.closes", pad.Closes)
	if pad.OvertimeUntil != nil && *pad.OvertimeUntil < pad.Closes {
		b.fail(DayTable, None, "pad.overtime_until", pad.OvertimeUntil.HHMM(), "must not be earlier than pad.closes (%s)", pad.Closes.HHMM())
	}
	if (pad.Lat == nil) != (pad.Lon == nil) {
		b.fail(DayTable, None, "pad.lat", "", "lat and lon go together")
	}
	if len(pad.Bays) == 0 {
		b.fail(DayTable, None, "pad.bays", "", "at least one bay is needed")
	}
	b.withinOpt(DayTable, None, "pad.between_min", pad.BetweenMin, minutesLimit)
	b.withinOpt(DayTable, None, "pad.rinsate_gal", pad.RinsateGal, gallonsLimit)
	b.within(DayTable, None, "pad.carrier_gpm", pad.CarrierGpm, flowLimit)
	b.within(DayTable, None, "pad.meter_gpm", pad.MeterGpm, flowLimit)
	b.within(DayTable, None, "pad.carrier_first", pad.CarrierFirst, shareLimit)
	b.within(DayTable, None, "pad.hopper_lb_per_min", pad.HopperLbPerMin, limits{0, WholeDecimal(10_000), "lb/min", true})
	seconds := limits{0, WholeDecimal(3600), "seconds", false}
	b.within(DayTable, None, "pad.jug_sec", pad.JugSec, seconds)
	b.within(DayTable, None, "pad.bag_sec", pad.BagSec, seconds)
	b.within(DayTable, None, "pad.push_gal", pad.PushGal, gallonsLimit)
	for _, m := range []struct {
		key   string
		value Decimal
	}{
		{"hookup_min", pad.HookupMin}, {"unhook_min", pad.UnhookMin}, {"push_min", pad.PushMin},
		{"settle_dry_min", pad.SettleDryMin}, {"settle_liquid_min", pad.SettleLiquidMin},
		{"changeover_min", pad.ChangeoverMin},
	} {
		b.within(DayTable, None, "pad."+m.key, m.value, minutesLimit)
	}
	if w := pad.Water; w != nil {
		b.checkWater(w)
	}
}

func (b *builder) checkWater(w *WaterSettings) {
	b.within(DayTable, None, "pad.water.capacity_gal", w.CapacityGal, gallonsLimit)
	b.within(DayTable, None, "pad.water.on_hand_gal", w.OnHandGal, gallonsLimit)
	b.within(DayTable, None, "pad.water.refill_gpm", w.RefillGpm, limits{0, flowLimit.most, flowLimit.unit, false})
	if w.OnHandGal > w.CapacityGal {
		b.fail(DayTable, None, "pad.water.on_hand_gal", w.OnHandGal.String(), "is more than capacity_gal (%s)", w.CapacityGal)
	}
}

func (b *builder) checkLevel(list string, i int, l LevelSettings) {
	key := fmt.Sprintf("%s[%d]", list, i)
	b.within(DayTable, None, key+".min", l.Min, minutesLimit)
	b.within(DayTable, None, key+".gal", l.Gal, gallonsLimit)
}

func (b *builder) checkCosts(c *CostSettings) {
	for _, m := range []struct {
		key   string
		value Decimal
	}{
		{"wait_per_h", c.WaitPerH}, {"crew_per_h", c.CrewPerH}, {"changeover", c.Changeover},
		{"rinsate_per_gal", c.RinsatePerGal}, {"late_per_h", c.LatePerH},
		{"overtime_per_h", c.OvertimePerH}, {"timeliness_per_ac_h", c.TimelinessPerAcH},
		{"change_told", c.ChangeTold},
	} {
		b.within(DayTable, None, "costs."+m.key, m.value, dollarLimit)
	}
}

// buildBays looks up what is on the connections of each bay.
func (b *builder) buildBays() {
	for i, s := range b.in.Settings.Pad.Bays {
		key := fmt.Sprintf("pad.bays[%d]", i)
		bay := Bay{Name: s.Name, Connections: s.Connections, LastMix: None}
		if s.Connections < 0 || s.Connections > 100 {
			b.fail(DayTable, None, key+".connections", fmt.Sprint(s.Connections), "expected 0 to 100")
		}
		bay.Plumbed = b.connected(key+".plumbed", s.Plumbed, nil)
		bay.Hooked = b.connected(key+".hooked", s.Hooked, bay.Plumbed)
		if n := len(s.Plumbed) + len(s.Hooked); n > s.Connections {
			b.fail(DayTable, None, key+".connections", fmt.Sprint(s.Connections), "is too few connections: %s plumbed or hooked up", areProducts(n))
		}
		bay.LastMix = b.lookUp(&b.mixes, "mixes.csv", DayTable, None, key+".last_mix", s.LastMix)
		if len(s.Carriers) == 0 {
			bay.Carriers = []int{None}
		}
		for j, c := range s.Carriers {
			bay.Carriers = append(bay.Carriers, b.productOrWater(DayTable, None, fmt.Sprintf("%s.carriers[%d]", key, j), c))
		}
		b.p.Bays = append(b.p.Bays, bay)
	}
	b.checkHookedContainers()
}

func areProducts(n int) string {
	if n == 1 {
		return "1 product is"
	}
	return fmt.Sprintf("%d products are", n)
}

// connected looks up products on connections, each of which must be metered
// and there only once.
func (b *builder) connected(key string, list []string, taken []int) []int {
	var products []int
	for i, name := range list {
		at := fmt.Sprintf("%s[%d]", key, i)
		j := b.lookUp(&b.products, "products.csv", DayTable, None, at, name)
		if j == None {
			continue
		}
		if !b.p.Products[j].Metered && !b.unsure[j] {
			b.fail(DayTable, None, at, name, "goes through the hopper; only metered products are on connections")
		}
		for _, k := range append(taken, products...) {
			if k == j {
				b.fail(DayTable, None, at, name, "is on this bay already; a product is on at most one connection of a bay")
			}
		}
		products = append(products, j)
	}
	return products
}

// checkHookedContainers makes sure that the totes on the connections at the
// opening exist. Of a day that has begun Underway says what is left in each, and
// an empty one still hangs.
func (b *builder) checkHookedContainers() {
	if b.in.Underway != nil {
		return // it lists what hangs where
	}
	onBays := make([]int, len(b.p.Products))
	for i, bay := range b.p.Bays {
		for _, j := range append(append([]int{}, bay.Plumbed...), bay.Hooked...) {
			product := &b.p.Products[j]
			onBays[j]++
			if product.toldApart() && !b.maybeStocked[j] && onBays[j] > len(product.Containers) {
				b.fail(DayTable, None, fmt.Sprintf("pad.bays[%d].hooked", i), product.Name,
					"is on %s at the opening, but stock.csv has %s of it",
					Count(onBays[j], "bay"), Count(len(product.Containers), "container"))
			}
		}
	}
}
