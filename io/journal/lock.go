package journal

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/gofrs/flock"
)

// A writer holds the lock for some milliseconds; one that has to wait longer
// than this waits for something that hangs.
const (
	lockPatience = 5 * time.Second
	lockRetry    = 10 * time.Millisecond
)

var errBusy = errors.New("another padturn is writing to it and does not come to an end; try again")

// lockOf is the file beside a journal that is locked in its place.
func lockOf(journal string) string {
	return strings.TrimSuffix(journal, filepath.Ext(journal)) + ".lock"
}

// lockForWriting keeps other writers and readers out until unlock is called.
func lockForWriting(journal string) (unlock func(), err error) {
	lock := flock.New(lockOf(journal), flock.SetPermissions(0o644))
	return take(journal, lock, lock.TryLockContext)
}

// lockForReading keeps writers out. A day that nobody has written to has no
// lock, and one that nobody may write to cannot be changed meanwhile.
func lockForReading(journal string) (unlock func(), err error) {
	path := lockOf(journal)
	if _, err := os.Stat(path); err != nil {
		return func() {}, nil
	}
	lock := flock.New(path, flock.SetFlag(os.O_RDONLY))
	unlock, err = take(journal, lock, lock.TryRLockContext)
	if errors.Is(err, fs.ErrPermission) {
		return func() {}, nil
	}
	return unlock, err
}

func take(journal string, lock *flock.Flock, try func(context.Context, time.Duration) (bool, error)) (func(), error) {
	ctx, cancel := context.WithTimeout(context.Background(), lockPatience)
	defer cancel()
	_, err := try(ctx, lockRetry)
	switch {
	case errors.Is(err, context.DeadlineExceeded):
		err = errBusy
	case err == nil:
		return func() { _ = lock.Unlock() }, nil // the end of the process lets go of it too
	}
	return nil, fmt.Errorf("%s cannot be locked: %w", journal, err)
}
