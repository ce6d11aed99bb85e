package planner

import "padturn/model"

// lineBay is what bays that are alike may be paid at the present prices of kinds, if they do
// not fill a sprayer again before it can be back.
type lineBay struct {
	*bayPrices
	// toGo is by the slot in which a filling ends and its line the least that the bay costs
	// from then on, its set-ups less what it is paid. next is what it does.
	toGo [][]model.Money
	next [][]nextFill
	// start is by slot and kind the least that the bay costs where it starts such a
	// filling in the slot or later; at is when.
	start [][]model.Money
	at    [][]int16
	best  [][]fillCost // by slot and line: the best of its kinds to start
	first [][]firstTwo // by slot and mix: likewise, and the best of another sprayer
	after []firstTwo   // by mix: those after its fillings that end in a slot
	opens []lineOpening
}

// lineOpening is what one of the bays costs, and what it fills first.
type lineOpening struct {
	*openingPrices
	toGo model.Money
	fill nextFill
}

// nextFill is a kind that a bay fills next, and from which slot on it may start.
type nextFill struct{ kind, from int16 }

// noFill is where a bay fills nothing any more.
var noFill = nextFill{kind: model.None}

// fillCost is what it costs to fill a kind next.
type fillCost struct {
	kind int16
	cost model.Money
}

// firstTwo is the best of some kinds to fill next, and the best of another sprayer.
type firstTwo [2]fillCost

// goByLine has bays paid by prices of kinds from now on.
func (p *pricing) goByLine() {
	p.byLine = true
	for _, b := range p.bays {
		p.lineBays = append(p.lineBays, p.newLineBay(b))
	}
}

func (p *pricing) newLineBay(of *bayPrices) *lineBay {
	b := &lineBay{bayPrices: of, after: make([]firstTwo, len(of.fills))}
	for range p.slots + 1 {
		b.toGo, b.next = append(b.toGo, make([]model.Money, len(p.lines))), append(b.next, make([]nextFill, len(p.lines)))
		b.start, b.at = append(b.start, make([]model.Money, len(p.kinds))), append(b.at, make([]int16, len(p.kinds)))
		b.best, b.first = append(b.best, make([]fillCost, len(p.lines))), append(b.first, make([]firstTwo, len(of.fills)))
	}
	for _, open := range of.bays {
		b.opens = append(b.opens, lineOpening{openingPrices: open})
	}
	return b
}

// priceLines works out the least that bays cost that are alike.
func (p *pricing) priceLines(b *lineBay) {
	share := p.in.overtime.For(1) / model.Money(len(p.in.bays)) // the last bay to end pays for all
	for slot := p.slots; slot >= 0; slot-- {
		p.priceStarts(b, slot)
		p.priceEnds(b, slot, share*model.Money(max(p.timeOf(slot)-p.in.closes, 0)))
	}
	for i := range b.opens {
		p.priceFirst(b, &b.opens[i])
	}
}

// priceStarts works out what it costs to start fillings in a slot or later.
func (p *pricing) priceStarts(b *lineBay, slot int32) {
	start, at, best, first := b.start[slot], b.at[slot], b.best[slot], b.first[slot]
	for n := range best {
		best[n].cost = noWay
	}
	for k := range p.kinds {
		kind := &p.kinds[k]
		start[k], at[k] = noWay, int16(slot)
		if slot == p.slots || !b.fills[p.lines[kind.line].mix] {
			continue
		}
		if end := slot + kind.slots; slot >= kind.first && end <= b.clear[slot] {
			start[k] = b.toGo[end][kind.line] - p.prices[k][slot]
		}
		if later := b.start[slot+1][k]; later < start[k] {
			start[k], at[k] = later, b.at[slot+1][k]
		}
		if start[k] < best[kind.line].cost {
			best[kind.line] = fillCost{int16(k), start[k]}
		}
	}
	for m := range first {
		first[m][0].cost, first[m][1].cost = noWay, noWay
	}
	for n := range best {
		p.note(&first[p.lines[n].mix], best[n])
	}
}

// note keeps a kind if it is among the best two.
func (p *pricing) note(two *firstTwo, x fillCost) {
	isOther := two[0].cost < noWay && p.lineOfKind(two[0].kind).sprayer != p.lineOfKind(x.kind).sprayer
	switch {
	case x.cost < two[0].cost:
		if isOther {
			two[1] = two[0]
		}
		two[0] = x
	case x.cost < two[1].cost && isOther:
		two[1] = x
	}
}

func (p *pricing) lineOfKind(k int16) *fillLine { return &p.lines[p.kinds[k].line] }

// priceEnds works out what follows fillings that end in a slot, if the bay costs so much
// that fills no more. A sprayer is not filled again before it can be back.
func (p *pricing) priceEnds(b *lineBay, slot int32, stop model.Money) {
	for m := range b.after {
		if b.fills[m] {
			b.after[m] = p.firstAfter(b, slot, m)
		}
	}
	for n := range p.lines {
		line := &p.lines[n]
		if !b.fills[line.mix] || slot < line.ends {
			continue
		}
		least, next := stop, noFill
		for _, x := range b.after[line.mix] {
			if x.cost < least && p.lineOfKind(x.kind).sprayer != line.sprayer {
				least, next = x.cost, nextFill{x.kind, int16(slot + p.setUps[line.mix][p.lineOfKind(x.kind).mix].slots)}
			}
		}
		for _, own := range p.linesOf[line.sprayer] {
			set := &p.setUps[line.mix][p.lines[own].mix]
			from := slot + max(set.slots, line.away)
			if from >= p.slots {
				continue
			}
			if x := &b.best[from][own]; set.money+x.cost < least {
				least, next = set.money+x.cost, nextFill{x.kind, int16(from)}
			}
		}
		b.toGo[slot][n], b.next[slot][n] = least, next
	}
}

// firstAfter returns the best kinds to fill after a filling of a mix that ends in a slot.
func (p *pricing) firstAfter(b *lineBay, slot int32, mix int) firstTwo {
	var two firstTwo
	two[0].cost, two[1].cost = noWay, noWay
	for m := range b.fills {
		set := &p.setUps[mix][m]
		if !b.fills[m] || slot+set.slots >= p.slots {
			continue
		}
		for _, x := range b.first[slot+set.slots][m] {
			if x.cost < noWay/2 {
				p.note(&two, fillCost{x.kind, set.money + x.cost})
			}
		}
	}
	return two
}

func (p *pricing) priceFirst(b *lineBay, open *lineOpening) {
	open.toGo, open.fill = 0, noFill
	for k := range p.kinds {
		set := &open.setUp[p.lineOfKind(int16(k)).mix]
		from := open.from + set.slots
		if from >= p.slots {
			continue
		}
		if cost := set.money + b.start[from][k]; cost < open.toGo {
			open.toGo, open.fill = cost, nextFill{int16(k), int16(from)}
		}
	}
}

// eachStart goes through the fillings that a bay does, and when they start.
func (p *pricing) eachStart(b *lineBay, open *lineOpening, yield func(kind int16, slot int32)) {
	for x := open.fill; x.kind != noFill.kind; {
		at := b.at[x.from][x.kind]
		yield(x.kind, int32(at))
		x = b.next[int32(at)+p.kinds[x.kind].slots][p.kinds[x.kind].line]
	}
}
