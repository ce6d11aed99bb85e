package journal

import (
	"bytes"
	"errors"
	"io"
	"os"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"padturn/io/whole"
	"padturn/model/standing"
)

func TestEveryKindIsReadAsItWasWritten(t *testing.T) {
	dir, data := journalOf(t, someNotes())
	j, err := Read(in(dir))
	require.NoError(t, err)
	assert.Equal(t, someNotes(), notesOf(j))
	assert.Equal(t, "2026-06-09T12:00:00Z", j.Entries[0].Written)
	first, _, _ := strings.Cut(string(data), "\n")
	assert.Regexp(t, `^\{"n":1,"written":"2026-06-09T12:00:00Z","at":"09:00:00","load":\{"name":"Heron-1","state":"filled",.*"amount":13\.125000001\}\]\},"sum":"[0-9a-f]{8}"\}$`, first)
}

func TestADayWithoutAJournalHasAnEmptyOne(t *testing.T) {
	dir := t.TempDir()
	j, err := Read(in(dir))
	require.NoError(t, err)
	assert.Empty(t, j.Entries)
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Empty(t, entries, "reading leaves nothing behind")
}

// TestTruncationAtEveryByte cuts a journal anywhere: the lines before the cut
// stand, what is left of the cut one is no fact, and the next line finds its
// place.
func TestTruncationAtEveryByte(t *testing.T) {
	_, data := journalOf(t, someNotes())
	dir := t.TempDir()
	path := in(dir)
	for n := range len(data) + 1 {
		require.NoError(t, os.WriteFile(path, data[:n], 0o644))
		lines := bytes.Count(data[:n], []byte("\n"))
		j, err := Read(in(dir))
		require.NoError(t, err, "cut at %d", n)
		require.Equal(t, describe(someNotes()[:lines]), describe(notesOf(j)), "cut at %d", n)
		require.Equal(t, data[bytes.LastIndexByte(data[:n], '\n')+1:n], append([]byte{}, j.Torn...), "cut at %d", n)

		if n%9 > 0 && n < len(data)-300 {
			continue // each goes to the disk, which takes its time
		}
		after, err := put(dir, someNotes()[3])
		require.NoError(t, err, "cut at %d", n)
		require.Equal(t, j.Torn, after.Torn, "what was cut off is told")
		again, err := Read(in(dir))
		require.NoError(t, err, "cut at %d", n)
		require.Equal(t, lines+1, len(again.Entries))
		require.Empty(t, again.Torn)
	}
}

// TestDamageIsNeverTakenForAFact changes each byte in turn.
func TestDamageIsNeverTakenForAFact(t *testing.T) {
	_, data := journalOf(t, someNotes())
	for i := range data {
		for _, bit := range []byte{0x01, 0x20, 0x80} {
			damaged := bytes.Clone(data)
			damaged[i] ^= bit
			j, err := parse("journal.jsonl", damaged)
			if err != nil {
				require.Regexp(t, `^journal.jsonl:\d+: the line is not as padturn wrote it`, err.Error())
				continue
			}
			require.Equal(t, len(data)-1, i, "only the last line's end can be missing unseen")
			require.Equal(t, describe(someNotes()[:10]), describe(notesOf(j)))
		}
	}
}

func TestEditedJournalsAreRefused(t *testing.T) {
	_, data := journalOf(t, someNotes())
	lines := strings.SplitAfter(strings.TrimSuffix(string(data), "\n"), "\n")
	lines[len(lines)-1] += "\n"
	join := func(list ...string) string { return strings.Join(list, "") }
	tests := []struct{ name, text, line string }{
		{"a line removed", join(append(append([]string{}, lines[:2]...), lines[3:]...)...), ":3:"},
		{"the first line removed", join(lines[1:]...), ":1:"},
		{"two lines swapped", join(lines[1], lines[0]), ":1:"},
		{"a line twice", join(lines[0], lines[0]), ":2:"},
		{"an empty line", lines[0] + "\n" + lines[1], ":2:"},
		{"a line of its own", lines[0] + `{"n":2}` + "\n", ":2:"},
		{"Windows line ends", strings.ReplaceAll(join(lines...), "\n", "\r\n"), ":1:"},
		{"a byte order mark", "\ufeff" + join(lines...), ":1:"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dir := t.TempDir()
			require.NoError(t, os.WriteFile(in(dir), []byte(tt.text), 0o644))
			_, err := Read(in(dir))
			require.ErrorContains(t, err, File+tt.line)
			_, err = put(dir, someNotes()[0])
			require.ErrorContains(t, err, File+tt.line)
			after, err := os.ReadFile(in(dir))
			require.NoError(t, err)
			assert.Equal(t, tt.text, string(after), "a damaged journal is left as it is")
		})
	}
}

