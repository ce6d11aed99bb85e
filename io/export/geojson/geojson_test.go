package geojson

import (
	"encoding/json"
	"flag"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/io/planfile"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func long(t testing.TB) *planfile.Document {
	d, err := planfile.Read("../../planfile/testdata/long")
	require.NoError(t, err)
	return d
}

func TestGolden(t *testing.T) {
	data, unplaced, err := Fields(long(t))
	require.NoError(t, err)
	assert.Equal(t, []string{"Home 80", "Creek", "Süd", "=far"}, unplaced)
	const path = "testdata/long.geojson"
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(path, data, 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), string(data))
}

// TestForm holds the file to RFC 7946 as a stranger would read it: types,
// members that must be there, positions of longitude and latitude in range.
func TestForm(t *testing.T) {
	data, _, err := Fields(long(t))
	require.NoError(t, err)
	var got map[string]any
	require.NoError(t, json.Unmarshal(data, &got))
	assert.Equal(t, "FeatureCollection", got["type"])
	features := got["features"].([]any)
	require.Len(t, features, 5)
	points := 0
	for _, f := range features {
		feature := f.(map[string]any)
		assert.Equal(t, "Feature", feature["type"])
		assert.IsType(t, map[string]any{}, feature["properties"])
		geometry, there := feature["geometry"]
		require.True(t, there, "geometry must be there, null or not")
		if geometry == nil {
			continue
		}
		points++
		point := geometry.(map[string]any)
		assert.Equal(t, "Point", point["type"])
		position := point["coordinates"].([]any)
		require.Len(t, position, 2)
		assert.Equal(t, []any{-93.4572, 41.9203}, position, "longitude, then latitude")
	}
	assert.Equal(t, 1, points)
}

func TestAcresAddUp(t *testing.T) {
	d := long(t)
	d.Jobs[1].Field = d.Jobs[0].Field // two jobs on one field
	d.Jobs[1].Lat, d.Jobs[1].Lon = d.Jobs[2].Lat, d.Jobs[2].Lon
	data, _, err := Fields(d)
	require.NoError(t, err)
	var got Collection
	require.NoError(t, json.Unmarshal(data, &got))
	require.Len(t, got.Features, 4)
	both := got.Features[0].Properties
	assert.Equal(t, []string{"J1", "J2"}, both.Jobs)
	assert.NotNil(t, got.Features[0].Geometry, "the second job's place counts for the field")
	for _, f := range got.Features {
		p := f.Properties
		assert.Equal(t, p.AskedAcres, p.PlannedAcres+p.LeftAcres, p.Field)
		var loads planfile.Number
		for _, l := range p.Loads {
			loads += l.Acres
		}
		assert.Equal(t, p.PlannedAcres, loads, p.Field)
	}
}

func TestNamesakesOfTwoCustomersAreTwoFields(t *testing.T) {
	d := long(t)
	d.Jobs[1].Field, d.Jobs[1].Customer = d.Jobs[0].Field, "another"
	data, _, err := Fields(d)
	require.NoError(t, err)
	var got Collection
	require.NoError(t, json.Unmarshal(data, &got))
	assert.Len(t, got.Features, 5)
}

func TestADayWithoutJobs(t *testing.T) {
	data, unplaced, err := Fields(&planfile.Document{})
	require.NoError(t, err)
	assert.Empty(t, unplaced)
	assert.JSONEq(t, `{"type": "FeatureCollection", "features": []}`, string(data))
}
