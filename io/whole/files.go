package whole

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path/filepath"
	"slices"
)

// Files puts files into a folder, which it makes where there is none. Each
// replaces one of its name; a nil entry is a file that must not stay there. All
// others are left as they are.
//
// Every file is first written whole under another name and brought to the
// disk, then all are renamed, those called last at the end. Where anything
// fails before the renaming, the folder is untouched; the error says which file
// could not be written and why.
func Files(dir string, files map[string][]byte, last ...string) error {
	return writer{osDisk{}, dir}.write(files, last)
}

// File writes one file, and the folder it is in where there is none.
func File(path string, data []byte) error {
	return Files(filepath.Dir(path), map[string][]byte{filepath.Base(path): data})
}

// writer puts files into a folder of a disk.
type writer struct {
	disk disk
	dir  string
}

func (w writer) write(files map[string][]byte, last []string) error {
	if err := w.put(files, last); err != nil {
		return err
	}
	if err := w.removeOld(files); err != nil {
		return err
	}
	if err := w.disk.SyncFolder(w.dir); err != nil {
		return fmt.Errorf("the folder %s may not have reached the disk: %w", w.dir, err)
	}
	return nil
}

// put stages and renames files.
func (w writer) put(files map[string][]byte, last []string) error {
	if err := w.disk.MakeFolder(w.dir); err != nil {
		return fmt.Errorf("the folder %s cannot be made: %w; nothing was written", w.dir, err)
	}
	names := writeOrder(files, last)
	temps, err := w.stage(names, files)
	if err != nil {
		return errors.Join(err, w.discard(temps))
	}
	for i, name := range names {
		if err := w.disk.Rename(temps[i], filepath.Join(w.dir, name)); err != nil {
			return errors.Join(renameError(w.dir, name, i, err), w.discard(temps[i:]))
		}
	}
	return nil
}

// writeOrder lists the files to write by name, those called last at the end.
func writeOrder(files map[string][]byte, last []string) []string {
	var names, end []string
	for _, name := range slices.Sorted(maps.Keys(files)) {
		switch {
		case files[name] == nil:
		case slices.Contains(last, name):
			end = append(end, name)
		default:
			names = append(names, name)
		}
	}
	return append(names, end...)
}

// stage writes every file under another name. It returns the names it made,
// also with an error.
func (w writer) stage(names []string, files map[string][]byte) ([]string, error) {
	var temps []string
	for _, name := range names {
		temp, err := w.stageOne(files[name])
		if temp != "" {
			temps = append(temps, temp)
		}
		if err != nil {
			return temps, fmt.Errorf("%s cannot be written: %w; nothing was changed", filepath.Join(w.dir, name), err)
		}
	}
	return temps, nil
}

func (w writer) stageOne(data []byte) (string, error) {
	file, err := w.disk.CreateTemp(w.dir)
	if err != nil {
		return "", err
	}
	_, err = file.Write(data)
	if err == nil {
		err = file.Sync()
	}
	return file.Name(), errors.Join(err, file.Close())
}

func (w writer) discard(temps []string) error {
	var all []error
	for _, temp := range temps {
		if err := w.disk.Remove(temp); err != nil {
			all = append(all, fmt.Errorf("%s is left over: %w", temp, err))
		}
	}
	return errors.Join(all...)
}

func renameError(dir, name string, done int, err error) error {
	state := "nothing was changed"
	if done > 0 {
		state = "the folder now holds old files and new: clear it and write them again"
	}
	return fmt.Errorf("%s cannot be replaced: %w; %s", filepath.Join(dir, name), err, state)
}

// removeOld takes away what must not stay.
func (w writer) removeOld(files map[string][]byte) error {
	var all []error
	for _, name := range slices.Sorted(maps.Keys(files)) {
		if files[name] != nil {
			continue
		}
		path := filepath.Join(w.dir, name)
		if err := w.disk.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			all = append(all, fmt.Errorf("%s is out of date and cannot be removed: %w", path, err))
		}
	}
	return errors.Join(all...)
}
