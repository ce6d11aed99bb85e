package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
)

// writeOut writes data to a file, or to w where path is blank or "-". A file is
// written whole under another name first, so that none is left half-written.
func writeOut(w io.Writer, path string, data []byte) error {
	if path == "" || path == "-" {
		_, err := w.Write(data)
		return err
	}
	file, err := os.CreateTemp(filepath.Dir(path), ".padturn-*")
	if err != nil {
		return err
	}
	_, err = file.Write(data)
	err = errors.Join(err, file.Chmod(0o644), file.Close())
	if err == nil {
		err = os.Rename(file.Name(), path)
	}
	if err != nil {
		return errors.Join(err, os.Remove(file.Name()))
	}
	return nil
}

// fileNames gives things file names that every file system takes, no two alike
// even where case does not count.
type fileNames map[string]bool

func (f fileNames) of(name string) string {
	base := strings.Map(func(r rune) rune {
		if r < ' ' || strings.ContainsRune(`/\:*?"<>|`, r) {
			return '_'
		}
		return r
	}, strings.Trim(name, " ."))
	if base == "" {
		base = "_"
	}
	unique := base
	for n := 2; f[strings.ToLower(unique)]; n++ {
		unique = fmt.Sprintf("%s-%d", base, n)
	}
	f[strings.ToLower(unique)] = true
	return unique
}
