package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"time"
	"unicode"

	"padturn/io/dayfiles"
	"padturn/io/journal"
	"padturn/io/planfile"
	"padturn/io/table"
	"padturn/io/workbook"
	"padturn/model"
	"padturn/model/standing"
)

// journalOf is where the journal of a day is.
func journalOf(day string) string { return ofDay(day, journal.File) }

// factsOf reads what was reported of a day and stands.
func factsOf(dir string) ([]standing.Fact, error) {
	j, err := journal.Read(journalOf(dir))
	if err != nil {
		return nil, err
	}
	return j.Facts(), nil
}

// begunDay is a day that has a plan, and perhaps a journal.
type begunDay struct {
	dir  string
	day  *dayfiles.Day
	doc  *planfile.Document
	told standing.Told
}

// readBegun reads a day and the plan that was made of it.
func readBegun(stderr io.Writer, dir string) (*begunDay, error) {
	day, err := readDay(stderr, dir)
	if err != nil {
		return nil, err
	}
	doc, err := readPlan(dir)
	if err != nil {
		return nil, err
	}
	return &begunDay{dir, day, doc, doc.ToldOn(&day.Input)}, nil
}

// takesBack says whether a report that a plan was made with is undone since.
func takesBack(j *journal.Journal, told *standing.Told) bool {
	return slices.ContainsFunc(j.Entries, func(e journal.Entry) bool {
		return e.Undo > 0 && e.Undo <= told.Facts && e.N > told.Facts
	})
}

// facts are what was reported of the day and stands. A report that the plan was made
// with is news where it is undone.
func (b *begunDay) facts(j *journal.Journal) []standing.Fact {
	b.told.Same = b.told.Same && !takesBack(j, &b.told)
	return j.Facts()
}

// checkWords refuses what a terminal would not print as words.
func checkWords(flag, text string) error {
	for _, r := range text {
		if unicode.IsControl(r) {
			return fmt.Errorf("%s holds the invisible character %U; remove it", flag, r)
		}
	}
	return nil
}

// tellSheet says that a day has a progress.csv that nobody took down.
func tellSheet(stderr io.Writer, dir string, j *journal.Journal) {
	rows, from, err := progressOf(dir)
	if err != nil {
		return // there is none, or padturn mark will say what is wrong with it
	}
	fresh := 0
	for _, row := range rows {
		if !isReported(j.Facts(), row) {
			fresh++
		}
	}
	if fresh > 0 {
		fmt.Fprintf(stderr, "warning: %s has %s that the journal has not: padturn mark %s progress\n",
			from, model.Count(fresh, "row"), dir)
	}
}

// progressSheet is the sheet of a workbook that a folder has as a file.
const progressSheet = "progress"

// progressOf reads the progress of a day, and says from where.
func progressOf(day string) (rows []journal.Note, from string, err error) {
	if !isWorkbook(day) {
		from = filepath.Join(day, journal.ProgressFile)
		rows, err = journal.Progress(from)
		return rows, from, err
	}
	from = day + ", sheet " + progressSheet
	var found table.Findings
	g := workbook.ReadSheet(day, progressSheet, &found)
	if g == nil && len(found.Errors) == 0 {
		return nil, from, fmt.Errorf("%s is not there or holds nothing", from)
	}
	rows, err = journal.ProgressOf(g, &found)
	return rows, from, err
}

// standsAt works out where the day stands by some facts.
func (b *begunDay) standsAt(facts []standing.Fact, at model.Clock) (*standing.Standing, error) {
	return standing.At(b.day.Input, b.told, facts, at)
}

// tellTorn says that the end of a journal was never finished.
func tellTorn(stderr io.Writer, dir string, j *journal.Journal, done string) {
	if len(j.Torn) > 0 {
		fmt.Fprintf(stderr, "warning: %s ends in an unfinished line, the trace of a report that was not accepted; %s: %.60q\n",
			journalOf(dir), done, j.Torn)
	}
}

// moment reads a time of the day, or, where none is given, takes the clock's:
// now, if the day is today.
func moment(text, date string, now time.Time) (model.Clock, error) {
	if text != "" {
		at, err := model.ParseHHMM(text)
		if err != nil {
			return 0, fmt.Errorf("time %q: %w", text, err)
		}
		return at, nil
	}
	hour, minute, _ := now.Clock()
	at := model.Clock(hour*3600 + minute*60)
	if date == "" {
		return at, nil
	}
	day, err := time.ParseInLocation(time.DateOnly, date, now.Location())
	if err != nil {
		return 0, fmt.Errorf("date %q: %w", date, err)
	}
	switch {
	case day.Format(time.DateOnly) == now.Format(time.DateOnly):
		return at, nil
	case day.AddDate(0, 0, 1).Format(time.DateOnly) == now.Format(time.DateOnly):
		return at + 86_400, nil
	}
	return 0, fmt.Errorf("the day is dated %s and it is %s: give the time with --at HH:MM", date, now.Format(time.DateOnly))
}
