// Package whole writes files so that a reader finds each of them whole or not at
// all: under another name first, brought to the disk, then renamed.
//
// In: a new folder ([NewFolder]), files in a folder ([Files]). Not in: what is
// in the files, and the files of a plan, which replace one another together
// (io/planfile).
package whole

import (
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
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
	for _, name := range slices.Sorted(maps.Keys(files)) {
		if err := write(filepath.Join(temp, name), files[name]); err != nil {
			return err
		}
	}
	if err := check(temp); err != nil {
		return err
	}
	if err := errors.Join(os.Chmod(temp, 0o755), syncFolder(temp)); err != nil {
		return err
	}
	if err := os.Rename(temp, dir); err != nil {
		return err
	}
	return syncFolder(parent)
}

// Files writes files into a folder, which it makes where there is none. Each
// replaces one of its name.
func Files(dir string, files map[string][]byte) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		temp, err := os.CreateTemp(dir, ".padturn-*.tmp")
		if err != nil {
			return err
		}
		_, err = temp.Write(files[name])
		err = errors.Join(err, temp.Chmod(0o644), temp.Sync(), temp.Close())
		if err == nil {
			err = os.Rename(temp.Name(), filepath.Join(dir, name))
		}
		if err != nil {
			return errors.Join(err, os.Remove(temp.Name()))
		}
	}
	return syncFolder(dir)
}

func write(path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Sync(), f.Close())
}

// syncFolder brings names to the disk. Windows cannot sync a folder and does
// not need it.
func syncFolder(dir string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	folder, err := os.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(folder.Sync(), folder.Close())
}
