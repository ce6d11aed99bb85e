package main

import (
	"fmt"

	"padturn/io/changes"
	"padturn/io/terminal"
	"padturn/model"
	"padturn/model/standing"
)

// attention is what a person must know of tanks that are filled and of fields
// that rain came onto. Padturn decides none of it.
func (p *replan) attention() *terminal.Attention {
	a, asked := &terminal.Attention{}, terminal.Asking(p.problem.Settings.Units)
	for _, s := range p.stands.Stranded() {
		a.Decide = append(a.Decide, asked.Decide(s)+" "+p.countsOn(&s))
	}
	for i := range p.stands.Loads {
		if l := &p.stands.Loads[i]; l.InTank() {
			a.Waiting = append(a.Waiting, p.waitsOut(l)...)
		}
	}
	for _, w := range p.stands.Washed() {
		a.Check = append(a.Check, asked.CheckEfficacy(w))
	}
	a.Odd, a.Later = p.stands.Oddities, p.later
	return a
}

// countsOn says what the plan is built on until a tank is decided about.
func (p *replan) countsOn(s *standing.Stranded) string {
	for i := range p.stands.Loads {
		if l := &p.stands.Loads[i]; l.Told.ID == s.Load && l.BackAt < model.Never {
			return fmt.Sprintf("Until then the plan counts on %s being back at %s.", s.Sprayer, l.BackAt.HHMM())
		}
	}
	return "The plan does not count on it today."
}

// waitsOut tells a filled sprayer that a hold keeps it, while its mix lasts.
func (p *replan) waitsOut(l *standing.Load) []string {
	told := l.Told.Parts[len(l.Told.Parts)-1].SprayedAt
	if l.SprayedOut() >= model.Never || l.SprayedOut() > l.LifeUntil || l.SprayedOut() <= told+changes.Slack {
		return nil
	}
	life := "products.csv gives no tank life for it: read its labels"
	if l.LifeUntil < model.Never {
		life = fmt.Sprintf("tank life until %s", l.LifeUntil.HHMM())
	}
	return []string{fmt.Sprintf("%s stays filled with %s and is sprayed out at %s instead of %s; %s. Agitate it as its labels say.",
		l.Told.Sprayer, l.Told.Mix, l.SprayedOut().HHMM(), told.HHMM(), life)}
}
