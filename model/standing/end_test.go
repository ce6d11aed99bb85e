package standing_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	. "padturn/model/standing"
)

func TestTheEndOfADay(t *testing.T) {
	tests := []struct {
		name   string
		facts  []Fact
		states string
		toFill int64 // of job A
	}{
		{"all goes as told", nil, "done done done", 0},
		{"a delay is made good", facts("12:00", LoadMark{Load: "S1-1", State: Filling}), "done done done", 0},
		{"a load that is waiting is not done, nor what comes after it on its bay", facts("06:00", LoadMark{Load: "S1-1", State: Waiting}),
			"waiting waiting waiting", 80},
		{"so late that it is not sprayed", facts("20:00", LoadMark{Load: "S1-2", State: Filling}), "done done spraying", 0},
		{"out for the rest of the day", facts("06:10", SprayerMark{Sprayer: "S1", Out: true}), "filled done waiting", 40},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			in, told := day()
			s, err := AtEnd(in, told, tt.facts)
			require.NoError(t, err)
			got := ""
			for _, l := range s.Loads {
				got += " " + string(l.State)
			}
			assert.Equal(t, tt.states, got[1:])
			assert.Equal(t, ac(tt.toFill), s.Jobs[0].ToFill)
			assert.GreaterOrEqual(t, s.At, in.Settings.Pad.Closes)
		})
	}
}