func TestUndo(t *testing.T) {
	mark := Note{At: 1, News: standing.SprayerMark{Sprayer: "Sora", Out: true}}
	tests := []struct {
		name  string
		notes []Note
		stand []int // numbers of the facts
	}{
		{"nothing undone", []Note{mark, mark}, []int{1, 2}},
		{"undone", []Note{mark, mark, {Undo: 1}}, []int{2}},
		{"the undo undone", []Note{mark, {Undo: 1}, {Undo: 2}}, []int{1}},
		{"and that again", []Note{mark, {Undo: 1}, {Undo: 2}, {Undo: 3}}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dir, _ := journalOf(t, tt.notes)
			j, err := Read(in(dir))
			require.NoError(t, err)
			var got []int
			for _, f := range j.Facts() {
				got = append(got, f.N)
			}
			assert.Equal(t, tt.stand, got)
		})
	}
}

// fullDisk takes so many bytes and no more.
type fullDisk struct {
	*os.File
	room       int
	noTruncate bool
	syncFails  bool
}

var errFull = errors.New("no space left on device")

func (f *fullDisk) WriteAt(data []byte, at int64) (int, error) {
	n := min(len(data), f.room)
	if _, err := f.File.WriteAt(data[:n], at); err != nil {
		return 0, err
	}
	if n < len(data) {
		return n, errFull
	}
	return n, nil
}

func (f *fullDisk) Truncate(size int64) error {
	if f.noTruncate {
		return errFull
	}
	return f.File.Truncate(size)
}

func (f *fullDisk) Sync() error {
	if f.syncFails {
		return errFull
	}
	return f.File.Sync()
}

// TestFullDisk lets the disk run full all along a line: the report is
// refused, and the journal is as it was; where not even that can be done, the
// next report cuts the rest off.
func TestFullDisk(t *testing.T) {
	before := someNotes()[:3]
	_, data := journalOf(t, before)
	next := someNotes()[5]
	line := journalLine(t, before, next)
	for _, canTruncate := range []bool{true, false} {
		for room := 0; room < len(line); room += 3 {
			dir := t.TempDir()
			path := in(dir)
			require.NoError(t, os.WriteFile(path, data, 0o644))
			a := appender{in(dir), func(path string) (file, bool, error) {
				f, err := os.OpenFile(path, os.O_RDWR, 0)
				return &fullDisk{File: f, room: room, noTruncate: !canTruncate}, false, err
			}, whole.SyncFolder}
			_, err := a.append(noon, func(*Journal) ([]Note, error) { return []Note{next}, nil })
			require.ErrorContains(t, err, "no space left on device")
			j, err := Read(in(dir))
			require.NoError(t, err)
			require.Equal(t, describe(before), describe(notesOf(j)))
			if canTruncate {
				require.Empty(t, j.Torn)
			}
			_, err = put(dir, next)
			require.NoError(t, err)
			j, err = Read(in(dir))
			require.NoError(t, err)
			require.Equal(t, describe(append(before[:3:3], next)), describe(notesOf(j)))
		}
	}
}

func journalLine(t *testing.T, before []Note, next Note) []byte {
	_, data := journalOf(t, append(before[:len(before):len(before)], next))
	return bytes.SplitAfter(data, []byte("\n"))[len(before)]
}

func TestAFailedSyncIsNotAcknowledged(t *testing.T) {
	dir := t.TempDir()
	a := appender{in(dir), func(path string) (file, bool, error) {
		f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o644)
		return &fullDisk{File: f, room: 1 << 20, syncFails: true}, true, err
	}, whole.SyncFolder}
	_, err := a.append(noon, func(*Journal) ([]Note, error) { return someNotes()[:1], nil })
	require.ErrorContains(t, err, "nothing was written down")
	j, err := Read(in(dir))
	require.NoError(t, err)
	assert.Empty(t, j.Entries)
}

