package planner

import "padturn/model"

// stockSlack is how much less than its need a load may start on: a millionth
// of the stock unit, for the rounding of amounts to billionths.
const stockSlack = model.One / 1_000_000

// trackStock lays out the products that can run short or run a tote dry. A
// product whose opening stock covers every job is left out, unless it hangs on
// connections tote by tote.
func (in *instance) trackStock() {
	demand := in.demand()
	in.trackedOf = make([]int, len(in.p.Products))
	for i := range in.p.Products {
		product := &in.p.Products[i]
		in.trackedOf[i] = model.None
		discrete := product.Metered && !product.Bulk
		if demand[i] == 0 || !discrete && product.OnHand() >= demand[i] {
			continue
		}
		in.trackedOf[i] = len(in.tracked)
		t := trackedProduct{product: i, onHand: product.OnHand(), discrete: discrete}
		in.addDeliveries(&t)
		if discrete {
			in.addContainers(&t, demand[i])
		}
		in.tracked = append(in.tracked, t)
	}
}

// listTotes notes which metered products are kept in totes.
func (in *instance) listTotes() {
	for _, product := range in.products {
		t := in.trackedOf[product]
		if t != model.None && !in.tracked[t].discrete {
			t = model.None
		}
		in.toteOf = append(in.toteOf, t)
	}
}

// demand returns what all jobs together need of each product.
func (in *instance) demand() []model.Decimal {
	sum := make([]model.Decimal, len(in.p.Products))
	for i, j := range in.p.Jobs {
		sprayer := max(j.Sprayer, 0) // amounts do not depend on the sprayer
		for _, l := range in.p.RunLoads(sprayer, Run{i}) {
			for _, d := range l.Doses {
				sum[d.Product] += d.Amount
			}
			if carrier, amount := carrierDraw(in.p, &l); carrier != model.None {
				sum[carrier] += amount
			}
		}
	}
	return sum
}

// carrierDraw returns the product that is a load's carrier and how much of it
// goes in, in its stock unit; None for water.
func carrierDraw(p *model.Problem, l *model.Load) (int, model.Decimal) {
	carrier := p.Mixes[l.Mix].Carrier
	if carrier == model.None {
		return model.None, 0
	}
	return carrier, p.CarrierAmount(l)
}

func (in *instance) addDeliveries(t *trackedProduct) {
	var sum model.Decimal
	for _, d := range in.p.Deliveries {
		if d.Product == t.product {
			sum += d.Amount()
			t.deliveries = append(t.deliveries, arrival{d.At, sum})
		}
	}
}

// addContainers lists the totes of a product in the order they are used, the
// delivered ones last. More than the day could use, even if each other bay kept
// the largest, are left out.
func (in *instance) addContainers(t *trackedProduct, demand model.Decimal) {
	var kept, largest model.Decimal
	hung := in.lastHung(t.product)
	add := func(c model.Container, from model.Clock, count int) {
		for range count {
			if kept > demand+largest*model.Decimal(len(in.p.Bays)-1) && len(t.containers) > hung {
				return
			}
			kept += c.Left
			largest = max(largest, c.Left)
			opened := neverOpened
			if c.Opened {
				opened = int32(len(t.containers)) - neverOpened // before any that the day opens
			}
			t.containers = append(t.containers, container{left: c.Left, from: from, opened: opened})
		}
	}
	for _, c := range in.p.Products[t.product].Containers {
		add(c, c.From, 1)
	}
	for _, d := range in.p.Deliveries {
		if d.Product == t.product {
			add(d.Container, d.At, d.Count)
		}
	}
}

// nextContainer returns the container that goes on a connection next, or -1
// when none is at the pad and off every bay at that time: opened ones first,
// in the order of opening, then full ones in file order.
func nextContainer(list []container, at model.Clock) int {
	best := -1
	for i := range list {
		c := &list[i]
		if c.onBay || c.from > at || c.left == 0 {
			continue
		}
		if best < 0 || c.opened < list[best].opened {
			best = i
		}
	}
	return best
}
