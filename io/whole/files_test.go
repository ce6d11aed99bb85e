package whole

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// names lists what a folder holds, hidden files too.
func names(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	list := []string{}
	for _, e := range entries {
		list = append(list, e.Name())
	}
	return list
}

func contents(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, name := range names(t, dir) {
		data, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		out[name] = string(data)
	}
	return out
}

func TestFilesReplaceAndRemoveByName(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "day", "plan")
	require.NoError(t, Files(dir, map[string][]byte{"a": []byte("old"), "b": []byte("old"), "c": []byte("old")}))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "notes.txt"), []byte("mine"), 0o600))

	require.NoError(t, Files(dir, map[string][]byte{"a": []byte("new"), "b": {}, "c": nil, "never": nil}, "a"))
	require.NoError(t, File(filepath.Join(dir, "d"), []byte("one")))
	assert.Equal(t, map[string]string{"a": "new", "b": "", "d": "one", "notes.txt": "mine"}, contents(t, dir),
		"what is nil is gone, all others stay, nothing else is left")

	info, err := os.Stat(filepath.Join(dir, "a"))
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o644), info.Mode().Perm())
}

func TestFilesWhereThereIsNoFolderToWriteTo(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	require.NoError(t, os.WriteFile(file, []byte("x"), 0o600))
	for _, row := range []struct{ name, to string }{
		{"the folder is a file", file},
		{"its parent is a file", filepath.Join(file, "plan")},
	} {
		t.Run(row.name, func(t *testing.T) {
			err := Files(row.to, map[string][]byte{"a": []byte("new")})
			require.Error(t, err)
			assert.Contains(t, err.Error(), "the folder "+row.to+" cannot be made")
			assert.Contains(t, err.Error(), "nothing was written")
			assert.Equal(t, map[string]string{"file": "x"}, contents(t, dir))
		})
	}
}

func TestFilesOverAFolderOfAFilesName(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "b", "x"), 0o755))
	err := Files(dir, map[string][]byte{"main": []byte("new"), "b": []byte("new")}, "main")
	require.Error(t, err)
	assert.Contains(t, err.Error(), filepath.Join(dir, "b")+" cannot be replaced")
	assert.Contains(t, err.Error(), "nothing was changed")
	assert.Equal(t, []string{"b"}, names(t, dir))
}

// badDisk fails one act, the nth time it is asked for.
type badDisk struct {
	osDisk
	act  string
	nth  int
	err  error
	done map[string]int
}

func (b badDisk) fails(act string) error {
	b.done[act]++
	if act == b.act && b.done[act] == b.nth {
		return b.err
	}
	return nil
}

func (b badDisk) CreateTemp(dir string) (tempFile, error) {
	if err := b.fails("create"); err != nil {
		return nil, err
	}
	file, err := b.osDisk.CreateTemp(dir)
	return badFile{file, b}, err
}

func (b badDisk) Rename(from, to string) error {
	if err := b.fails("rename"); err != nil {
		return err
	}
	return b.osDisk.Rename(from, to)
}

func (b badDisk) Remove(path string) error {
	if err := b.fails("remove"); err != nil {
		return err
	}
	return b.osDisk.Remove(path)
}

func (b badDisk) SyncFolder(dir string) error {
	return errors.Join(b.fails("sync folder"), b.osDisk.SyncFolder(dir))
}

// badFile writes half of what it is given before it fails, as a full disk does.
type badFile struct {
	tempFile
	disk badDisk
}

func (f badFile) Write(data []byte) (int, error) {
	if err := f.disk.fails("write"); err != nil {
		n, _ := f.tempFile.Write(data[:len(data)/2])
		return n, err
	}
	return f.tempFile.Write(data)
}

func (f badFile) Sync() error { return errors.Join(f.disk.fails("sync"), f.tempFile.Sync()) }

func (f badFile) Close() error { return errors.Join(f.tempFile.Close(), f.disk.fails("close")) }

func TestFilesFailures(t *testing.T) {
	old := map[string]string{"main": "old", "b": "old", "d": "old"}
	fresh := map[string]string{"main": "new", "b": "new", "a": "new"}
	for _, row := range []struct {
		name string
		act  string
		nth  int
		err  error
		says string
		left map[string]string
	}{
		{"cannot create", "create", 1, syscall.EACCES, "a cannot be written: permission denied; nothing was changed", old},
		{"disk full", "write", 2, syscall.ENOSPC, "b cannot be written: no space left on device; nothing was changed", old},
		{"disk full at the sync", "sync", 3, syscall.ENOSPC, "main cannot be written: no space left on device; nothing was changed", old},
		{"quota at the close", "close", 1, syscall.EDQUOT, "a cannot be written: disk quota exceeded; nothing was changed", old},
		{"first rename", "rename", 1, syscall.EPERM, "a cannot be replaced: operation not permitted; nothing was changed", old},
		{"last rename", "rename", 3, syscall.EPERM, "main cannot be replaced: operation not permitted; the folder now holds old files and new",
			map[string]string{"main": "old", "b": "new", "d": "old", "a": "new"}},
		{"old file stays", "remove", 1, syscall.EPERM, "d is out of date and cannot be removed: operation not permitted",
			map[string]string{"main": "new", "b": "new", "a": "new", "d": "old"}},
		{"folder not synced", "sync folder", 1, syscall.EIO, "may not have reached the disk: input/output error", fresh},
	} {
		t.Run(row.name, func(t *testing.T) {
			dir := t.TempDir()
			for name, data := range old {
				require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(data), 0o600))
			}
			files := map[string][]byte{"d": nil}
			for name, data := range fresh {
				files[name] = []byte(data)
			}
			bad := badDisk{act: row.act, nth: row.nth, err: row.err, done: map[string]int{}}
			err := writer{bad, dir}.write(files, []string{"main"})
			require.ErrorIs(t, err, row.err)
			assert.Contains(t, err.Error(), row.says)
			assert.Equal(t, row.left, contents(t, dir))
		})
	}
}
