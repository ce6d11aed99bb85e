package planfile

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"padturn/model"
)

func planBytes(t testing.TB, d *Document) []byte {
	t.Helper()
	files, err := Render(d)
	require.NoError(t, err)
	return files[PlanFile]
}

func TestReadGivesBackWhatWasWritten(t *testing.T) {
	for _, sample := range samples {
		t.Run(sample.name, func(t *testing.T) {
			want := build(t, sample.day)
			dir := filepath.Join(t.TempDir(), "plan")
			files, err := Render(want)
			require.NoError(t, err)
			require.NoError(t, Write(dir, files))

			got, err := Read(dir)
			require.NoError(t, err)
			assert.Equal(t, want, got)
			again, err := Read(filepath.Join(dir, PlanFile))
			require.NoError(t, err)
			assert.Equal(t, want, again)
			assert.Equal(t, files[PlanFile], planBytes(t, got), "and renders to the same bytes")
		})
	}
}

// A plan of an earlier version, without the lists that came since, reads with empty
// ones, and is written as any other.
func TestReadAPlanOfAnEarlierVersion(t *testing.T) {
	var old map[string]any
	dec := json.NewDecoder(bytes.NewReader(planBytes(t, build(t, longDay))))
	dec.UseNumber()
	require.NoError(t, dec.Decode(&old))
	delete(old, "holds")
	delete(old, "deliveries")
	for _, load := range old["loads"].([]any) {
		delete(load.(map[string]any), "run")
	}
	for _, product := range old["products"].([]any) {
		delete(product.(map[string]any), "containers")
	}
	text, err := json.Marshal(old)
	require.NoError(t, err)
	d, err := Parse("old", text)
	require.NoError(t, err)
	assert.Equal(t, []string{}, d.Loads[0].Run)
	assert.Equal(t, []string{}, d.Told().Loads[0].Run)
	again, err := Parse("again", planBytes(t, d))
	require.NoError(t, err)
	assert.Equal(t, d, again)
}

func TestReadErrors(t *testing.T) {
	sound := string(planBytes(t, build(t, shortDay)))
	edit := func(from, to string) string {
		require.Contains(t, sound, from)
		return strings.Replace(sound, from, to, 1)
	}
	for _, row := range []struct{ name, data, want string }{
		{"empty", " \n", "p is empty"},
		{"not JSON", "loads\n", "p:1:1: not JSON"},
		{"cut off", sound[:len(sound)/2], "not JSON: unexpected end"},
		{"two values", sound + "{}", "not JSON: invalid character '{' after top-level value"},
		{"a list", "[]", "p:1:1: not a plan of padturn"},
		{"another file", `{"name": "x"}`, `p:1:1: not a plan of padturn: expected "schema": "padturn.plan/1"`},
		{"newer form", edit("padturn.plan/1", "padturn.plan/2"), `p:2:13: the plan has the form "padturn.plan/2"; this padturn reads "padturn.plan/1"`},
		{"unknown key", edit(`"units"`, `"unit"`), "p:3:10: day: additional properties 'unit' not allowed"},
		{"missing key", edit(`"units"`, `"unit"`), "p:3:10: day: missing property 'units'"},
		{"key in capitals", edit(`"loads": [`, `"Loads": [`), "additional properties 'Loads' not allowed"},
		{"text for a number", edit(`"tank_gal": 1000`, `"tank_gal": "1000"`), "sprayers/0/tank_gal: got string, want number"},
		{"null for a list", edit(`"warnings": []`, `"warnings": null`), "warnings: got null, want array"},
		{"not a time", edit(`"06:09:00"`, `"06:60:00"`), "loads/0/end: '06:60:00' does not match pattern"},
		{"exponent", edit(`"tank_gal": 1000`, `"tank_gal": 1e999999999`), "1e999999999 is not a plain number"},
		{"too many decimals", edit(`"tank_gal": 1000`, `"tank_gal": 1.0000000001`), "1.0000000001 is not a plain number"},
		{"too large", edit(`"tank_gal": 1000`, `"tank_gal": 99999999999`), "99999999999 is too large"},
		{"seed over 64 bits", edit(`"seed": 1`, `"seed": 18446744073709551616`), "18446744073709551616"},
		{"negative", edit(`"tank_gal": 1000`, `"tank_gal": -1`), "sprayers/0/tank_gal: minimum: got -1, want 0"},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := Parse("p", []byte(row.data))
			require.Error(t, err)
			assert.Contains(t, err.Error(), row.want)
		})
	}
}

