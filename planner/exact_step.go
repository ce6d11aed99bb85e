package planner

import (
	"padturn/model"
)

// step is one load more: which sprayer takes which of its turns at which bay,
// and what comes off the bay's connections for it.
type step struct {
	sprayer, bay int8
	turn         int16
	off          uint32
}

// successor is a state that a step leads to.
type successor struct {
	step  step
	key   uint64
	depth int32
	value model.Money
	toGo  model.Money // certainly still to come: see plainToGo
	times []int32
}

// stepper lists the steps out of labels. It keeps its own workspace.
type stepper struct {
	m       *padModel
	at      *state
	arcs    []arc    // out of the state that was read last, once they are listed
	callers []caller // to the pad, behind the arcs
	stops   []int32  // of a successor
	found   []successor
	times   []int32 // of all that are found, one after another
	pads    padMemory
	// putsOff says whether loads may be put off until a hold catches them.
	putsOff bool
	// takesAny says whether what is still wanted may come off where something that is
	// not wanted any more hangs: a plan can have it so.
	takesAny bool
	// In a beam: what the label comes to at least, and the pass that says whether one
	// that comes to so much is wanted in a layer; else nil.
	rank   model.Money
	wanted *pass
}

func newStepper(m *padModel) *stepper {
	return &stepper{m: m, at: m.newState(), stops: make([]int32, len(m.graphs)), pads: padMemory{all: m.pads}}
}

// read takes the key of the state apart that steps are wanted out of.
func (s *stepper) read(key uint64) {
	s.m.read(key, s.at)
	s.at.pad = s.pads.pad(key >> s.m.padAt)
	s.arcs, s.callers = s.arcs[:0], s.callers[:0]
}

// from lists the successors of a label of the state that was read last.
func (s *stepper) from(t []int32, value model.Money) []successor {
	s.found, s.times = s.found[:0], s.times[:0]
	if len(s.arcs) == 0 {
		s.listArcs()
	}
	for n := range s.arcs {
		s.put(&s.arcs[n], t, value)
	}
	return s.found
}

// put works out the successors along an arc.
func (s *stepper) put(a *arc, t []int32, value model.Money) {
	m, in, tu, b := s.m, s.m.in, a.turn, int(a.step.bay)
	from := len(s.times)
	s.times = append(s.times, t...)
	times := s.times[from:]
	setUp, money := s.setUp(tu, b, uint64(a.step.off), times)
	ready := tu.ready(in, model.Clock(t[m.readyAt+int(a.step.sprayer)]))
	start := max(setUp, ready, in.now)
	if !m.oneBay {
		start = max(start, model.Clock(t[m.bays]))
	}
	inside, most, there := s.supplies(tu.l, b, times)
	x := filling{arc: a, t: t, value: value}
	for ; inside <= most; inside++ {
		x.fill, x.money = tu.l.FillSeconds(inside), money+model.Money(inside)*in.changeMoney
		s.startAt(&x, max(start, there), from)
		if from = len(s.times); inside < most {
			s.times = append(s.times, t...)
		}
	}
}

// startAt works out the successors of a filling that starts as soon as it can from a
// moment on, or is put off. The times of the first stand from so many on: see fill.
func (s *stepper) startAt(x *filling, at model.Clock, from int) {
	l, b := x.arc.turn.l, int(x.arc.step.bay)
	start := s.clear(l, at, x.fill, b)
	if start == model.Never {
		s.times = s.times[:from]
		return
	}
	s.fill(x, start, from)
	if !s.putsOff {
		return
	}
	for _, jump := range x.arc.turn.jumps {
		if later := s.clear(l, jump-model.Clock(x.fill), x.fill, b); later > start {
			again := len(s.times)
			s.times = append(s.times, x.t...)
			s.fill(x, later, again)
		}
	}
}

// filling is a load along an arc from a label, of which all is known but when it starts.
type filling struct {
	arc   *arc
	t     []int32
	value model.Money
	fill  model.Seconds
	money model.Money // set-up and changeovers
}

// fill works out the successor of a filling that starts at a moment. Its times
// stand from so many on, and are those before it but for what is in totes.
func (s *stepper) fill(x *filling, start model.Clock, from int) {
	m, in := s.m, s.m.in
	i, b, t, tu := int(x.arc.step.sprayer), int(x.arc.step.bay), x.t, x.arc.turn
	times := s.times[from:]
	end := start + model.Clock(x.fill)
	rate := m.graphs[i].wait
	money := x.money + tu.fixed + rate.For(model.Seconds(start-tu.paidFrom(in, model.Clock(t[m.readyAt+i]))))
	inFields, back := tu.afterwards(end)
	money += inFields
	stop, to := &m.graphs[i].stops[s.at.stops[i]], &m.graphs[i].stops[tu.to]
	if s.wanted != nil && !s.wanted.wanted(s.at.depth-stop.depth+to.depth, s.rank+money+to.fixed-stop.fixed) {
		s.times = s.times[:from]
		return
	}
	money += rate.For(model.Seconds(t[m.readyAt+i]))
	if len(m.graphs[i].stops[tu.to].turns) > 0 {
		money -= rate.For(model.Seconds(back))
	}
	times[b] = int32(end)
	if !m.oneBay {
		times[m.bays] = int32(start)
	}
	times[m.readyAt+i] = int32(back)
	if !x.arc.known {
		s.know(x.arc)
	}
	if x.arc.lost {
		return
	}
	s.settle(x.arc, times)
	s.found = append(s.found, successor{x.arc.step, x.arc.key, x.arc.depth, x.value + money, s.plainToGo(x.arc, times), times})
}

