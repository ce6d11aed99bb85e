package main

import (
	"fmt"

	"padturn/model"
	"padturn/model/standing"
)

// attention is what a person must know of tanks that are filled and of fields
// that rain came onto: first what has to be decided. Padturn decides none of it.
func (p *replan) attention() []string {
	var list []string
	for _, s := range p.stands.Stranded() {
		list = append(list, decide(&s))
	}
	for i := range p.stands.Loads {
		if l := &p.stands.Loads[i]; l.InTank() {
			list = append(list, p.waitsOut(l)...)
		}
	}
	for _, w := range p.stands.Washed() {
		rain := "rain began"
		if w.Forecast {
			rain = "rain is forecast for"
		} else if w.Rain > p.stands.At {
			rain = "rain is expected at"
		}
		list = append(list, fmt.Sprintf("CHECK EFFICACY: %s, job %s, %s ac sprayed by %s; %s %s and the label of %s asks %s h.",
			w.Field, w.Job, w.Acres.Fixed(1), w.SprayedAt.HHMM(), rain, w.Rain.HHMM(), w.Product, w.RainfastH))
	}
	for _, odd := range p.stands.Oddities {
		list = append(list, "REPORTED ODDLY: "+odd+".")
	}
	return list
}

// decide asks what only a person who reads the label may answer.
func decide(s *standing.Stranded) string {
	life := "no product of it gives a tank life"
	if s.LifeUntil < model.Never {
		life = "its tank life ends at " + s.LifeUntil.HHMM()
	}
	return fmt.Sprintf("DECIDE NOW: %s has %s ac of %s in its tank (load %s): %s; %s. "+
		"A certified applicator with the labels at hand chooses: another field that every label in the tank allows, "+
		"handing the tank over, or disposal by the label. padturn does not choose and plans nothing for it.",
		s.Sprayer, s.Acres.Fixed(1), s.Mix, s.Load, s.Why, life)
}

// waitsOut tells a filled sprayer that a hold keeps it, while its mix lasts.
func (p *replan) waitsOut(l *standing.Load) []string {
	told := l.Told.Parts[len(l.Told.Parts)-1].SprayedAt
	if l.SprayedOut() >= model.Never || l.SprayedOut() > l.LifeUntil || l.SprayedOut() <= told+changesSlack {
		return nil
	}
	life := "no label of it limits the tank life"
	if l.LifeUntil < model.Never {
		life = fmt.Sprintf("tank life until %s", l.LifeUntil.HHMM())
	}
	return []string{fmt.Sprintf("%s stays filled with %s and is sprayed out at %s instead of %s; %s. Agitate it as its labels say.",
		l.Told.Sprayer, l.Told.Mix, l.SprayedOut().HHMM(), told.HHMM(), life)}
}
