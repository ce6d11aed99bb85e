package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"padturn/io/dayfiles"
	"padturn/io/planfile"
	"padturn/io/table"
	"padturn/io/workbook"
	"padturn/model"
)

// isWorkbook says whether a day is a workbook and not a folder: by its name,
// and a folder may have any.
func isWorkbook(day string) bool {
	info, err := os.Stat(day)
	return workbookName(day) && (err != nil || !info.IsDir())
}

func workbookName(path string) bool {
	switch strings.ToLower(filepath.Ext(path)) {
	case ".xlsx", ".xlsm":
		return true
	}
	return false
}

// defaultOut is the folder that a day's plan goes to unless told otherwise.
func defaultOut(day string) string { return ofDay(day, "plan") }

// ofDay is where something that belongs to a day is: in its folder, or beside
// its workbook and called after it.
func ofDay(day, name string) string {
	if isWorkbook(day) {
		return strings.TrimSuffix(day, filepath.Ext(day)) + "-" + name
	}
	return filepath.Join(day, name)
}

// readDay reads a day folder or a day's workbook. It prints the warnings and,
// where there are mistakes, all of them; then its error is an [outcome].
func readDay(stderr io.Writer, dir string) (*dayfiles.Day, error) {
	if isWhat := notADay(dir); isWhat != "" {
		return nil, wrongInput("%s", isWhat)
	}
	read := dayfiles.Read
	if isWorkbook(dir) {
		read = workbook.Read
	}
	day, err := read(dir)
	var problems *dayfiles.Problems
	switch {
	case err == nil:
		printWarnings(stderr, day.Warnings)
		return day, nil
	case errors.As(err, &problems):
		printWarnings(stderr, problems.Warnings)
		fmt.Fprintln(stderr, problems)
		return nil, wrongInput("%s in %s; nothing was done", model.Count(len(problems.Errors), "mistake"), dir)
	}
	return nil, wrongInput("%v", err)
}

// notADay says of a path at which no day can be meant what it is; blank where one
// may be. The faults of a day would name every file that it lacks.
func notADay(dir string) string {
	info, err := os.Stat(dir)
	switch {
	case err != nil || !info.IsDir() || exists(filepath.Join(dir, "jobs.csv")) || exists(filepath.Join(dir, "mixes.csv")):
		return ""
	case exists(filepath.Join(dir, planfile.PlanFile)) && isDay(filepath.Dir(filepath.Clean(dir))):
		return fmt.Sprintf("%s is the plan of a day; give the day: %s", dir, filepath.Dir(filepath.Clean(dir)))
	case exists(filepath.Join(dir, planfile.PlanFile)):
		return fmt.Sprintf("%s is a plan; give the day that it is of", dir)
	}
	return fmt.Sprintf("%s is no day: it has neither jobs.csv nor mixes.csv; padturn init NEW-FOLDER writes a day to start from", dir)
}

func printWarnings(stderr io.Writer, warnings []table.Fault) {
	for _, w := range warnings {
		fmt.Fprintf(stderr, "warning: %s\n", w)
	}
}