func TestReadListsAllFaultsFromTheTop(t *testing.T) {
	sound := string(planBytes(t, build(t, shortDay)))
	broken := strings.NewReplacer(`"split": "even"`, `"split": "odd"`, `"inside"`, `"in"`, `"steps": 1`, `"steps": -1`).Replace(sound)
	_, err := Parse("p", []byte(broken))
	require.Error(t, err)
	lines := strings.Split(err.Error(), "\n")
	require.Len(t, lines, 2)
	assert.Contains(t, lines[0], "day/split: value must be one of 'even', 'full_first'")
	assert.Contains(t, lines[1], "search/steps: minimum: got -1, want 0")
	line, _, _ := strings.Cut(strings.TrimPrefix(lines[1], "p:"), ":")
	before, _, _ := strings.Cut(broken, `"steps": -1`)
	assert.Equal(t, strings.Count(before, "\n")+1, atoi(t, line))
}

func TestReadStopsListingAtTwentyFaults(t *testing.T) {
	_, err := Parse("p", []byte(`{"schema": "padturn.plan/1", "warnings": [`+strings.Repeat("1,", 40)+`1]}`))
	require.Error(t, err)
	assert.Contains(t, err.Error(), "and 22 more") // 41 warnings that are numbers, and the missing keys as one
}

func TestReadSaysWhereThereIsNoPlan(t *testing.T) {
	dir := t.TempDir()
	_, err := Read(dir)
	assert.ErrorIs(t, err, os.ErrNotExist)
	assert.ErrorContains(t, err, "no plan at "+filepath.Join(dir, PlanFile))
	_, err = Read(filepath.Join(dir, "nowhere"))
	assert.ErrorContains(t, err, "no plan at ")
}

func atoi(t testing.TB, s string) int {
	t.Helper()
	return int(dec(t, s) / model.One)
}

func TestNumbersAndTimesSurvive(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := Number(rapid.Int64Range(-1<<62, 1<<62).Draw(t, "billionths"))
		text, err := n.MarshalJSON()
		require.NoError(t, err)
		var back Number
		require.NoError(t, back.UnmarshalJSON(text))
		require.Equal(t, n, back)

		at := Time(rapid.Int64Range(0, 50*86_400).Draw(t, "seconds"))
		text, err = at.MarshalText()
		require.NoError(t, err)
		var again Time
		require.NoError(t, again.UnmarshalText(text))
		require.Equal(t, at, again)
	})
}

func TestTimesRefused(t *testing.T) {
	for _, text := range []string{"", "6:00:00", "24:00:00", "06:00", "06:60:00", "06:00:60", "06:00:00+0", "06:00:00+", "06:00:00-1", "06:00:00 "} {
		assert.Error(t, new(Time).UnmarshalText([]byte(text)), text)
	}
}

// FuzzRead: whatever the bytes, reading gives a plan or an error; and a plan
// that was read is written and read again as the same.
func FuzzRead(f *testing.F) {
	for _, sample := range samples {
		data := planBytes(f, build(f, sample.day))
		f.Add(data)
		f.Add(data[:len(data)/3])
		f.Add(bytes.ReplaceAll(data, []byte(`"ac"`), []byte(`"AC"`)))
	}
	for _, seed := range []string{
		"", "null", "[]", "{}", `{"schema":"padturn.plan/1"}`, `{"schema":"padturn.plan/1","loads":[1e999999999]}`,
		`{"schema":1}`, "\xef\xbb\xbf{}", "\x00", `{"schema":"padturn.plan/1","day":{"opens":"99:99:99+99"}}`,
		strings.Repeat("[", 20_000), `{"a":` + strings.Repeat(`{"a":`, 500) + strings.Repeat("}", 501),
		`{"schema":"padturn.plan/1","schema":"padturn.plan/2"}`,
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := Parse("fuzz", data)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		again, err := Parse("again", planBytes(t, d))
		require.NoError(t, err)
		require.Equal(t, d, again)
	})
}
