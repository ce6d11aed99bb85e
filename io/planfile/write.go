package planfile

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path/filepath"
	"slices"
)

// Write puts the files of a plan into a folder, which it makes where there is
// none. A nil entry is a file that must not stay there; so are the files of an
// earlier plan that this one does not have, so that none is left to mislead.
//
// Every file is first written whole under another name and brought to the
// disk, then all are renamed, plan.json last. Where anything fails before the
// renaming, the folder's earlier plan is untouched; the error says which file
// could not be written and why.
func Write(dir string, files map[string][]byte) error {
	return writer{osDisk{}, dir}.write(files)
}

// Add puts files beside those of a plan and leaves all others as they are. It
// writes as [Write] does: whole files, or none where anything fails before the
// renaming.
func Add(dir string, files map[string][]byte) error {
	w := writer{osDisk{}, dir}
	if err := w.put(files); err != nil {
		return err
	}
	return w.syncFolder()
}

// writer puts files into a folder of a disk.
type writer struct {
	disk disk
	dir  string
}

func (w writer) write(files map[string][]byte) error {
	if err := w.put(files); err != nil {
		return err
	}
	if err := w.removeOld(files); err != nil {
		return err
	}
	return w.syncFolder()
}

// put stages and renames files.
func (w writer) put(files map[string][]byte) error {
	if err := w.disk.MakeFolder(w.dir); err != nil {
		return fmt.Errorf("the plan folder %s cannot be made: %w; nothing was written", w.dir, err)
	}
	names := writeOrder(files)
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

func (w writer) syncFolder() error {
	if err := w.disk.SyncFolder(w.dir); err != nil {
		return fmt.Errorf("the plan folder %s may not have reached the disk: %w", w.dir, err)
	}
	return nil
}

// writeOrder lists the files to write by name, plan.json last: a plan.json in
// the folder then never comes before the files it belongs with.
func writeOrder(files map[string][]byte) []string {
	var names []string
	for _, name := range slices.Sorted(maps.Keys(files)) {
		if files[name] != nil && name != PlanFile {
			names = append(names, name)
		}
	}
	if files[PlanFile] != nil {
		names = append(names, PlanFile)
	}
	return names
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
		state = "the folder now holds files of two plans: clear it and plan again"
	}
	return fmt.Errorf("%s cannot be replaced: %w; %s", filepath.Join(dir, name), err, state)
}

// removeOld takes away what an earlier plan left and this one does not have.
func (w writer) removeOld(files map[string][]byte) error {
	var all []error
	old := slices.Concat(FileNames(), []string{ChangesFile}, slices.Sorted(maps.Keys(files)))
	for _, name := range old {
		if files[name] != nil {
			continue
		}
		path := filepath.Join(w.dir, name)
		if err := w.disk.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			all = append(all, fmt.Errorf("%s is of an earlier plan and cannot be removed: %w", path, err))
		}
	}
	return errors.Join(all...)
}
