package planfile

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
)

var update = flag.Bool("update", false, "write the golden files anew")

func TestRenderGoldens(t *testing.T) {
	for _, sample := range samples {
		t.Run(sample.name, func(t *testing.T) {
			files, err := Render(build(t, sample.day))
			require.NoError(t, err)
			assert.Len(t, files, len(FileNames()))
			for _, name := range FileNames() {
				path := filepath.Join("testdata", sample.name, name)
				if *update {
					require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
					require.NoError(t, os.WriteFile(path, files[name], 0o644))
				}
				want, err := os.ReadFile(path)
				require.NoError(t, err)
				assert.Empty(t, cmp.Diff(string(want), string(files[name])), name)
			}
		})
	}
}

func TestRenderTwiceGivesTheSameBytes(t *testing.T) {
	first, err := Render(build(t, longDay))
	require.NoError(t, err)
	for range 20 {
		again, err := Render(build(t, longDay))
		require.NoError(t, err)
		require.Equal(t, first, again)
	}
}

func TestEveryDocumentIsWhatTheSchemaSays(t *testing.T) {
	for _, sample := range samples {
		t.Run(sample.name, func(t *testing.T) {
			files, err := Render(build(t, sample.day))
			require.NoError(t, err)
			value, err := jsonschema.UnmarshalJSON(bytes.NewReader(files[PlanFile]))
			require.NoError(t, err)
			assert.NoError(t, compiledSchema().Validate(value))
		})
	}
}

// The schema is strict and explained: no object lets an unknown member pass,
// and every member has a description.
func TestSchemaIsStrictAndDescribed(t *testing.T) {
	var root any
	require.NoError(t, json.Unmarshal(schemaJSON, &root))
	objects := 0
	var walk func(path string, v any)
	walk = func(path string, v any) {
		node, ok := v.(map[string]any)
		if !ok {
			return
		}
		if node["type"] == "object" {
			objects++
			assert.Equal(t, false, node["additionalProperties"], path)
			assert.NotEmpty(t, node["required"], path)
			for name, member := range node["properties"].(map[string]any) {
				assert.NotEmpty(t, member.(map[string]any)["description"], path+"/"+name)
			}
		}
		for name, child := range node {
			walk(path+"/"+name, child)
		}
	}
	walk("", root)
	assert.Greater(t, objects, 20)
}

func TestRenderedCSVIsSpreadsheetSafe(t *testing.T) {
	d := build(t, longDay)
	d.Unsprayed[0].Reason = "-no\n\"room\", really"
	files, err := Render(d)
	require.NoError(t, err)
	assert.Equal(t, "job,acres,reason\nJ5,80.0000,\"'-no\n\"\"room\"\", really\"\n", string(files[UnsprayedFile]))
	assert.Contains(t, string(files[StockFile]), ",-20.0000,", "numbers stay bare")
	for name, data := range files {
		assert.NotContains(t, string(data), "\r", name)
	}
}

// A reader of amounts.csv can add a load up: the room that its steps take is
// the spray volume.
func TestStepsAddUpToTheSprayVolume(t *testing.T) {
	for _, sample := range samples {
		for _, l := range build(t, sample.day).Loads {
			var sum Number
			for _, s := range l.Steps {
				sum += s.Gal
			}
			assert.Equal(t, l.Gal, sum, l.Load)
		}
	}
}

func TestAmountsSayHow(t *testing.T) {
	files, err := Render(build(t, longDay))
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(files[AmountsFile])).ReadAll()
	require.NoError(t, err)
	for _, want := range [][]string{
		{"R1-1", "0", "water", "600.0000", "gal", "carrier, first part"},
		{"R1-1", "1", "ammonium sulfate", "102.0000", "lb", "hopper, 2 x 51 lb"},
		{"R1-1", "2", "glyphosate 5.4 SL", "20.0000", "gal", "metered, connection 1"},
		{"R1-1", "3", "Öl-Zusatz 農 (crop oil), 2.5 gal jugs", "12.0000", "gal", "hopper, 4 x 2.5 gal + 2 gal"},
		{"R1-1", "4", "water", "568.0000", "gal", "carrier, the rest, pushes counted in"},
		{"Flèche 農場 rouge à très longue rampe-1", "0", "water", "968.0000", "gal", "carrier, all of it"},
		{"Flèche 農場 rouge à très longue rampe-1", "2", "glyphosate 5.4 SL", "20.0000", "gal", "metered, connection 1, fresh tote inside the load"},
		// 405 gal of 11.06 lb/gal.
		{"R2-1", "0", "UAN 32", "4479.3000", "lb", "carrier, first part"},
		// Drawn before mesotrione takes its place inside the load.
		{"R2-1", "1", "atrazine 4 SC", "15.1875", "gal", "metered, connection 2"},
		{"R2-1", "2", "mesotrione 4 SC", "1.8984", "gal", "metered, connection 2, put on inside the load"},
		{"R1-2", "2", "mesotrione 4 SC", "1.8984", "gal", "metered, connection 2"},
	} {
		assert.True(t, slices.ContainsFunc(rows, func(row []string) bool { return slices.Equal(row, want) }), "%v", want)
	}
}

