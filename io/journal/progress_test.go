package journal

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/model/standing"
)

func TestProgress(t *testing.T) {
	tests := []struct {
		name, text string
		want       []Note
		err        string
	}{
		{"rows in their order", "Load;State;At;acres_left\nS1-1;Filling;6:30;\nS1-1;done;07:45;2.5\n", []Note{
			{At: 6*3600 + 1800, News: standing.LoadMark{Load: "S1-1", State: standing.Filling}},
			{At: 7*3600 + 2700, News: standing.LoadMark{Load: "S1-1", State: standing.Done, AcresLeft: model.Some(model.Decimal(2_500_000_000))}},
		}, ""},
		{"all mistakes at once", "load,state,at,acres_left\n,gone,25:00,\"1,5\"\n", nil,
			"progress.csv:2: load: is blank; a value is required\n" +
				"progress.csv:2: state: \"gone\": expected waiting, filling, filled, spraying, done or dropped\n" +
				"progress.csv:2: at: \"25:00\": expected a time as HH:MM from 00:00 to 23:59, or HH:MM+1 for the next day\n" +
				"progress.csv:2: acres_left: \"1,5\" is not a plain number; write 1.5, not 1,5"},
		{"a column is missing", "load,state\nS1-1,done\n", nil, "progress.csv:1: at: column is missing; found load, state"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), ProgressFile)
			require.NoError(t, os.WriteFile(path, []byte(tt.text), 0o644))
			got, err := Progress(path)
			if tt.err != "" {
				require.Error(t, err)
				assert.Equal(t, tt.err, err.Error())
				return
			}
			require.NoError(t, err)
			assert.Equal(t, tt.want, got)
		})
	}
	_, err := Progress("nowhere.csv")
	require.ErrorContains(t, err, "nowhere.csv cannot be read")
}
