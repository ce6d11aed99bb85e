package planfile

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
	return each(entries, func(e os.DirEntry) string { return e.Name() })
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

func TestWriteReplacesAnEarlierPlan(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "day", "plan")
	require.NoError(t, Write(dir, map[string][]byte{
		PlanFile: []byte("old"), LoadsFile: []byte("old"), WaterFile: []byte("old"), "sheets.txt": []byte("old"),
	}))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "notes.txt"), []byte("mine"), 0o600))

	require.NoError(t, Write(dir, map[string][]byte{
		PlanFile: []byte("new"), LoadsFile: {}, "sheets.txt": nil, "never.txt": nil,
	}))
	assert.Equal(t, map[string]string{PlanFile: "new", LoadsFile: "", "notes.txt": "mine"}, contents(t, dir),
		"old plan files are gone, the dispatcher's own stay, nothing else is left")

	info, err := os.Stat(filepath.Join(dir, PlanFile))
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o644), info.Mode().Perm())
}

func TestAddLeavesThePlanAlone(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, Write(dir, map[string][]byte{PlanFile: []byte("plan"), LoadsFile: []byte("loads")}))
	require.NoError(t, Add(dir, map[string][]byte{"sheets.pdf": []byte("old")}))
	require.NoError(t, Add(dir, map[string][]byte{"sheets.pdf": []byte("new")}))
	assert.Equal(t, map[string]string{PlanFile: "plan", LoadsFile: "loads", "sheets.pdf": "new"}, contents(t, dir))
}

func TestWriteWhereThereIsNoFolderToWriteTo(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	require.NoError(t, os.WriteFile(file, []byte("x"), 0o600))
	for _, row := range []struct{ name, to string }{
		{"the folder is a file", file},
		{"its parent is a file", filepath.Join(file, "plan")},
	} {
		t.Run(row.name, func(t *testing.T) {
			err := Write(row.to, map[string][]byte{PlanFile: []byte("new")})
			require.Error(t, err)
			assert.Contains(t, err.Error(), "the plan folder "+row.to+" cannot be made")
			assert.Contains(t, err.Error(), "nothing was written")
			assert.Equal(t, map[string]string{"file": "x"}, contents(t, dir))
		})
	}
}

func TestWriteOverAFolderOfAFilesName(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.MkdirAll(filepath.Join(dir, LoadsFile, "x"), 0o755))
	err := Write(dir, map[string][]byte{PlanFile: []byte("new"), LoadsFile: []byte("new")})
	require.Error(t, err)
	assert.Contains(t, err.Error(), filepath.Join(dir, LoadsFile)+" cannot be replaced")
	assert.Contains(t, err.Error(), "nothing was changed")
	assert.Equal(t, []string{LoadsFile}, names(t, dir))
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

func TestWriteFailures(t *testing.T) {
	old := map[string]string{PlanFile: "old", LoadsFile: "old", WaterFile: "old"}
	fresh := map[string]string{PlanFile: "new", LoadsFile: "new", CostFile: "new"}
	for _, row := range []struct {
		name string
		act  string
		nth  int
		err  error
		says string
		left map[string]string
	}{
		{"cannot create", "create", 1, syscall.EACCES, CostFile + " cannot be written: permission denied; nothing was changed", old},
		{"disk full", "write", 2, syscall.ENOSPC, LoadsFile + " cannot be written: no space left on device; nothing was changed", old},
		{"disk full at the sync", "sync", 3, syscall.ENOSPC, PlanFile + " cannot be written: no space left on device; nothing was changed", old},
		{"quota at the close", "close", 1, syscall.EDQUOT, CostFile + " cannot be written: disk quota exceeded; nothing was changed", old},
		{"first rename", "rename", 1, syscall.EPERM, CostFile + " cannot be replaced: operation not permitted; nothing was changed", old},
		{"last rename", "rename", 3, syscall.EPERM, PlanFile + " cannot be replaced: operation not permitted; the folder now holds files of two plans",
			map[string]string{PlanFile: "old", LoadsFile: "new", WaterFile: "old", CostFile: "new"}},
		{"old file stays", "remove", 4, syscall.EPERM, WaterFile + " is of an earlier plan and cannot be removed: operation not permitted",
			map[string]string{PlanFile: "new", LoadsFile: "new", CostFile: "new", WaterFile: "old"}},
		{"folder not synced", "sync folder", 1, syscall.EIO, "may not have reached the disk: input/output error", fresh},
	} {
		t.Run(row.name, func(t *testing.T) {
			dir := t.TempDir()
			for name, data := range old {
				require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(data), 0o600))
			}
			files := map[string][]byte{}
			for name, data := range fresh {
				files[name] = []byte(data)
			}
			bad := badDisk{act: row.act, nth: row.nth, err: row.err, done: map[string]int{}}
			err := writer{bad, dir}.write(files)
			require.ErrorIs(t, err, row.err)
			assert.Contains(t, err.Error(), row.says)
			assert.Equal(t, row.left, contents(t, dir))
		})
	}
}
