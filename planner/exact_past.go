package planner

import (
	"slices"

	"padturn/model"
)

// tankPast is what counts of a sprayer's past for its cleanouts: contents, and
// for which levels it has not been cleaned since.
type tankPast []pastContents

type pastContents struct {
	contents int
	open     uint64 // by level
}

// pastSoFar is what a sprayer's tank has had before the loads that are planned.
func (m *graphMaker) pastSoFar() tankPast {
	var past tankPast
	if last := m.in.p.Sprayers[m.sprayer].LastMix; last != model.None {
		past = past.after(last, model.None)
	}
	if !m.in.sprayers[m.sprayer].used {
		return past
	}
	for _, t := range m.shop.history[m.sprayer] {
		past = past.after(t.contents, int(t.cleanout))
	}
	return past.cleaned(int(m.in.sprayers[m.sprayer].cleaned))
}

// cleanout returns the level needed before a load: see evaluator.cleanoutFor.
func (m *graphMaker) cleanout(past tankPast, l *load) int16 {
	need := int16(model.None)
	for _, c := range past {
		if v := m.shop.cleanout[c.contents][l.contents]; v > need && c.open&(1<<v) != 0 {
			need = v
		}
	}
	return need
}

// after returns the past once a cleanout, if there is one, and a load are done.
func (past tankPast) after(contents, level int) tankPast {
	next := tankPast{{contents, ^uint64(0)}}
	for _, c := range past.cleaned(level) {
		if c.contents != contents {
			next = append(next, c)
		}
	}
	slices.SortFunc(next, func(x, y pastContents) int { return x.contents - y.contents })
	return next
}

// cleaned returns the past once a cleanout, if there is one, is done.
func (past tankPast) cleaned(level int) tankPast {
	var next tankPast
	for _, c := range past {
		c.open &^= 1<<(level+1) - 1
		if c.open != 0 {
			next = append(next, c)
		}
	}
	return next
}
