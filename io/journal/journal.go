package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"os"
	"strings"

	"padturn/model/standing"
)

// File is what the journal of a day is called.
const File = "journal.jsonl"

// Journal is what was written down so far.
type Journal struct {
	Entries []Entry
	// Torn is an unfinished line at the end: the trace of an Append that was
	// stopped before it answered. It is no entry.
	Torn []byte

	sum  uint32 // of the last line
	size int64  // of the whole lines
}

// Read reads the journal at a path; where there is none, it is empty. Its error
// names the line that is not as it was written.
func Read(path string) (*Journal, error) {
	unlock, err := lockForReading(path)
	if err != nil {
		return nil, err
	}
	defer unlock()
	data, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return &Journal{}, nil
	}
	if err != nil {
		return nil, fmt.Errorf("%s cannot be read: %w", path, err)
	}
	return parse(path, data)
}

// parse reads the bytes of a journal.
func parse(path string, data []byte) (*Journal, error) {
	j := &Journal{}
	for len(data) > 0 {
		end := bytes.IndexByte(data, '\n')
		if end < 0 {
			j.Torn = bytes.Clone(data)
			break
		}
		if err := j.read(data[:end]); err != nil {
			return nil, fmt.Errorf("%s:%d: the line is not as padturn wrote it (%w); journal entries are undone by a further one, never edited. Put the file back as it was",
				path, len(j.Entries)+1, err)
		}
		j.size += int64(end + 1)
		data = data[end+1:]
	}
	return j, nil
}

// sumKey comes before a line's sum, which is the last thing in it.
const sumKey = `,"sum":"`

// read takes the next line.
func (j *Journal) read(text []byte) error {
	body, tail, found := cutLast(text, sumKey)
	if !found {
		return errors.New("it has no sum")
	}
	sum := crc32.Update(j.sum, crc32.IEEETable, body)
	if string(tail) != fmt.Sprintf(`%08x"}`, sum) {
		return errors.New("its sum does not fit")
	}
	var l line
	dec := json.NewDecoder(strings.NewReader(string(body) + "}"))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&l); err != nil {
		return err
	}
	e, err := l.entry()
	switch {
	case err != nil:
		return err
	case e.N != len(j.Entries)+1:
		return fmt.Errorf("it is number %d, expected %d", e.N, len(j.Entries)+1)
	case e.News == nil && (e.Undo < 1 || e.Undo >= e.N):
		return fmt.Errorf("it undoes entry %d, which is not before it", e.Undo)
	}
	j.Entries, j.sum = append(j.Entries, e), sum
	return nil
}

func cutLast(text []byte, sep string) (before, after []byte, found bool) {
	i := bytes.LastIndex(text, []byte(sep))
	if i < 0 {
		return text, nil, false
	}
	return text[:i], text[i+len(sep):], true
}

// add puts an entry at the end and returns its line.
func (j *Journal) add(e Entry) ([]byte, error) {
	body, err := json.Marshal(lineOf(&e))
	if err != nil {
		return nil, err
	}
	body = bytes.TrimSuffix(body, []byte("}"))
	j.sum = crc32.Update(j.sum, crc32.IEEETable, body)
	j.Entries = append(j.Entries, e)
	return append(body, fmt.Sprintf("%s%08x\"}\n", sumKey, j.sum)...), nil
}

// Stands says, by entry, whether it stands: it is not undone, or what undid it
// was undone itself.
func (j *Journal) Stands() []bool {
	stands := make([]bool, len(j.Entries))
	for i := range stands {
		stands[i] = true
	}
	for i := len(j.Entries) - 1; i >= 0; i-- {
		if e := &j.Entries[i]; e.News == nil && stands[i] {
			stands[e.Undo-1] = false
		}
	}
	return stands
}

// Facts lists what was reported and stands, in the order of the entries.
func (j *Journal) Facts() []standing.Fact {
	var facts []standing.Fact
	stands := j.Stands()
	for i, e := range j.Entries {
		if e.News != nil && stands[i] {
			facts = append(facts, standing.Fact{N: e.N, At: e.At, News: e.News})
		}
	}
	return facts
}
