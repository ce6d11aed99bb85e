package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"padturn/io/journal"
	"padturn/model"
	"padturn/model/standing"
)

func newMark() *cobra.Command {
	var f markFlags
	cmd := &cobra.Command{
		Use:   "mark DAY [WHAT NAME STATE]",
		Short: "report what happened: loads, sprayers, deliveries, stock, jobs",
		Long: `Report what happened. Each report is a line of the day's journal,
DAY/journal.jsonl (DAY-journal.jsonl beside DAY.xlsx), and on the disk before it
is acknowledged. Nothing is ever changed in it: what was wrong is undone by a
further line. Without a report the lines are listed.

  load NAME waiting|filling|filled|spraying|done|dropped
  sprayer NAME out|back
                       the words "load" and "sprayer" may be left out
  delivery PRODUCT arrived|late
  stock PRODUCT        all of it that is at the pad, with --full and --open
  job NAME added|changed|dropped [COLUMN=VALUE]...
                       columns as in jobs.csv
  progress [FILE]      all rows of a sheet; without FILE of DAY/progress.csv, or
                       of sheet progress in DAY.xlsx
  undo N               entry N of the journal is taken back`,
		Example: "  padturn mark monday Heron-2 filling --at 09:20\n" +
			"  padturn mark monday Heron-2 spraying --acres-left 31\n" +
			"  padturn mark monday sprayer Sora out --until 13:00 --why \"hose\"\n" +
			"  padturn mark monday delivery \"atrazine 4 SC\" late --until 14:00\n" +
			"  padturn mark monday stock \"glyphosate 5.4 SL\" --full 2 --open 46\n" +
			"  padturn mark monday job J07 changed acres=168\n" +
			"  padturn mark monday undo 3",
		Args:              needsDay,
		ValidArgsFunction: days,
		RunE: func(cmd *cobra.Command, args []string) error {
			m := marking{dir: args[0], flags: &f, now: time.Now(), stdout: cmd.OutOrStdout(), stderr: cmd.ErrOrStderr()}
			if len(args) == 1 {
				return m.list()
			}
			if err := f.read(cmd.Flags(), args[1], args[2:]); err != nil {
				return err
			}
			return m.run(args[1], args[2:])
		},
	}
	f.add(cmd.Flags())
	return cmd
}

// needsDay makes sure that a command has at least its day.
func needsDay(_ *cobra.Command, args []string) error {
	if len(args) == 0 {
		return errors.New("DAY is missing: " + dayMeaning)
	}
	return nil
}

// marking is one report under way.
type marking struct {
	dir            string
	flags          *markFlags
	now            time.Time
	stdout, stderr io.Writer
}

func (m marking) run(what string, args []string) error {
	begun, err := readBegun(m.stderr, m.dir)
	if err != nil {
		return err
	}
	switch what {
	case "undo":
		return m.undo(begun, args)
	case "progress":
		return m.progress(begun, args)
	}
	note, err := m.note(begun, what, args)
	if err != nil {
		return err
	}
	return m.write(begun, func(*journal.Journal) ([]journal.Note, error) { return []journal.Note{note}, nil })
}

// write adds notes to the journal if each makes sense after all before it.
func (m marking) write(begun *begunDay, notes func(*journal.Journal) ([]journal.Note, error)) error {
	var added []journal.Note
	var odd []string
	j, err := journal.Append(journalOf(m.dir), m.now, func(j *journal.Journal) ([]journal.Note, error) {
		var err error
		if added, err = notes(j); err != nil {
			return nil, err
		}
		facts := j.Facts()
		for i, note := range added {
			if note.News == nil {
				continue
			}
			fact := standing.Fact{N: len(j.Entries) + i + 1, At: note.At, News: note.News}
			if err := standing.Check(begun.day.Input, begun.told, facts, fact); err != nil {
				return nil, fmt.Errorf("%s%w", rowOf(note), err)
			}
			for _, words := range standing.Unlikely(begun.day.Input, begun.told, facts, fact) {
				odd = append(odd, fmt.Sprintf("warning: %s; written down all the same, padturn mark %s undo %d takes it back\n", words, m.dir, fact.N))
			}
			facts = append(facts, fact)
		}
		return added, nil
	})
	if err != nil {
		return wrongInput("%v; nothing was written down", err)
	}
	tellTorn(m.stderr, m.dir, j, "it was cut off")
	for _, words := range odd {
		fmt.Fprint(m.stderr, words)
	}
	for _, e := range j.Entries[len(j.Entries)-len(added):] {
		fmt.Fprintf(m.stdout, "%d: %s\n", e.N, saying(j, &e))
	}
	return nil
}

