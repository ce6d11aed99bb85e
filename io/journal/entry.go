package journal

import (
	"errors"
	"fmt"

	"padturn/io/planfile"
	"padturn/model"
	"padturn/model/standing"
)

// Note is something to write down: news with the time it happened, or which
// earlier entry is undone.
type Note struct {
	At    model.Clock
	News  standing.News // nil where Undo is set
	Undo  int           // number of an entry
	Cause string        // why, for people; may be blank
}

// Entry is a note that was written down.
type Entry struct {
	Note
	N       int    // 1 for the first
	Written string // when, by the clock of the machine (RFC 3339)
}

// line is an entry as the file has it. Exactly one of the pointers is set.
type line struct {
	N        int           `json:"n"`
	Written  string        `json:"written"`
	At       planfile.Time `json:"at"`
	Load     *loadLine     `json:"load,omitempty"`
	Sprayer  *sprayerLine  `json:"sprayer,omitempty"`
	Delivery *deliveryLine `json:"delivery,omitempty"`
	Stock    *stockLine    `json:"stock,omitempty"`
	Job      *jobLine      `json:"job,omitempty"`
	Hold     *holdLine     `json:"hold,omitempty"`
	Undo     *undoLine     `json:"undo,omitempty"`
	Cause    string        `json:"cause,omitempty"`
}

type loadLine struct {
	Name      string           `json:"name"`
	State     string           `json:"state"`
	AcresLeft *planfile.Number `json:"acres_left,omitempty"`
	Drew      []drewLine       `json:"drew,omitempty"`
}

type drewLine struct {
	Product string          `json:"product"`
	Amount  planfile.Number `json:"amount"`
}

type sprayerLine struct {
	Name  string         `json:"name"`
	State string         `json:"state"` // out or back
	Until *planfile.Time `json:"until,omitempty"`
}

type deliveryLine struct {
	Product string         `json:"product"`
	Planned planfile.Time  `json:"planned"`
	State   string         `json:"state"` // arrived or late
	Until   *planfile.Time `json:"until,omitempty"`
}

type stockLine struct {
	Product   string            `json:"product"`
	Container string            `json:"container"`
	Size      planfile.Number   `json:"size"`
	Full      planfile.Number   `json:"full"`
	Open      []planfile.Number `json:"open,omitempty"`
}

type jobLine struct {
	Name   string            `json:"name"`
	Change string            `json:"change"`        // added, changed or dropped
	Set    map[string]string `json:"set,omitempty"` // cells as in jobs.csv
}

type holdLine struct {
	From   planfile.Time `json:"from"`
	To     planfile.Time `json:"to"`
	Kind   string        `json:"kind,omitempty"`
	Scope  string        `json:"scope,omitempty"`
	Reason string        `json:"reason,omitempty"`
}

type undoLine struct {
	N int `json:"n"`
}

// lineOf puts an entry into the form of the file.
func lineOf(e *Entry) line {
	out := line{N: e.N, Written: e.Written, At: planfile.Time(e.At), Cause: e.Cause}
	switch news := e.News.(type) {
	case nil:
		out.Undo = &undoLine{e.Undo}
	case standing.LoadMark:
		out.Load = &loadLine{Name: news.Load, State: string(news.State), AcresLeft: (*planfile.Number)(news.AcresLeft)}
		for _, d := range news.Drew {
			out.Load.Drew = append(out.Load.Drew, drewLine{d.Product, planfile.Number(d.Amount)})
		}
	case standing.SprayerMark:
		out.Sprayer = &sprayerLine{news.Sprayer, word(news.Out, "out", "back"), (*planfile.Time)(news.Until)}
	case standing.DeliveryMark:
		out.Delivery = &deliveryLine{news.Product, planfile.Time(news.Planned), word(news.Arrived, "arrived", "late"), (*planfile.Time)(news.Until)}
	case standing.StockCount:
		out.Stock = &stockLine{Product: news.Product, Container: news.Container, Size: planfile.Number(news.Size), Full: planfile.Number(news.Full)}
		for _, open := range news.Open {
			out.Stock.Open = append(out.Stock.Open, planfile.Number(open))
		}
	case standing.JobMark:
		out.Job = &jobLine{news.Row.Job, string(news.Change), jobCells(&news)}
	case standing.HoldMark:
		h := news.Hold
		out.Hold = &holdLine{planfile.Time(h.From), planfile.Time(h.To), h.Kind, h.Scope, h.Reason}
	}
	return out
}

