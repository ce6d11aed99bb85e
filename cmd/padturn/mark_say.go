package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"padturn/io/journal"
	"padturn/model"
	"padturn/model/standing"
)

// sayings puts entries of a journal into words, with their numbers.
func sayings(j *journal.Journal, numbers []int) []string {
	list := make([]string, len(numbers))
	for i, n := range numbers {
		list[i] = fmt.Sprintf("%d: %s", n, saying(j, &j.Entries[n-1]))
	}
	return list
}

// saying puts an entry of a journal into words.
func saying(j *journal.Journal, e *journal.Entry) string {
	text := e.At.HHMM() + " "
	switch news := e.News.(type) {
	case nil:
		text += fmt.Sprintf("entry %d is undone (%s)", e.Undo, saying(j, &j.Entries[e.Undo-1]))
	case standing.LoadMark:
		text += fmt.Sprintf("load %s %s", news.Load, news.State)
		if news.AcresLeft != nil {
			text += fmt.Sprintf(", %s ac left", *news.AcresLeft)
		}
		for _, d := range news.Drew {
			text += fmt.Sprintf(", %s of %s drawn", d.Amount, d.Product)
		}
	case standing.SprayerMark:
		text += "sprayer " + news.Sprayer + map[bool]string{true: " out", false: " back"}[news.Out] + until(news.Until)
	case standing.DeliveryMark:
		text += fmt.Sprintf("delivery of %s planned for %s %s%s", news.Product, news.Planned.HHMM(),
			map[bool]string{true: "arrived", false: "is late"}[news.Arrived], until(news.Until))
	case standing.StockCount:
		text += fmt.Sprintf("counted %s: %s full %s of %s%s", news.Product, news.Full, news.Container, news.Size, openOnes(news.Open))
	case standing.JobMark:
		text += fmt.Sprintf("job %s %s%s", news.Row.Job, news.Change, given(&news))
	case standing.HoldMark:
		text += holdWords(&news.Hold)
	}
	if e.Cause != "" {
		text += ": " + e.Cause
	}
	return text
}

func until(t *model.Clock) string {
	if t == nil {
		return ""
	}
	return " until " + t.HHMM()
}

func openOnes(list []model.Decimal) string {
	if len(list) == 0 {
		return ""
	}
	texts := make([]string, len(list))
	for i, open := range list {
		texts[i] = open.String()
	}
	return ", opened " + strings.Join(texts, ", ")
}

func given(m *standing.JobMark) string {
	if len(m.Given) == 0 {
		return ""
	}
	return " (" + strings.Join(journal.JobCells(m), ", ") + ")"
}

func holdWords(h *model.HoldRow) string {
	text := fmt.Sprintf("hold %s-%s of %s", h.From.HHMM(), h.To.HHMM(), cmp.Or(h.Scope, "everything"))
	why := slices.DeleteFunc([]string{h.Kind, h.Reason}, func(s string) bool { return s == "" })
	if len(why) == 0 {
		return text
	}
	return text + ": " + strings.Join(why, ", ")
}
