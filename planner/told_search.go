package planner

// A replan searches as a day is searched for its first plan, but for what is here: its
// loads are fewer, somebody waits for it, and a plan is there already.

// isRest says whether a day has begun, and only what is left of it is planned.
func (in *instance) isRest() bool { return in.p.Underway != nil }

// restSteps is how many times as many steps a search takes of the rest of a day, whose
// loads are half as many. All of them are the walkers': beams of labels took half of the
// time and found little that walkers do not find as soon.
const restSteps = 2

// restLeads is as leadsAfter in a rest: where a crew was told, the last walker of the
// third round goes on from that.
var restLeads = [rounds]int{searchers, searchers - 1, 1, 1}

// leadsAfter says from how many plans the walkers go on after a round.
func (s *search) leadsAfter(round int) int {
	if s.in.isRest() {
		return restLeads[round]
	}
	return leadsAfter[round]
}

// inRound is the day that is searched in a round: where a crew was told, first as
// if moving what is not frozen weighed nothing, since the best plan is often far
// from the told one.
func (s *search) inRound(round int) *instance {
	if s.in.told != nil && round < rounds/2 {
		return s.unpriced
	}
	return s.in
}

// goOnIn has a walker go on in the same day with other prices of what was told. What
// it found before is dearer or cheaper there.
func (w *walker) goOnIn(in *instance) {
	w.e.in, w.e.shop.in = in, in
	w.bestScore = worst
}