func word(yes bool, ifYes, ifNo string) string {
	if yes {
		return ifYes
	}
	return ifNo
}

var errOneKind = errors.New("expected exactly one of load, sprayer, delivery, stock, job, hold and undo")

// entry reads a line of the file.
func (l *line) entry() (Entry, error) {
	e := Entry{N: l.N, Written: l.Written, Note: Note{At: model.Clock(l.At), Cause: l.Cause}}
	var err error
	kinds := 0
	take := func(there bool, read func() (standing.News, error)) {
		if there {
			kinds++
			e.News, err = read()
		}
	}
	take(l.Load != nil, func() (standing.News, error) { return l.Load.news() })
	take(l.Sprayer != nil, func() (standing.News, error) { return l.Sprayer.news() })
	take(l.Delivery != nil, func() (standing.News, error) { return l.Delivery.news() })
	take(l.Stock != nil, func() (standing.News, error) { return l.Stock.news(), nil })
	take(l.Job != nil, func() (standing.News, error) { return JobNews(standing.JobChange(l.Job.Change), l.Job.Name, l.Job.Set) })
	take(l.Hold != nil, func() (standing.News, error) { return l.Hold.news(), nil })
	if l.Undo != nil {
		kinds++
		e.Undo = l.Undo.N
	}
	if kinds != 1 {
		return e, errOneKind
	}
	return e, err
}

func (l *loadLine) news() (standing.News, error) {
	m := standing.LoadMark{Load: l.Name, State: standing.State(l.State), AcresLeft: (*model.Decimal)(l.AcresLeft)}
	for _, d := range l.Drew {
		m.Drew = append(m.Drew, standing.Drew{Product: d.Product, Amount: model.Decimal(d.Amount)})
	}
	return m, oneOf("load.state", l.State, stateWords()...)
}

func stateWords() []string {
	var words []string
	for _, s := range standing.States() {
		words = append(words, string(s))
	}
	return words
}

func (l *sprayerLine) news() (standing.News, error) {
	m := standing.SprayerMark{Sprayer: l.Name, Out: l.State == "out", Until: (*model.Clock)(l.Until)}
	return m, oneOf("sprayer.state", l.State, "out", "back")
}

func (l *deliveryLine) news() (standing.News, error) {
	m := standing.DeliveryMark{Product: l.Product, Planned: model.Clock(l.Planned), Arrived: l.State == "arrived", Until: (*model.Clock)(l.Until)}
	return m, oneOf("delivery.state", l.State, "arrived", "late")
}

func (l *stockLine) news() standing.News {
	c := standing.StockCount{Product: l.Product, Container: l.Container, Size: model.Decimal(l.Size), Full: model.Decimal(l.Full)}
	for _, open := range l.Open {
		c.Open = append(c.Open, model.Decimal(open))
	}
	return c
}

func (l *holdLine) news() standing.News {
	return standing.HoldMark{Hold: model.HoldRow{
		From: model.Clock(l.From), To: model.Clock(l.To), Kind: l.Kind, Scope: l.Scope, Reason: l.Reason,
	}}
}

func oneOf(key, text string, allowed ...string) error {
	for _, a := range allowed {
		if a == text {
			return nil
		}
	}
	return fmt.Errorf("%s: %q: expected one of %v", key, text, allowed)
}
