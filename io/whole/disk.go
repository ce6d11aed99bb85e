package whole

import (
	"errors"
	"os"
	"runtime"
)

// disk is what writing needs of a file system; tests put one in its place
// that fails.
type disk interface {
	MakeFolder(dir string) error
	CreateTemp(dir string) (tempFile, error)
	Rename(from, to string) error
	Remove(path string) error
	SyncFolder(dir string) error
}

// tempFile is a file that is being written under another name.
type tempFile interface {
	Name() string
	Write(data []byte) (int, error)
	Sync() error
	Close() error
}

type osDisk struct{}

func (osDisk) MakeFolder(dir string) error { return os.MkdirAll(dir, 0o755) }

// CreateTemp makes the file readable for all: what is written is for the whole crew.
func (osDisk) CreateTemp(dir string) (tempFile, error) {
	file, err := os.CreateTemp(dir, ".padturn-*.tmp")
	if err != nil {
		return nil, err
	}
	if err := file.Chmod(0o644); err != nil {
		return nil, errors.Join(err, file.Close(), os.Remove(file.Name()))
	}
	return file, nil
}

func (osDisk) Rename(from, to string) error { return os.Rename(from, to) }

func (osDisk) Remove(path string) error { return os.Remove(path) }

func (osDisk) SyncFolder(dir string) error { return SyncFolder(dir) }

// SyncFolder brings the names in a folder to the disk. Windows cannot sync a
// folder and does not need it.
func SyncFolder(dir string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	folder, err := os.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(folder.Sync(), folder.Close())
}
