package journal

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"padturn/io/whole"
)

// Append writes notes down in the journal at a path, which it makes where there
// is none. decide is given the journal as it is, with nobody else writing, and
// says what to add, or an error that is passed on; then nothing is written.
// written is the time by the machine's clock. The journal that Append returns
// holds what is on the disk by then; its Torn is what was cut off.
func Append(path string, written time.Time, decide func(*Journal) ([]Note, error)) (*Journal, error) {
	return appender{path, openFile, whole.SyncFolder}.append(written, decide)
}

// file is what appending needs of the journal's file; tests put one in its
// place that fails.
type file interface {
	io.Reader
	io.WriterAt
	Truncate(size int64) error
	Sync() error
	Close() error
}

type appender struct {
	path       string
	open       func(path string) (f file, isNew bool, err error)
	syncFolder func(dir string) error
}

func openFile(path string) (file, bool, error) {
	_, err := os.Stat(path)
	isNew := errors.Is(err, fs.ErrNotExist)
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return nil, false, err
	}
	return f, isNew, nil
}

func (a appender) append(written time.Time, decide func(*Journal) ([]Note, error)) (j *Journal, err error) {
	unlock, err := lockForWriting(a.path)
	if err != nil {
		return nil, err
	}
	defer unlock()
	f, isNew, err := a.open(a.path)
	if err != nil {
		return nil, fmt.Errorf("the journal cannot be opened: %w; nothing was written", err)
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	data, err := io.ReadAll(f)
	if err != nil {
		return nil, fmt.Errorf("%s cannot be read: %w; nothing was written", a.path, err)
	}
	if j, err = parse(a.path, data); err != nil {
		return nil, err
	}
	notes, err := decide(j)
	if err != nil {
		return nil, err
	}
	if len(notes) == 0 {
		return j, nil
	}
	if err := a.write(f, j, written, notes); err != nil {
		return nil, fmt.Errorf("%s cannot be written: %w; nothing was written down", a.path, err)
	}
	if isNew || j.size == 0 {
		if err := a.syncFolder(filepath.Dir(a.path)); err != nil {
			return nil, fmt.Errorf("%s may not have reached the disk: %w; report it again", a.path, err)
		}
	}
	return j, nil
}

// write adds the lines in place of what is torn, and brings them to the disk.
// Where it cannot, it takes back what it did.
func (a appender) write(f file, j *Journal, written time.Time, notes []Note) error {
	size := j.size
	var lines []byte
	for _, note := range notes {
		text, err := j.add(Entry{Note: note, N: len(j.Entries) + 1, Written: written.Format(time.RFC3339)})
		if err != nil {
			return err
		}
		lines = append(lines, text...)
	}
	if len(j.Torn) > 0 {
		// On its own and brought to the disk: else the end of what is torn could
		// come to stand behind a shorter line.
		if err := errors.Join(f.Truncate(size), f.Sync()); err != nil {
			return err
		}
	}
	_, err := f.WriteAt(lines, size)
	if err == nil {
		err = f.Sync()
	}
	if err != nil {
		return errors.Join(err, f.Truncate(size), f.Sync())
	}
	return nil
}
