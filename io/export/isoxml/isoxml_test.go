package isoxml

import (
	"encoding/xml"
	"flag"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/io/planfile"
	"padturn/model"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// long is the plan that the plan file's own tests are about: two mixes, a
// carrier kept by weight, a load over two fields, names of other alphabets.
func long(t testing.TB) *planfile.Document {
	d, err := planfile.Read("../../planfile/testdata/long")
	require.NoError(t, err)
	return d
}

func written(t testing.TB, d *planfile.Document, o Options) (taskData, []byte) {
	t.Helper()
	data, _, err := TaskData(d, o)
	require.NoError(t, err)
	readStandard(t).check(t, data)
	var back taskData
	require.NoError(t, xml.Unmarshal(data, &back))
	return back, data
}

func TestGolden(t *testing.T) {
	_, data := written(t, long(t), Options{Version: "1.0"})
	const path = "testdata/long.xml"
	if *update {
		require.NoError(t, os.WriteFile(path, data, 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), string(data))
}

// TestRates works the numbers by hand: 15 US gal/ac is 15 x 3.785411784 L on
// 0.40468564224 ha = 140.30934 L/ha = 14030.934 mm³/m², in hundredths.
func TestRates(t *testing.T) {
	tests := []struct {
		gpa  string
		want int64
	}{
		{"15", 1403093},
		{"20", 1870791},
		{"0.1", 9354},
	}
	for _, tt := range tests {
		gpa, err := model.ParseDecimal(tt.gpa)
		require.NoError(t, err)
		got, err := volumeRate(planfile.Number(gpa))
		require.NoError(t, err)
		assert.Equal(t, tt.want, got, tt.gpa)
	}
	_, err := volumeRate(planfile.Number(model.WholeDecimal(30_000)))
	assert.ErrorContains(t, err, "more than the format can hold")
}

// TestRecipe works the burndown mix by hand, in 100,000 L of spray at 15
// gal/ac: 8.5 lb/100gal is 10.1853 g/L; 32 fl oz/ac is 0.25/15 of the spray;
// 1 %v/v is a hundredth.
func TestRecipe(t *testing.T) {
	got, _ := written(t, long(t), Options{})
	names := map[string]string{}
	for _, p := range got.Products {
		names[p.ID] = p.Name + " " + p.Quantity
	}
	recipe := map[string]int64{}
	for _, p := range got.Products {
		if p.Type == typeMixture && strings.HasPrefix(p.Name, "burndown") {
			assert.EqualValues(t, 100_000_000, p.Recipe)
			for _, r := range p.Relations {
				recipe[names[r.Product]] = r.Quantity
			}
		}
	}
	assert.EqualValues(t, 1_018_525, recipe["ammonium sulfate 004B"]) // 8.5 x 453.59237 / 378.5411784 = 10.18525 g/L
	assert.EqualValues(t, 1_666_667, recipe["glyphosate 5.4 SL 0048"])
	assert.EqualValues(t, 1_000_000, recipe["Öl-Zusatz 農 (crop oil), 2.5 gal 0048"])
	assert.EqualValues(t, 97_333_333, recipe["water 0048"])
}

func TestTasks(t *testing.T) {
	got, _ := written(t, long(t), Options{})
	var names []string
	for _, task := range got.Tasks {
		names = append(names, task.Name)
	}
	assert.Equal(t, []string{"J1 burndown", "J2 burndown", "J3 corn pre, two-way residual",
		"J4 corn pre, two-way residual", "J5 corn pre, two-way residual"}, names)
	assert.Equal(t, []planned{{"2026-05-05T00:20:10", "2026-05-05T01:00:10", 1}}, got.Tasks[4].Times, "past midnight is the next day")
	assert.EqualValues(t, 101171, got.Fields[2].Area) // 25 ac x 4046.8564224 m²
	assert.Equal(t, &point{10, "41.9203", "-93.4572"}, got.Fields[2].Point)
	assert.Equal(t, []customer{{"CTR1", "K. Åberg"}}, got.Customers)
}

func TestOneSprayer(t *testing.T) {
	got, _ := written(t, long(t), Options{Sprayer: "R2"})
	require.Len(t, got.Tasks, 2)
	assert.Len(t, got.Fields, 2)
}

func TestNoDateNoTimes(t *testing.T) {
	d := long(t)
	d.Day.Date = ""
	got, _ := written(t, d, Options{})
	assert.Empty(t, got.Tasks[0].Times)
}

func TestLongNamesAreCutAndTold(t *testing.T) {
	d := long(t)
	d.Jobs[0].Field = strings.Repeat("é", 40)
	data, short, err := TaskData(d, Options{Version: strings.Repeat("v", 33)})
	require.NoError(t, err)
	readStandard(t).check(t, data)
	assert.Contains(t, short, d.Jobs[0].Field)
}

func TestTheSameFieldOfTwoJobsIsOne(t *testing.T) {
	d := long(t)
	d.Jobs[1].Field = d.Jobs[0].Field
	got, _ := written(t, d, Options{})
	assert.Len(t, got.Fields, 4)
	assert.Equal(t, got.Tasks[0].Field, got.Tasks[1].Field)
}

func TestDictionaryNumbers(t *testing.T) {
	s := readStandard(t)
	for ddi, unit := range map[string]string{volumePerArea: "mm³/m²", volumeContent: "ml", massContent: "g"} {
		assert.Equal(t, unit, s.DDI[ddi].Unit, ddi)
	}
	assert.Equal(t, "0.01", s.DDI[volumePerArea].Resolution)
}