// clear returns when a load can start on a bay at or after a moment: while the bay
// is not shut and, for plans, while it can still be sprayed out; else Never.
func (s *stepper) clear(l *load, start model.Clock, fill model.Seconds, b int) model.Clock {
	shut := s.m.in.bays[b].shut
	if s.m.use == forBounds {
		return afterShut(shut, start, fill)
	}
	return s.m.in.bayStart(l, start, fill, shut)
}

// setUp returns when a bay is set up for a turn, and what that costs.
func (s *stepper) setUp(tu *turn, b int, off uint64, numbers []int32) (model.Clock, model.Money) {
	in := s.m.in
	var money model.Money
	t := max(model.Clock(numbers[b]), in.now)
	for i := range s.m.hanging {
		if x := &s.m.hanging[i]; off&(1<<x.metered) != 0 {
			x.takeOff(b, numbers)
		}
	}
	if r := s.m.rinse[s.at.pad.mix[b]][tu.l.mix]; r != model.None {
		t = afterShut(in.bays[b].shut, t, in.rinses[r].time) + model.Clock(in.rinses[r].time)
		money += in.rinses[r].money
	}
	missing := tu.l.wants[0] &^ (in.bays[b].plumbed[0] | s.at.pad.on[b])
	for i := range tu.l.metered {
		n := tu.l.metered[i].n
		isMissing := missing&(1<<n) != 0
		if !isMissing && !s.hangsEmpty(n, b, numbers) {
			continue
		}
		t = max(t, s.toteAt(n, b, numbers))
		t = afterShut(in.bays[b].shut, t, in.change) + model.Clock(in.change)
		money += in.changeMoney
	}
	return t, money
}

// hangsEmpty says whether a product's tote in use is empty.
func (s *stepper) hangsEmpty(n, b int, numbers []int32) bool {
	if x := s.m.toteOn(n); x != nil {
		return numbers[x.at+2+b] == 0
	}
	if !s.m.oneBay || s.m.in.toteOf[n] == model.None {
		return false
	}
	line, used := &s.m.totes[s.m.in.toteOf[n]], s.at.need[s.m.in.toteOf[n]]
	if s.at.unsure[s.m.in.toteOf[n]] > 0 {
		return false
	}
	for _, sum := range line.upTo {
		if sum+stockSlack >= used {
			return sum <= used
		}
	}
	return false
}

// toteAt puts the next tote of a product on, and returns when it is at the pad.
func (s *stepper) toteAt(n, b int, numbers []int32) model.Clock {
	if x := s.m.toteOn(n); x != nil {
		from, _ := x.putOn(b, numbers) // where there is none, the evaluator finds out
		return from
	}
	if !s.m.oneBay || s.m.in.toteOf[n] == model.None {
		return 0
	}
	line, used := &s.m.totes[s.m.in.toteOf[n]], s.at.need[s.m.in.toteOf[n]]
	if s.at.unsure[s.m.in.toteOf[n]] > 0 {
		return 0
	}
	for i, sum := range line.upTo {
		if sum > used {
			return line.from[i]
		}
	}
	return 0
}

// supplies returns how many totes run dry inside a load, at least and at the most, and
// when all that it takes is at the pad.
func (s *stepper) supplies(l *load, b int, numbers []int32) (inside, most int, at model.Clock) {
	if !s.m.oneBay && s.m.use == forBounds {
		return 0, 0, 0
	}
	maybe := 0
	for i := range l.totes {
		if x := s.m.toteOn(l.totes[i].n); x != nil {
			further, from := x.draw(b, l.totes[i].amount, numbers)
			inside, at = inside+further, max(at, from)
		}
	}
	for _, d := range l.needs {
		used := s.at.need[d.n]
		at = max(at, s.arrivalOf(d.n, used+d.amount))
		if !s.m.oneBay {
			continue
		}
		line, unsure := &s.m.totes[d.n], s.at.unsure[d.n]
		for i, sum := range line.upTo {
			switch {
			case sum <= used || sum >= used+unsure+d.amount-stockSlack:
			case sum > used+unsure && sum < used+d.amount-stockSlack:
				inside++
				if i+1 < len(line.from) {
					at = max(at, line.from[i+1])
				}
			default:
				maybe++
			}
		}
	}
	return inside, inside + maybe, at
}

// arrivalOf returns when so much of a product has come to the pad.
func (s *stepper) arrivalOf(n int, amount model.Decimal) model.Clock {
	p := &s.m.in.tracked[n]
	if p.onHand+stockSlack >= amount {
		return 0
	}
	for _, d := range p.deliveries {
		if p.onHand+d.sum+stockSlack >= amount {
			return d.at
		}
	}
	return 0 // never, which the evaluator finds out
}
