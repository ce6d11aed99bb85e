package dayfiles_test

import (
	"errors"
	"maps"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"padturn/io/dayfiles"
)

// files are the files of a day folder by name.
type files map[string]string

// smallDay is a day that is read without a fault or a warning.
func smallDay() files {
	return files{
		"jobs.csv": "job,field,sprayer,mix,acres,crop,drive_min\n" +
			"J1,north,S1,burndown,120.5,corn,12\n" +
			"J2,south,,burndown,80,corn,9\n",
		"mixes.csv":    "mix,gpa,carrier\nburndown,15,water\n",
		"recipes.csv":  "mix,product,rate,unit\nburndown,glyphosate 5.4 SL,32,floz/ac\n",
		"products.csv": "product,form,unit,handling\nglyphosate 5.4 SL,SL,gal,metered\n",
		"sprayers.csv": "sprayer,tank_gal,ac_per_h\nS1,1200,80\n",
		"stock.csv":    "product,container,size,full\nglyphosate 5.4 SL,tote,265,2\n",
		"day.yaml":     "date: 2026-05-04\n",
	}
}

// with returns the day with one file replaced.
func (f files) with(name, text string) files {
	f = maps.Clone(f)
	f[name] = text
	return f
}

// without returns the day with one file left out.
func (f files) without(name string) files {
	f = maps.Clone(f)
	delete(f, name)
	return f
}

func (f files) fs() fstest.MapFS {
	fsys := fstest.MapFS{}
	for name, text := range f {
		fsys[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return fsys
}

// read reads a day that must be good.
func (f files) read(t testing.TB) *dayfiles.Day {
	t.Helper()
	day, err := dayfiles.ReadFS(f.fs(), "day")
	require.NoError(t, err)
	return day
}

// refuse reads a day that must be refused, and returns why.
func (f files) refuse(t testing.TB) *dayfiles.Problems {
	t.Helper()
	_, err := dayfiles.ReadFS(f.fs(), "day")
	var problems *dayfiles.Problems
	require.True(t, errors.As(err, &problems), "want *Problems, got %v", err)
	return problems
}
