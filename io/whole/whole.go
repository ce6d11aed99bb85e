// Package whole writes files so that a reader finds each of them whole or not at
// all: under another name first, brought to the disk, then renamed.
//
// In: a new folder ([NewFolder]), files in a folder, all or none ([Files],
// [File]). Not in: what is in the files, and files that grow (io/journal).
package whole

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
)

// NewFolder makes a folder with files in it. check is given the folder under
// another name before it gets its own; its error is passed on and nothing stays.
// The folder must not exist yet.
func NewFolder(dir string, files map[string][]byte, check func(dir string) error) (err error) {
	if _, err := os.Lstat(dir); err == nil {
		return fmt.Errorf("%s is there already; nothing in it was changed", dir)
	}
	parent := filepath.Dir(filepath.Clean(dir))
	temp, err := os.MkdirTemp(parent, ".padturn-*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.RemoveAll(temp))
		}
	}()
	if err := Files(temp, files); err != nil {
		return err
	}
	if err := check(temp); err != nil {
		return err
	}
	if err := os.Chmod(temp, 0o755); err != nil {
		return err
	}
	if err := os.Rename(temp, dir); err != nil {
		return err
	}
	return SyncFolder(parent)
}