// rowOf names the row that a note came from.
func rowOf(note journal.Note) string {
	_, isLoad := note.News.(standing.LoadMark)
	if isLoad && (filepath.Ext(note.Cause) == ".csv" || strings.HasSuffix(note.Cause, ", sheet "+progressSheet)) {
		return note.Cause + ": "
	}
	return ""
}

// undo takes back an entry, if the day is one without it.
func (m marking) undo(begun *begunDay, args []string) error {
	if len(args) != 1 {
		return fmt.Errorf("undo takes the number of an entry; padturn mark %s lists them", m.dir)
	}
	n, err := strconv.Atoi(args[0])
	if err != nil {
		return fmt.Errorf("undo %q: expected the number of an entry; padturn mark %s lists them", args[0], m.dir)
	}
	at, err := moment(m.flags.at, begun.day.Input.Settings.Date, m.now)
	if err != nil {
		return err
	}
	return m.write(begun, func(j *journal.Journal) ([]journal.Note, error) {
		if n < 1 || n > len(j.Entries) {
			return nil, fmt.Errorf("there is no entry %d; padturn mark %s lists them", n, m.dir)
		}
		if !j.Stands()[n-1] {
			return nil, fmt.Errorf("entry %d is undone already", n)
		}
		after := &journal.Journal{Entries: append(slices.Clone(j.Entries), journal.Entry{Note: journal.Note{Undo: n}, N: len(j.Entries) + 1})}
		if _, err := begun.standsAt(after.Facts(), standing.Latest(after.Facts())); err != nil {
			return nil, fmt.Errorf("entry %d can't be undone: %w", n, err)
		}
		if _, isLoad := j.Entries[n-1].News.(standing.LoadMark); isLoad && n <= begun.told.Facts {
			fmt.Fprintf(m.stderr, "warning: the replan of %s was made with entry %d; what it says of a load that had begun stays in that plan\n",
				begun.told.At.HHMM(), n)
		}
		return []journal.Note{{At: at, Undo: n, Cause: m.flags.why}}, nil
	})
}

// progress writes down the rows of a sheet that are not in the journal yet.
func (m marking) progress(begun *begunDay, args []string) error {
	if len(args) > 1 {
		return fmt.Errorf("%q is one argument too many: expected only the file", args[1])
	}
	read := progressOf
	if len(args) == 1 {
		read = func(string) ([]journal.Note, string, error) {
			rows, err := journal.Progress(args[0])
			return rows, args[0], err
		}
	}
	rows, from, err := read(m.dir)
	if err != nil {
		return wrongInput("%v", err)
	}
	fresh := 0
	err = m.write(begun, func(j *journal.Journal) ([]journal.Note, error) {
		var notes []journal.Note
		for _, row := range rows {
			if !isReported(j.Facts(), row) {
				row.Cause = filepath.Base(from)
				notes = append(notes, row)
			}
		}
		fresh = len(notes)
		return notes, nil
	})
	if err == nil {
		fmt.Fprintf(m.stderr, "%s: %s, %d of them new\n", from, model.Count(len(rows), "row"), fresh)
	}
	return err
}

// isReported says whether the journal has a load in a state at a time already.
func isReported(facts []standing.Fact, row journal.Note) bool {
	want := row.News.(standing.LoadMark)
	return slices.ContainsFunc(facts, func(f standing.Fact) bool {
		have, ok := f.News.(standing.LoadMark)
		return ok && have.Load == want.Load && have.State == want.State && f.At == row.At
	})
}

// list prints the journal.
func (m marking) list() error {
	if !exists(m.dir) {
		return wrongInput("%s: there is no such day", m.dir)
	}
	j, err := journal.Read(journalOf(m.dir))
	if err != nil {
		return wrongInput("%v", err)
	}
	tellTorn(m.stderr, m.dir, j, "the next report cuts it off")
	if len(j.Entries) == 0 {
		fmt.Fprintf(m.stderr, "nothing was reported of %s\n", m.dir)
	}
	stands := j.Stands()
	for i, e := range j.Entries {
		undone := ""
		if !stands[i] {
			undone = "   (undone)"
		}
		fmt.Fprintf(m.stdout, "%3d  %s%s\n", e.N, saying(j, &e), undone)
	}
	return nil
}
