package handout

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"padturn/io/planfile"
)

// A load is said to hold what its sheet has: rounding carries on from load to load
// of a job, so 982.5 gal may be 982 there.
func TestSpraysAreAsTheSheetsHaveThem(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawnDay(t)
		h, err := Of(d)
		require.NoError(t, err)
		printed := Sprays(d)
		require.Len(t, printed, len(h.Sheets))
		for _, s := range h.Sheets {
			require.Equal(t, s.Spray.Number(), printed[s.Load], s.Load)
		}
	})
}

func TestSpraysOfAPlanThatMakesNoSheets(t *testing.T) {
	d, err := planfile.Read("../planfile/testdata/long/plan.json")
	require.NoError(t, err)
	d.Loads[0].Gal, d.Loads[0].Steps[1].Product = 982_500_000_000, "nothing"
	_, err = Of(d)
	require.Error(t, err)
	assert.Equal(t, "983", Sprays(d)[d.Loads[0].Load])
}
