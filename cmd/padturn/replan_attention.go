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
	a := &terminal.Attention{}
	for _, s := range p.stands.Stranded() {
		a.Decide = append(a.Decide, p.decide(&s))
	}
	for i := range p.stands.Loads {
		if l := &p.stands.Loads[i]; l.InTank() {
			a.Waiting = append(a.Waiting, p.waitsOut(l)...)
		}
	}
	for _, w := range p.stands.Washed() {
		a.Check = append(a.Check, fmt.Sprintf("%s, job %s, %s ac sprayed by %s; %s and the label of %s asks %s h",
			w.Field, w.Job, w.Acres.Fixed(1), w.SprayedAt.HHMM(), w.Rained(), w.Product, w.RainfastH))
	}
	a.Odd = p.stands.Oddities
	return a
}

// decide asks what only a person who reads the label may answer, and says what
// the plan is built on until then.
func (p *replan) decide(s *standing.Stranded) string {
	counts := "The plan does not count on it today."
	for i := range p.stands.Loads {
		if l := &p.stands.Loads[i]; l.Told.ID == s.Load && l.BackAt < model.Never {
			counts = fmt.Sprintf("Until then the plan counts on %s being back at %s.", s.Sprayer, l.BackAt.HHMM())
		}
	}
	return fmt.Sprintf("%s has %s ac of %s in its tank (load %s): %s. "+
		"A certified applicator with the labels at hand chooses: another field that every label in the tank allows, "+
		"handing the tank over, or disposal by the label. padturn does not choose. %s",
		s.Sprayer, s.Acres.Fixed(1), s.Mix, s.Load, s.Why, counts)
}

// waitsOut tells a filled sprayer that a hold keeps it, while its mix lasts.
func (p *replan) waitsOut(l *standing.Load) []string {
	told := l.Told.Parts[len(l.Told.Parts)-1].SprayedAt
	if l.SprayedOut() >= model.Never || l.SprayedOut() > l.LifeUntil || l.SprayedOut() <= told+changes.Slack {
		return nil
	}
	life := "no label of it limits the tank life"
	if l.LifeUntil < model.Never {
		life = fmt.Sprintf("tank life until %s", l.LifeUntil.HHMM())
	}
	return []string{fmt.Sprintf("%s stays filled with %s and is sprayed out at %s instead of %s; %s. Agitate it as its labels say.",
		l.Told.Sprayer, l.Told.Mix, l.SprayedOut().HHMM(), told.HHMM(), life)}
}
