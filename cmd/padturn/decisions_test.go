package main

import (
	"math/rand/v2"
	"slices"

	"padturn/model"
	"padturn/planner"
)

// randomDecisions decides a day by chance, but so that the decisions are fit.
func randomDecisions(p *model.Problem, rng *rand.Rand) planner.Decisions {
	d := planner.Decisions{
		Routes:  make([][]planner.Run, len(p.Sprayers)),
		TakeOff: planner.TakeOff(rng.IntN(2)),
	}
	orders := make([][]int, len(p.Sprayers))
	for _, job := range rng.Perm(len(p.Jobs)) {
		s := p.Jobs[job].Sprayer
		if s == model.None {
			s = rng.IntN(len(p.Sprayers))
		}
		orders[s] = append(orders[s], job)
	}
	for s, order := range orders {
		if rng.IntN(2) == 0 {
			slices.Sort(order) // neighbours of the file often may share
		}
		d.Routes[s] = randomRuns(p, s, order, rng)
		for k := range loadsOf(p, s, d.Routes[s]) {
			d.Sequence = append(d.Sequence, planner.Slot{Sprayer: s})
			if rng.IntN(30) == 0 {
				d.Omitted = append(d.Omitted, planner.LoadRef{Sprayer: s, Load: k})
			}
		}
	}
	rng.Shuffle(len(d.Sequence), func(i, j int) { d.Sequence[i], d.Sequence[j] = d.Sequence[j], d.Sequence[i] })
	for i := range d.Sequence {
		d.Sequence[i].Bay = rng.IntN(len(p.Bays))
	}
	if rng.IntN(4) > 0 {
		useFitBays(p, &d)
	}
	return d
}

// randomRuns joins neighbours of an order into runs where they may share, by
// chance.
func randomRuns(p *model.Problem, sprayer int, order []int, rng *rand.Rand) []planner.Run {
	var runs []planner.Run
	for i, job := range order {
		if i > 0 && p.MayShare(sprayer, order[i-1], job) && rng.IntN(3) > 0 {
			runs[len(runs)-1] = append(runs[len(runs)-1], job)
			continue
		}
		runs = append(runs, planner.Run{job})
	}
	return runs
}

// loadsOf lists the mixes of a sprayer's loads.
func loadsOf(p *model.Problem, sprayer int, runs []planner.Run) []int {
	var mixes []int
	for _, run := range runs {
		for _, l := range p.RunLoads(sprayer, run) {
			mixes = append(mixes, l.Mix)
		}
	}
	return mixes
}

// useFitBays gives every load to a bay that has its carrier.
func useFitBays(p *model.Problem, d *planner.Decisions) {
	given := make([]int, len(p.Sprayers))
	for i := range d.Sequence {
		slot := &d.Sequence[i]
		mixes := loadsOf(p, slot.Sprayer, d.Routes[slot.Sprayer])
		carrier := p.Mixes[mixes[given[slot.Sprayer]]].Carrier
		given[slot.Sprayer]++
		for !slices.Contains(p.Bays[slot.Bay].Carriers, carrier) {
			slot.Bay = (slot.Bay + 1) % len(p.Bays)
		}
	}
}