func TestHopperHow(t *testing.T) {
	jugs := model.Product{Form: form(t, "EC"), Unit: unit(t, "gal"), Pack: new(dec(t, "2.5"))}
	for _, row := range []struct{ name, amount, want string }{
		{"whole jugs", "7.5", "hopper, 3 x 2.5 gal"},
		{"less than one", "0.4", "hopper, 0.4 gal of one pack"},
		{"some of the next", "6", "hopper, 2 x 2.5 gal + 1 gal"},
		{"a hair under", "7.499999999", "hopper, 3 x 2.5 gal"},
		{"a hair over", "7.500000001", "hopper, 3 x 2.5 gal"},
	} {
		t.Run(row.name, func(t *testing.T) { assert.Equal(t, row.want, hopperHow(&jugs, dec(t, row.amount))) })
	}
	loose := model.Product{Form: form(t, "WG"), Unit: unit(t, "lb")}
	assert.Equal(t, "hopper, by scale", hopperHow(&loose, model.One))
	loose.Form = form(t, "EC")
	assert.Equal(t, "hopper, by measure", hopperHow(&loose, model.One))
}

// Between two parts of a load there is a drive, also where the fields touch.
func TestTurnsHaveADriveBetweenParts(t *testing.T) {
	d := build(t, longDay)
	at := slices.IndexFunc(d.Turns, func(turn Turn) bool {
		return turn.Load == "R2-1" && turn.What == "drive" && turn.From == turn.To
	})
	require.Positive(t, at)
	assert.Equal(t, "08:35:01", d.Turns[at].From.String())
	assert.Equal(t, "spray", d.Turns[at-1].What)
	assert.Equal(t, "spray", d.Turns[at+1].What)
	assert.Len(t, d.Turns, len(longPlan(t).Spans)+1, "and nowhere else")
}

func TestBuildRefusesWhatCannotBeWritten(t *testing.T) {
	p, r := longDay(t)
	r.Plan.Changes = nil
	_, err := Build(p, r)
	assert.EqualError(t, err, "load Flèche 農場 rouge à très longue rampe-1: glyphosate 5.4 SL is metered but on no connection of south")

	r.Plan = nil
	_, err = Build(p, r)
	assert.ErrorContains(t, err, "there is no plan to write")
}

func TestTotals(t *testing.T) {
	totals := build(t, longDay).Totals
	assert.Equal(t, 4, totals.Loads)
	assert.Equal(t, "227.166666667", totals.Acres.String()) // 80 + 66.666666667 + 25 + 15.5 + 40
	assert.Equal(t, "80", totals.LeftAcres.String())
	assert.Equal(t, []int{2, 1, 5}, []int{totals.Rinses, totals.Cleanouts, totals.Changeovers})
	assert.Equal(t, int64(480+1901+50900), totals.WaitS)
	assert.Equal(t, []string{"01:15:10+1", "09:05:31", "08:06:40"},
		each(totals.Finish, func(f Finish) string { return f.BackAt.String() }))
	// 53,281 s at $250/h, 7,510 s at $102/h, five changeovers at $5.
	assert.Equal(t, "3937.852777778", totals.Cost.Dollars.String())
}

func TestGap(t *testing.T) {
	s := build(t, longDay).Search
	assert.Equal(t, "337.852777778", s.GapDollars.String())
	assert.Equal(t, "8.5796", s.GapPercent.Fixed(4))        // 337.8528 / 3937.8528
	assert.Equal(t, "9.3848", s.AboveBoundPercent.Fixed(4)) // 337.8528 / 3600
	assert.Zero(t, build(t, shortDay).Search.GapDollars)
	assert.Zero(t, build(t, emptyDay).Search.GapPercent, "a plan that costs nothing")
	assert.Nil(t, build(t, emptyDay).Search.AboveBoundPercent, "no bound")
}
