package terminal

import (
	"fmt"
	"strings"

	"padturn/io/planfile"
	"padturn/model"
	"padturn/model/standing"
)

// Asking puts into words what only a person may decide or look at, in a day's units.
func Asking(in string) Asked { return Asked{units{metric: in == "metric"}} }

// Asked is what is asked of a person.
type Asked struct{ units units }

// Decide asks what only a person who reads the labels may answer.
func (a Asked) Decide(s standing.Stranded) string {
	life := "; no label of it gives a tank life"
	switch {
	case strings.Contains(s.Why, "tank life"):
		life = ""
	case s.LifeUntil < model.Never:
		life = "; its tank life ends at " + s.LifeUntil.HHMM()
	}
	return fmt.Sprintf("%s has %s of %s in its tank (load %s): %s%s. A certified applicator with the labels at hand "+
		"chooses: another field that every label in the tank allows, handing the tank over, or disposal by the label. "+
		"padturn does not choose.", s.Sprayer, a.area(s.Acres), s.Mix, s.Load, s.Why, life)
}

// CheckEfficacy names a field that rain came onto too early.
func (a Asked) CheckEfficacy(w standing.Washed) string {
	return fmt.Sprintf("%s (job %s, load %s): %s sprayed by %s, %s; the label of %s asks %s h",
		w.Field, w.Job, w.Load, a.area(w.Acres), w.SprayedAt.HHMM(), w.Rained(), w.Product, w.RainfastH)
}

func (a Asked) area(acres model.Decimal) string {
	return a.units.area(planfile.Number(acres)) + " " + a.units.areaUnit()
}
