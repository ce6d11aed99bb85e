package workbook_test

import (
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/io/dayfiles"
	"padturn/io/workbook"
	"padturn/model"
)

// exampleNames are the days of the examples folder.
var exampleNames = []string{"small", "spring-rush", "short-stock"}

func exampleInput(t testing.TB, name string) model.Input {
	day, err := dayfiles.Read("../../examples/" + name)
	require.NoError(t, err)
	return day.Input
}

// A day says the same as a folder and as a workbook.
func TestDaysReadBackAsTheyWereWritten(t *testing.T) {
	for _, name := range exampleNames {
		t.Run(name, func(t *testing.T) {
			want := exampleInput(t, name)
			data, err := workbook.Day(want)
			require.NoError(t, err)
			if dir := os.Getenv("WORKBOOK_OUT"); dir != "" {
				os.WriteFile(dir+"/"+name+".xlsx", data, 0o644)
			}
			got, err := workbook.ReadBytes("day.xlsx", data)
			require.NoError(t, err)
			assert.Empty(t, got.Warnings)
			if diff := cmp.Diff(want, got.Input, cmpopts.EquateEmpty()); diff != "" {
				t.Errorf("-folder +workbook:\n%s", diff)
			}
		})
	}
}
