// Package ical writes a plan's fills and deliveries as an iCalendar (RFC 5545)
// for the phone or the office calendar of whoever waits for them. Times are
// floating local times: the plan is made for one pad, and its clock is the
// clock on the wall there. It reads no calendars.
package ical

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
	"time"

	"padturn/io/planfile"
	"padturn/model"
)

// ErrNoDate is a plan that does not say which day it is for.
var ErrNoDate = errors.New("the plan has no date, and a calendar needs one: set date in day.yaml, such as date: \"2026-05-04\", and plan again")

// ErrEmpty is a calendar that would hold nothing, which the standard does not
// allow.
var ErrEmpty = errors.New("there is nothing to put into a calendar: no load is filled and nothing is delivered")

// All returns one calendar of every fill and every delivery. Its error is a
// plan without a usable date, or [ErrEmpty].
func All(d *planfile.Document) ([]byte, error) {
	return calendar(d, "Pad "+d.Day.Date, func(c *book) {
		c.fills("")
		c.deliveries()
	})
}

// OfSprayer returns the fills of one sprayer. Its errors are those of [All].
func OfSprayer(d *planfile.Document, sprayer string) ([]byte, error) {
	return calendar(d, sprayer+" "+d.Day.Date, func(c *book) { c.fills(sprayer) })
}

// Deliveries returns the deliveries alone. Its errors are those of [All].
func Deliveries(d *planfile.Document) ([]byte, error) {
	return calendar(d, "Deliveries "+d.Day.Date, func(c *book) { c.deliveries() })
}

// book is a calendar being written.
type book struct {
	lines
	doc    *planfile.Document
	day    time.Time // midnight of the day; its zone means nothing
	events int
}

func calendar(d *planfile.Document, name string, fill func(*book)) ([]byte, error) {
	if d.Day.Date == "" {
		return nil, ErrNoDate
	}
	day, err := time.Parse(time.DateOnly, d.Day.Date)
	if err != nil {
		return nil, fmt.Errorf("the plan's date %q is not a date such as 2026-05-04, and a calendar needs one", d.Day.Date)
	}
	c := &book{doc: d, day: day}
	c.add("BEGIN", "VCALENDAR")
	c.add("VERSION", "2.0")
	c.add("PRODID", "-//padturn//load pad plan//EN")
	c.add("CALSCALE", "GREGORIAN")
	c.addText("NAME", name)
	fill(c)
	if c.events == 0 {
		return nil, ErrEmpty
	}
	c.add("END", "VCALENDAR")
	return []byte(c.out.String()), nil
}

// fills adds an event for each load, of one sprayer or of all.
func (c *book) fills(sprayer string) {
	for i := range c.doc.Loads {
		if l := &c.doc.Loads[i]; sprayer == "" || l.Sprayer == sprayer {
			c.fill(l)
		}
	}
}

func (c *book) fill(l *planfile.Load) {
	c.begin("fill", l.Load, l.Start)
	c.add("DTEND", c.moment(l.End))
	c.addText("SUMMARY", fmt.Sprintf("Fill %s: %s, %s gal", l.Load, l.Mix, l.Gal.Fixed(0)))
	c.addText("LOCATION", l.Bay)
	c.addText("CATEGORIES", l.Sprayer)
	c.addText("DESCRIPTION", c.description(l))
	c.add("END", "VEVENT")
}

// description says where the load is sprayed and what comes before it.
func (c *book) description(l *planfile.Load) string {
	fields := map[string]string{}
	for _, j := range c.doc.Jobs {
		fields[j.Job] = j.Field
	}
	var text []string
	for _, p := range l.Parts {
		text = append(text, fmt.Sprintf("%s, %s ac (job %s)", fields[p.Job], p.Acres.Fixed(1), p.Job))
	}
	if l.Cleanout != "" {
		text = append(text, "Sprayer cleanout before: "+l.Cleanout)
	}
	if l.Rinse != "" {
		text = append(text, "Manifold rinse before: "+l.Rinse)
	}
	text = append(text, "Back at the pad "+model.Clock(l.BackAt).HHMM(),
		"The label is the law; amounts and cautions are on the load sheet.")
	return strings.Join(text, "\n")
}

// deliveries adds an event without a length for each delivery.
func (c *book) deliveries() {
	n := map[string]int{}
	for _, e := range c.doc.Stock {
		if e.Event != planfile.EventDelivery {
			continue
		}
		// Two deliveries of a product at one moment are told apart by their place.
		key := e.Product + "\x00" + e.At.String()
		n[key]++
		c.begin("delivery", fmt.Sprintf("%s\x00%d", key, n[key]), e.At)
		c.addText("SUMMARY", fmt.Sprintf("Delivery: %s, %s %s", e.Product, e.Change, e.Unit))
		c.add("TRANSP", "TRANSPARENT")
		c.add("END", "VEVENT")
	}
}

// begin opens an event. Its UID depends on the day and on what it is, not on
// when: a plan that is made again moves the events it made before. The stamp is
// the day's midnight, so that the same plan gives the same file.
func (c *book) begin(kind, name string, at planfile.Time) {
	sum := sha256.Sum256([]byte(kind + "\x00" + c.doc.Day.Date + "\x00" + name))
	c.events++
	c.add("BEGIN", "VEVENT")
	c.add("UID", hex.EncodeToString(sum[:16])+"@padturn")
	c.add("DTSTAMP", c.day.Format("20060102T150405Z"))
	c.add("DTSTART", c.moment(at))
}

// moment is a floating local time; times past midnight fall on the next day.
func (c *book) moment(at planfile.Time) string {
	return c.day.Add(time.Duration(at) * time.Second).Format("20060102T150405")
}
