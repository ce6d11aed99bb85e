package audit

import (
	"slices"
	"strings"

	"padturn/model"
)

// past is what a sprayer has sprayed so far.
type past []*sprayed

// sprayed is a mix that went through a sprayer.
type sprayed struct {
	mix     *mix
	crops   []string // on which it was sprayed; none for the last mix of the day before
	cleaned int      // the highest cleanout since, -1 for none
}

func newPast(last *mix) *past {
	if last == nil {
		return &past{}
	}
	return &past{{mix: last, cleaned: -1}}
}

// past is what the sprayer has had in its tank before the loads of the plan.
func (s *sprayer) past() *past {
	if s.had != nil {
		return s.had
	}
	return newPast(s.lastMix)
}

// spray adds a load, with the cleanout before it.
func (p *past) spray(l *load) {
	p.clean(l.cleanout)
	*p = append(*p, &sprayed{l.mix, l.crops(), -1})
}

// clean notes a cleanout after all that was sprayed so far.
func (p *past) clean(level int) {
	for _, s := range *p {
		s.cleaned = max(s.cleaned, level)
	}
}

func (l *load) crops() []string {
	var crops []string
	for _, part := range l.parts {
		if !slices.Contains(crops, part.job.Crop) {
			crops = append(crops, part.job.Crop)
		}
	}
	return crops
}

// checkCleanout checks that exactly the highest level that a sprayer rule asks
// for is done.
func (a *audit) checkCleanout(l *load, p *past) {
	want := -1
	for _, r := range a.d.rules {
		if r.Where != "sprayer" {
			continue
		}
		asked := level(a.d.set.CleanoutLevels, r.Level)
		if asked > want && p.asks(r, asked, l) {
			want = asked
		}
	}
	seen := levelName(a.d.set.CleanoutLevels, l.cleanout)
	if name := levelName(a.d.set.CleanoutLevels, want); seen != name {
		a.breach("R8", l.where(), "cleanout is %q, expected %q", seen, name)
	}
}

// asks says whether a rule of that level applies before a load, looking back
// over all mixes since the last cleanout of at least the level.
func (p *past) asks(r model.RuleRow, level int, l *load) bool {
	return slices.ContainsFunc(*p, func(s *sprayed) bool {
		if s.cleaned >= level {
			return false
		}
		if crop, ok := strings.CutPrefix(r.Before, "crop:"); ok {
			return slices.Contains(l.crops(), crop) && s.harms(r.After, crop, l.mix)
		}
		return s.mix != l.mix && s.mix.leaves(r.After, l.mix) && l.mix.anyStands(r.Before)
	})
}

// harms says whether what the selector speaks of may not reach the crop: the
// next mix brings it anyway only where it was sprayed on that crop before.
func (s *sprayed) harms(selector, crop string, next *mix) bool {
	if slices.Contains(s.crops, crop) {
		return s.mix.leaves(selector, next)
	}
	return s.mix.anyStands(selector)
}
