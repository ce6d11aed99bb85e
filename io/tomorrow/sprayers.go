package tomorrow

import (
	"slices"

	"padturn/model"
	"padturn/model/standing"
)

// sprayers writes the sprayers with what their tanks had last.
func (f *folder) sprayers() {
	rows := slices.Clone(f.s.Day.Sprayers)
	for i := range rows {
		m := &f.s.Sprayers[i]
		rows[i].LastMix = f.lastMix(i, m)
		if m.Out {
			f.note("%s is out of service: take it out of sprayers.csv, or set its available_from", m.Name)
		}
	}
	f.files["sprayers.csv"] = sprayersCSV(rows)
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
func (f *folder) lastMix(i int, m *standing.Sprayer) string {
	tanks := f.tanks(i, m)
	if len(tanks) == 0 {
		return ""
	}
	best, worst := len(tanks)-1, f.asks(tanks)
	for k := len(tanks) - 1; k >= 0; k-- {
		if slices.Equal(f.asks(tanks[k:k+1]), worst) {
			best = k
			break
		}
	}
	name := f.s.Problem.Mixes[tanks[best].Mix].Name
	last := f.s.Problem.Mixes[tanks[len(tanks)-1].Mix].Name
	switch {
	case name != last:
		f.note("%s had %s last, but %s before it asks for the heavier cleanouts: that is its last_mix", m.Name, last, name)
	case !slices.Equal(f.asks(tanks[best:best+1]), worst):
		f.note("%s has had other mixes since its last cleanout, which ask for cleanouts of their own before some jobs; last_mix has room only for %s: look at its tank", m.Name, name)
	}
	return name
}

// tanks lists what a sprayer has had, oldest first.
func (f *folder) tanks(i int, m *standing.Sprayer) []tank {
	var list []tank
	clean := func(level string) {
		at := slices.IndexFunc(f.s.Problem.Settings.CleanoutLevels, func(l model.LevelSettings) bool { return l.Name == level })
		for k := range list {
			list[k].cleaned = max(list[k].cleaned, at)
		}
	}
	if mix := f.s.Problem.Sprayers[i].LastMix; mix != model.None {
		list = append(list, tank{model.TankContents{Mix: mix}, model.None})
	}
	for _, t := range m.Sprayed {
		clean(t.Cleanout)
		mix := slices.IndexFunc(f.s.Problem.Mixes, func(x model.Mix) bool { return x.Name == t.Mix })
		if mix >= 0 {
			list = append(list, tank{model.TankContents{Mix: mix}, model.None}) // tomorrow nobody knows the crop
		}
	}
	clean(m.Cleaned)
	return list
}

// asks says which cleanout each mix on each crop asks for after the tanks.
func (f *folder) asks(tanks []tank) []int {
	var levels []int
	for mix := range f.s.Problem.Mixes {
		for _, crop := range f.crops() {
			level := model.None
			for _, t := range tanks {
				asked := f.s.Problem.CleanoutBetween(t.TankContents, model.TankContents{Mix: mix, Crops: []string{crop}})
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
func (f *folder) crops() []string {
	var list []string
	add := func(crop string) {
		if !slices.Contains(list, crop) {
			list = append(list, crop)
		}
	}
	for _, j := range f.s.Problem.Jobs {
		add(j.Crop)
	}
	for _, r := range f.s.Problem.Rules {
		if r.Before.Kind == model.SelectCrop {
			add(r.Before.Name)
		}
	}
	return list
}
