package planner

import (
	"cmp"
	"slices"

	"padturn/model"
)

// spans lists what each sprayer does from coming to the pad for its first
// load until it is back with its last.
func (w *workshop) spans(loads []model.PlannedLoad) []model.Span {
	p := w.in.p
	var list []model.Span
	back := make([]model.Clock, len(p.Sprayers))
	for i := range p.Sprayers {
		back[i] = w.in.sprayers[i].base
	}
	for i := range loads {
		list = append(list, w.turn(&loads[i], i, back[loads[i].Sprayer])...)
		back[loads[i].Sprayer] = loads[i].BackAt
	}
	slices.SortStableFunc(list, func(x, y model.Span) int { return cmp.Compare(x.Sprayer, y.Sprayer) })
	return list
}

// turn lists one turn of a sprayer that came back to the pad at back.
func (w *workshop) turn(pl *model.PlannedLoad, index int, back model.Clock) []model.Span {
	var list []model.Span
	t := back
	add := func(what model.SpanKind, to model.Clock, always bool) {
		if to > t || always {
			list = append(list, model.Span{Sprayer: pl.Sprayer, Load: index, What: what, From: t, To: to})
		}
		t = to
	}
	late := min(model.Clock(pl.Wait), pl.Start-pl.Ready) // it waits last, so after the cleanout first
	if pl.Cleanout != model.None {
		add(model.SpanHeld, pl.CleanoutFrom-(model.Clock(pl.Wait)-late), false)
		add(model.SpanWait, pl.CleanoutFrom, false)
		add(model.SpanCleanout, pl.Ready, false)
	}
	add(model.SpanHeld, pl.Start-late, false)
	add(model.SpanWait, pl.Start, false)
	add(model.SpanFill, pl.End, false)
	for i := range pl.Parts {
		add(model.SpanDrive, t+model.Clock(pl.DriveTo(i)), true)
		for _, s := range w.sprayed(pl, i, t) {
			add(model.SpanPause, s.from, false)
			add(model.SpanSpray, s.to, false)
		}
	}
	add(model.SpanDrive, t+model.Clock(pl.DriveBack), true)
	return list
}

// sprayed lists when a part is being sprayed by a sprayer that is there at t.
func (w *workshop) sprayed(pl *model.PlannedLoad, part int, t model.Clock) []span {
	var list []span
	rest := model.Clock(pl.Parts[part].Spray)
	for _, b := range w.blockedSpans(pl.Sprayer, pl.Parts[part].Job) {
		if b.to <= t {
			continue
		}
		if b.from >= t+rest {
			break
		}
		if b.from > t {
			list = append(list, span{t, b.from})
			rest -= b.from - t
		}
		t = b.to
	}
	return append(list, span{t, t + rest})
}
