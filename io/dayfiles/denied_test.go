package dayfiles_test

import (
	"io/fs"
	"testing/fstest"
)

// denied is a folder in which one name may not be opened. (Permission bits do
// not bind the administrator, as whom tests sometimes run.)
type denied struct {
	fstest.MapFS
	name string
}

func (d denied) Open(name string) (fs.File, error) {
	if name == d.name {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrPermission}
	}
	return d.MapFS.Open(name)
}

func (d denied) ReadDir(name string) ([]fs.DirEntry, error) {
	if name == d.name {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrPermission}
	}
	return d.MapFS.ReadDir(name)
}
