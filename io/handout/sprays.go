package handout

import "padturn/io/planfile"

// Sprays are the spray volumes of a plan's loads by name, without their unit, as the
// sheets print them: what is said of a load elsewhere is what its crew reads. Of a
// plan that speaks of what there is not, they are rounded one by one.
func Sprays(d *planfile.Document) map[string]string {
	unit := "gal"
	if d.Day.Units == "metric" {
		unit = "L"
	}
	printed := map[string]string{}
	for _, l := range d.Loads {
		printed[l.Load] = l.Gal.In("gal", unit).Fixed(0)
	}
	if check(d) != nil {
		return printed
	}
	w := newWriter(d, "")
	t := newTallies(w)
	for _, l := range d.Loads {
		printed[l.Load] = w.sprayOf(l, t).Number()
	}
	return printed
}
