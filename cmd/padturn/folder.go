package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"padturn/io/planfile"
)

// checkOut makes sure, before a search, that a plan can be written into a
// folder: a dispatcher should not wait for a plan that has nowhere to go. It
// leaves nothing behind.
func checkOut(out string) error {
	// A plan has a stock.csv of its own, which would take the place of the day's.
	if exists(filepath.Join(out, "jobs.csv")) {
		return wrongInput("cannot write %s: it is a day folder, and a plan's stock.csv would replace the day's", out)
	}
	if err := checkFree(out); err != nil {
		return err
	}
	dir := out
	info, err := os.Stat(dir)
	for errors.Is(err, fs.ErrNotExist) && dir != filepath.Dir(dir) {
		dir = filepath.Dir(dir)
		info, err = os.Stat(dir)
	}
	if err != nil {
		return wrongInput("cannot write %s: %v", out, err)
	}
	if !info.IsDir() {
		return wrongInput("cannot write %s: %s is a file", out, dir)
	}
	probe, err := os.MkdirTemp(dir, ".padturn-*")
	if err != nil {
		return wrongInput("cannot write %s: %v", out, err)
	}
	return os.Remove(probe)
}

// checkFree makes sure that a plan replaces nothing but an earlier plan.
func checkFree(out string) error {
	if exists(filepath.Join(out, planfile.PlanFile)) {
		return nil
	}
	for _, name := range append(planfile.FileNames(), planfile.ChangesFile) {
		if exists(filepath.Join(out, name)) {
			return wrongInput("cannot write %s: it holds a %s that is no plan's; choose another folder", out, name)
		}
	}
	return nil
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}