func TestTheFolderOfANewJournalIsSynced(t *testing.T) {
	synced := []string{}
	dir := t.TempDir()
	a := appender{in(dir), openFile, func(dir string) error { synced = append(synced, dir); return nil }}
	for range 2 {
		_, err := a.append(noon, func(*Journal) ([]Note, error) { return someNotes()[:1], nil })
		require.NoError(t, err)
	}
	assert.Equal(t, []string{dir}, synced, "once, when the file is new")
	a.path = in(t.TempDir())
	a.syncFolder = func(string) error { return io.ErrUnexpectedEOF }
	_, err := a.append(noon, func(*Journal) ([]Note, error) { return someNotes()[:1], nil })
	require.ErrorContains(t, err, "may not have reached the disk")
}

func TestADecisionAgainstLeavesTheJournalAlone(t *testing.T) {
	dir, data := journalOf(t, someNotes())
	_, err := Append(in(dir), noon, func(j *Journal) ([]Note, error) {
		assert.Len(t, j.Entries, len(someNotes()))
		return nil, io.ErrUnexpectedEOF
	})
	require.ErrorIs(t, err, io.ErrUnexpectedEOF)
	after, err := os.ReadFile(in(dir))
	require.NoError(t, err)
	assert.Equal(t, data, after)
}

// TestWritersTakeTurns: what each decides on is what the one before it wrote.
func TestWritersTakeTurns(t *testing.T) {
	dir := t.TempDir()
	const writers, each = 6, 12
	var wait sync.WaitGroup
	for range writers {
		wait.Go(func() {
			for range each {
				_, err := Append(in(dir), noon, func(j *Journal) ([]Note, error) {
					return []Note{{At: 1, News: standing.StockCount{Product: "p", Container: "tote", Size: 1, Full: 0}, Cause: strings.Repeat("x", len(j.Entries))}}, nil
				})
				assert.NoError(t, err)
				_, err = Read(in(dir))
				assert.NoError(t, err)
			}
		})
	}
	wait.Wait()
	j, err := Read(in(dir))
	require.NoError(t, err)
	require.Len(t, j.Entries, writers*each)
	for i, e := range j.Entries {
		assert.Len(t, e.Cause, i, "each saw all before it")
	}
}

// TestAnyInterleavingKeepsWhatWasAccepted runs reports, undos, reports that are
// refused, crashes at any byte of a report, and new starts in any order.
func TestAnyInterleavingKeepsWhatWasAccepted(t *testing.T) {
	top := t.TempDir()
	rapid.Check(t, func(t *rapid.T) {
		dir, err := os.MkdirTemp(top, "day")
		require.NoError(t, err)
		path := in(dir)
		var accepted []Note
		for range rapid.IntRange(1, 12).Draw(t, "steps") {
			note := anyNote(t, len(accepted))
			before, _ := os.ReadFile(path)
			_, err := put(dir, note)
			require.NoError(t, err)
			switch rapid.IntRange(0, 3).Draw(t, "fate") {
			case 0: // the machine stops before the answer
				after, err := os.ReadFile(path)
				require.NoError(t, err)
				least := min(len(before), bytes.LastIndexByte(before, '\n')+1)
				cut := rapid.IntRange(least, len(after)-1).Draw(t, "cut")
				require.NoError(t, os.WriteFile(path, after[:cut], 0o644))
			case 1: // refused
				_, err := Append(in(dir), noon, func(*Journal) ([]Note, error) { return nil, errFull })
				require.ErrorIs(t, err, errFull)
				accepted = append(accepted, note)
			default:
				accepted = append(accepted, note)
			}
			j, err := Read(in(dir))
			require.NoError(t, err)
			require.Equal(t, describe(accepted), describe(notesOf(j)))
		}
	})
}

func FuzzParse(f *testing.F) {
	_, data := journalOf(f, someNotes())
	f.Add(data)
	f.Add([]byte("{\"n\":1}\n"))
	f.Add([]byte("\x00\x00\n\n"))
	f.Add(data[:len(data)/2])
	f.Fuzz(func(t *testing.T, data []byte) {
		j, err := parse("journal.jsonl", data)
		if err != nil {
			return
		}
		// What is read comes out as it went in.
		again := &Journal{}
		var lines []byte
		for _, e := range j.Entries {
			text, err := again.add(e)
			require.NoError(t, err)
			lines = append(lines, text...)
		}
		read, err := parse("journal.jsonl", lines)
		require.NoError(t, err)
		require.Equal(t, describe(notesOf(j)), describe(notesOf(read)))
	})
}
