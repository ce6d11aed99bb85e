package planner

import (
	"math/bits"

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
	times []int32
}

// stepper lists the steps out of labels. It keeps its own workspace.
type stepper struct {
	m     *padModel
	at    *state
	stops []int32 // of the successor
	found []successor
	times []int32 // of all that are found, one after another
	pads  padMemory
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
}

// from lists the successors of a label of the state that was read last.
func (s *stepper) from(t []int32, value model.Money) []successor {
	s.found, s.times = s.found[:0], s.times[:0]
	for i := range s.m.graphs {
		stop := &s.m.graphs[i].stops[s.at.stops[i]]
		for k := range stop.turns {
			if stop.turns[k].takes&s.at.taken != 0 {
				continue
			}
			for b := range s.m.bays {
				if s.m.fills[b][stop.turns[k].l.mix] {
					s.serve(i, k, b, t, value)
				}
			}
		}
	}
	return s.found
}

// serve lists the successors in which a sprayer takes a turn at a bay: one for
// each choice of what comes off.
func (s *stepper) serve(i, k, b int, t []int32, value model.Money) {
	tu := &s.m.graphs[i].stops[s.at.stops[i]].turns[k]
	live := s.liveAfter(i, tu)
	own := tu.l.wants[0] &^ s.m.in.bays[b].plumbed[0]
	on := s.at.pad.on[b]
	room := max(s.m.in.bays[b].free-bits.OnesCount64(on), 0) + bits.OnesCount64(on&^(live|own))
	excess := bits.OnesCount64(own&^on) - room
	x := service{i, k, b, t, value, live}
	s.putEach(x, 0, on&live&^own, excess)
	if s.takesAny {
		for n := max(excess, 0) + 1; n <= bits.OnesCount64(own&^on); n++ {
			s.putEach(x, 0, on&live&^own, n)
		}
	}
}

// service is a turn of a sprayer taken at a bay from a label.
type service struct {
	i, k, b int
	t       []int32
	value   model.Money
	live    uint64
}

// liveAfter returns the products that are still wanted once a turn is taken.
func (s *stepper) liveAfter(i int, tu *turn) uint64 {
	live := s.m.graphs[i].stops[tu.to].live
	for j := range s.m.graphs {
		if j != i {
			live |= s.m.graphs[j].stops[s.at.stops[j]].live
		}
	}
	return live
}

// putEach puts a service for each choice of n of a set that comes off besides off.
func (s *stepper) putEach(x service, off, set uint64, n int) {
	if n <= 0 {
		s.put(x.i, x.k, x.b, off, x.t, x.value, x.live)
		return
	}
	for rest := set; bits.OnesCount64(rest) >= n; {
		lowest := rest & -rest
		rest &^= lowest
		s.putEach(x, off|lowest, rest, n-1)
	}
}

// put works out one successor.
func (s *stepper) put(i, k, b int, off uint64, t []int32, value model.Money, live uint64) {
	m, in := s.m, s.m.in
	tu := &m.graphs[i].stops[s.at.stops[i]].turns[k]
	from := len(s.times)
	s.times = append(s.times, t...)
	times := s.times[from:]
	setUp, money := s.setUp(tu, b, off, times)
	ready := tu.ready(in, model.Clock(t[m.readyAt+i]))
	start := max(setUp, ready, in.now)
	if !m.oneBay {
		start = max(start, model.Clock(t[m.bays]))
	}
	inside, most, there := s.supplies(tu.l, b, times)
	x := filling{service: service{i, k, b, t, value, live}, tu: tu, off: off}
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
	l, b := x.tu.l, x.b
	start := s.clear(l, at, x.fill, b)
	if start == model.Never {
		s.times = s.times[:from]
		return
	}
	s.fill(x, start, from)
	if !s.putsOff {
		return
	}
	for _, jump := range x.tu.jumps {
		if later := s.clear(l, jump-model.Clock(x.fill), x.fill, b); later > start {
			again := len(s.times)
			s.times = append(s.times, x.t...)
			s.fill(x, later, again)
		}
	}
}

// filling is a service of which all is known but when it starts.
type filling struct {
	service
	tu    *turn
	off   uint64
	fill  model.Seconds
	money model.Money // set-up and changeovers
}

// fill works out the successor of a filling that starts at a moment. Its times
// stand from so many on, and are those before it but for what is in totes.
func (s *stepper) fill(x *filling, start model.Clock, from int) {
	m, in := s.m, s.m.in
	i, b, t, tu := x.i, x.b, x.t, x.tu
	times := s.times[from:]
	end := start + model.Clock(x.fill)
	rate := m.graphs[i].wait
	money := x.money + tu.fixed + rate.For(model.Seconds(start-tu.paidFrom(in, model.Clock(t[m.readyAt+i]))))
	inFields, back := tu.afterwards(end)
	money += inFields
	if tu.told != nil {
		money -= m.keepTold(tu, b, start, times)
	}
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
	s.add(x, x.value+money, times)
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

// add notes a successor, with its state's key and its times made as late as
// they can be without changing what follows.
func (s *stepper) add(x *filling, value model.Money, times []int32) {
	m, i, b, tu := s.m, x.i, x.b, x.tu
	copy(s.stops, s.at.stops)
	s.stops[i] = tu.to
	pad := s.at.pad
	pad.mix[b] = int16(tu.l.mix)
	pad.on[b] = pad.on[b]&^x.off | tu.l.wants[0]&^m.in.bays[b].plumbed[0]
	for bay := range m.bays {
		pad.on[bay] &= x.live
	}
	id := s.pads.id(&pad)
	if id < 0 {
		return
	}
	taken := s.at.taken | tu.takes
	depth := s.at.depth - m.graphs[i].stops[s.at.stops[i]].depth + m.graphs[i].stops[tu.to].depth
	s.settle(&pad, taken, times)
	s.found = append(s.found, successor{step{int8(i), int8(b), int16(x.k), uint32(x.off)}, m.key(s.stops, taken, id), depth, value, times})
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
