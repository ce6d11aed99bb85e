package main

import (
	"bytes"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"padturn/io/planfile"
	"padturn/io/whole"
)

// writeOut writes data to a file and says so, or to stdout where path is blank
// or "-".
func writeOut(stdout, stderr io.Writer, path string, data []byte) error {
	if path == "" || path == "-" {
		_, err := stdout.Write(data)
		return err
	}
	if err := writeWhole(path, data); err != nil {
		return err
	}
	_, err := fmt.Fprintf(stderr, "written to %s\n", path)
	return err
}

// writeWhole writes a file so that it is there as a whole or not at all.
func writeWhole(path string, data []byte) error {
	if err := whole.File(path, data); err != nil {
		return wrongInput("%v", err)
	}
	return nil
}

// ofPlans are the files that are written of a plan afterwards, and by what.
var ofPlans = map[string]string{sheetsPDF: "sheets", sheetsHTML: "sheets", planWorkbook: "workbook"}

// writePlan writes the files of a plan, and says what of an earlier one is left
// there: padturn removes no sheet that somebody may have at hand.
func writePlan(stderr io.Writer, out string, files map[string][]byte) error {
	before, _ := os.ReadFile(filepath.Join(out, planfile.PlanFile)) // none, if it can't be read
	if err := planfile.Write(out, files); err != nil {
		return wrongInput("cannot write %s: %v", out, err)
	}
	if before == nil || bytes.Equal(before, files[planfile.PlanFile]) {
		return nil
	}
	for _, name := range slices.Sorted(maps.Keys(ofPlans)) {
		if path := filepath.Join(out, name); exists(path) {
			fmt.Fprintf(stderr, "warning: %s is of the earlier plan; write it again: padturn %s %s\n", path, ofPlans[name], out)
		}
	}
	return nil
}

// folderOf returns the folder of a plan that may be named by its plan.json.
func folderOf(plan string) string {
	if info, err := os.Stat(plan); err == nil && !info.IsDir() {
		return filepath.Dir(plan)
	}
	return plan
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
