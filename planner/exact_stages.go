package planner

import "slices"

// stage is a pass that a prover takes: of which model, and how finely.
type stage struct {
	m    *padModel
	fine fineness
	work *work // of the model
}

// How fine passes are where some of a coarser model come first, and those that follow
// them: what the coarser ones say leaves so little that they take next to no time.
var (
	coarsePasses    = []fineness{{cellBits: 11}, {cellBits: 9}, {cellBits: 8}}
	afterwardPasses = []fineness{{cellBits: 7}}
)

// With quickStates or more in a coarser model, a first pass that says little is worth its
// time: it leaves less to the next.
const quickStates = 400_000

// stagesOf lists the passes of a model, whose work is given.
func stagesOf(m *padModel, w *work) []stage {
	passes := m.passes()
	if m.coarser == nil {
		return addStages(nil, m, w, passes)
	}
	c, coarse := m.coarser.m, coarsePasses
	if c.mostStates() < quickStates {
		coarse = coarse[1:]
	}
	list := addStages(nil, c, newWork(c, len(w.hands)), coarse)
	list = addStages(list, m, w, afterwardPasses)
	return addStages(list, m, w, passes[slices.Index(passes, fineness{}):])
}

func addStages(list []stage, m *padModel, w *work, passes []fineness) []stage {
	for _, fine := range passes {
		list = append(list, stage{m, fine, w})
	}
	return list
}

// saysMore says whether a stage may say more than one before it that merged nothing.
func (s *stage) saysMore(before *stage) bool { return s.m != before.m || s.fine.asPlanned }
