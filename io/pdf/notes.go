package pdf

import "fmt"

// notes writes what holds for the whole day.
func (b *book) notes() {
	b.page("For the whole day")
	b.line(margin, b.y, b.inner(), 20, "B", left, "For the whole day")
	b.y += 9
	b.list("Cautions", b.day.Cautions)
	b.list("To look at before the day begins", b.day.Warnings)
	var undone []string
	for _, u := range b.day.Unsprayed {
		undone = append(undone, fmt.Sprintf("%s (%s), %s: %s", u.Job, u.Field, u.Acres, u.Reason))
	}
	b.list("Not sprayed in this plan", undone)
	b.list("How amounts are rounded", []string{b.day.Rounding})
}

func (b *book) list(title string, items []string) {
	if len(items) == 0 {
		return
	}
	b.heading(title, 10)
	for _, text := range items {
		b.paragraph("•", text, 10, "")
		b.y += 1.2
	}
}
