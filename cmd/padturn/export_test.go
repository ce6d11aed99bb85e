package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// samplePlan is a plan of the plan file's own tests, in a folder that may be
// written to.
func samplePlan(t *testing.T, name string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "plan")
	require.NoError(t, os.CopyFS(dir, os.DirFS(filepath.Join("../../io/planfile/testdata", name))))
	return dir
}

func TestExportWritesWhatItSays(t *testing.T) {
	plan, out := samplePlan(t, "long"), t.TempDir()
	at := func(names ...string) string { return filepath.Join(append([]string{out}, names...)...) }
	tests := []struct {
		name  string
		args  []string
		files []string
		says  string
	}{
		{"one calendar", []string{"--to", "ical", "-o", at("day.ics")}, []string{"day.ics"}, "written to"},
		{"a calendar each", []string{"--to", "ical", "-o", at("calendars")},
			[]string{"calendars/R1.ics", "calendars/R2.ics", "calendars/deliveries.ics"}, "written to"},
		{"terminals", []string{"--to", "isoxml", "-o", at("usb")},
			[]string{"usb/R1/TASKDATA/TASKDATA.XML", "usb/R2/TASKDATA/TASKDATA.XML"}, "is cut to 32 characters"},
		{"map", []string{"--to", "geojson", "-o", at("map.geojson")}, []string{"map.geojson"},
			"4 fields without lat and lon: in the file without a place, so not seen on a map: Home 80, Creek, Süd, =far"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := padturn(append([]string{"export", plan}, tt.args...)...)
			require.Equal(t, exitPlanned, r.code, r.stderr)
			assert.Empty(t, r.stdout)
			assert.Contains(t, r.stderr, tt.says)
			for _, f := range tt.files {
				assert.FileExists(t, at(filepath.FromSlash(f)))
			}
		})
	}
}

func TestExportToStandardOutput(t *testing.T) {
	plan := samplePlan(t, "long")
	for format, begins := range map[string]string{"ical": "BEGIN:VCALENDAR\r\n", "geojson": "{\n"} {
		r := padturn("export", plan, "--to", format)
		require.Equal(t, exitPlanned, r.code, r.stderr)
		assert.Equal(t, begins, r.stdout[:len(begins)])
	}
}

func TestExportRefuses(t *testing.T) {
	tests := []struct {
		name string
		plan string
		args []string
		want string
	}{
		{"no format", "long", nil, `--to is missing`},
		{"unknown format", "long", []string{"--to", "fax"}, `--to "fax": expected ical, isoxml or geojson`},
		{"no folder for terminals", "long", []string{"--to", "isoxml"}, "needs -o DIR"},
		{"a plan without a date", "short", []string{"--to", "ical"}, "the plan has no date, and a calendar needs one"},
		{"a folder that is a file", "long", []string{"--to", "ical", "-o", "export_test.go"}, "the folder export_test.go cannot be made"},
		{"a file in a file", "long", []string{"--to", "geojson", "-o", "export_test.go/map.json"}, "the folder export_test.go cannot be made"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := padturn(append([]string{"export", samplePlan(t, tt.plan)}, tt.args...)...)
			assert.Equal(t, exitInput, r.code)
			assert.Contains(t, r.stderr, tt.want)
		})
	}
}

func TestFileNames(t *testing.T) {
	names := fileNames{}
	var got []string
	for _, name := range []string{"R1", "r1", "a/b", "a:b", "..", "Flèche 農"} {
		got = append(got, names.of(name))
	}
	assert.Equal(t, []string{"R1", "r1-2", "a_b", "a_b-2", "_", "Flèche 農"}, got)
}
