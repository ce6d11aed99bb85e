package tomorrow

import (
	"slices"

	"padturn/model"
	"padturn/model/standing"
)

// sprayers are the same with what their tanks had last.
func (d *day) sprayers() {
	rows := slices.Clone(d.s.Day.Sprayers)
	for i := range rows {
		m := &d.s.Sprayers[i]
		rows[i].LastMix = d.lastMix(i, m)
		if m.Out {
			d.note("%s is out of service: take it out of the sprayers, or set its available_from", m.Name)
		}
	}
	d.in.Sprayers = rows
}

// tank is a mix that a sprayer has had since it was last cleaned out so far
// that its own cleanouts would be done: the lowest level still missing.
type tank struct {
	model.TankContents
	cleaned int // heaviest level done since, or None
}

// lastMix is what the sheet of the next day says of a sprayer's tank. It has
// room for one mix; where an earlier one asks for a heavier cleanout, that is
// the one to be written down.
func (d *day) lastMix(i int, m *standing.Sprayer) string {
	tanks := d.tanks(i, m)
	if len(tanks) == 0 {
		return ""
	}
	best, worst := len(tanks)-1, d.asks(tanks)
	for k := len(tanks) - 1; k >= 0; k-- {
		if slices.Equal(d.asks(tanks[k:k+1]), worst) {
			best = k
			break
		}
	}
	name := d.s.Problem.Mixes[tanks[best].Mix].Name
	last := d.s.Problem.Mixes[tanks[len(tanks)-1].Mix].Name
	switch {
	case name != last:
		d.note("%s had %s last, but %s before it asks for the heavier cleanouts: that is its last_mix", m.Name, last, name)
	case !slices.Equal(d.asks(tanks[best:best+1]), worst):
		d.note("%s has had other mixes since its last cleanout, which ask for cleanouts of their own before some jobs; last_mix has room only for %s: look at its tank", m.Name, name)
	}
	return name
}

// tanks lists what a sprayer has had, oldest first.
func (d *day) tanks(i int, m *standing.Sprayer) []tank {
	var list []tank
	clean := func(level string) {
		at := slices.IndexFunc(d.s.Problem.Settings.CleanoutLevels, func(l model.LevelSettings) bool { return l.Name == level })
		for k := range list {
			list[k].cleaned = max(list[k].cleaned, at)
		}
	}
	if mix := d.s.Problem.Sprayers[i].LastMix; mix != model.None {
		list = append(list, tank{model.TankContents{Mix: mix}, model.None})
	}
	for _, t := range m.Sprayed {
		clean(t.Cleanout)
		mix := slices.IndexFunc(d.s.Problem.Mixes, func(x model.Mix) bool { return x.Name == t.Mix })
		if mix >= 0 {
			list = append(list, tank{model.TankContents{Mix: mix}, model.None}) // tomorrow nobody knows the crop
		}
	}
	clean(m.Cleaned)
	return list
}

// asks says which cleanout each mix on each crop asks for after the tanks.
func (d *day) asks(tanks []tank) []int {
	var levels []int
	for mix := range d.s.Problem.Mixes {
		for _, crop := range d.crops() {
			level := model.None
			for _, t := range tanks {
				asked := d.s.Problem.CleanoutBetween(t.TankContents, model.TankContents{Mix: mix, Crops: []string{crop}})
				if asked > t.cleaned {
					level = max(level, asked)
				}
			}
			levels = append(levels, level)
		}
	}
	return levels
}

// crops lists the crops of the jobs and of the rules, each once.
func (d *day) crops() []string {
	var list []string
	add := func(crop string) {
		if !slices.Contains(list, crop) {
			list = append(list, crop)
		}
	}
	for _, j := range d.s.Problem.Jobs {
		add(j.Crop)
	}
	for _, r := range d.s.Problem.Rules {
		if r.Before.Kind == model.SelectCrop {
			add(r.Before.Name)
		}
	}
	return list
}
