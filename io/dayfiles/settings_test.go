package dayfiles_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
)

const wholeDayYAML = `
date: "2026-05-04"
units: metric
spray_from: "05:30"
spray_until: '23:00'
split: full_first
share_max_min: 12.5
adding_order: soluble-dry-sc-ec-sl
pad:
  lat: 41.5
  lon: -93.25
  between_min: 4
  opens: "05:00"
  closes: "20:00"
  overtime_until: "01:00+1"
  bays:
    - name: left
      connections: 2
      plumbed: [glyphosate 5.4 SL]
      last_mix: burndown
      carriers: [water]
    - name: right
  carrier_gpm: 150.1
  carrier_first: 0.1
  water: {on_hand_gal: 5000, capacity_gal: 10000, refill_gpm: 25}
  rinsate_gal: 1500
rinse_levels:
  - {name: quick, min: 1.5, gal: 8}
cleanout_levels: []
costs:
  wait_per_h: 300.123456789
`

func TestEverySettingIsRead(t *testing.T) {
	s := smallDay().with("day.yaml", wholeDayYAML).read(t).Input.Settings
	want := model.DefaultSettings()
	lat, lon := 41.5, -93.25
	between, rinsate, overtime := model.WholeDecimal(4), model.WholeDecimal(1500), model.Clock(25*3600)
	want.Date, want.Units, want.Split, want.AddingOrder = "2026-05-04", "metric", "full_first", "soluble-dry-sc-ec-sl"
	want.SprayFrom, want.SprayUntil = 5*3600+30*60, 23*3600
	want.ShareMaxMin = model.Decimal(12_500_000_000)
	want.Pad.Lat, want.Pad.Lon = &lat, &lon
	want.Pad.BetweenMin, want.Pad.RinsateGal, want.Pad.OvertimeUntil = &between, &rinsate, &overtime
	want.Pad.Opens, want.Pad.Closes = 5*3600, 20*3600
	want.Pad.Bays = []model.BaySettings{
		{Name: "left", Connections: 2, Plumbed: []string{"glyphosate 5.4 SL"}, LastMix: "burndown", Carriers: []string{"water"}},
		// What a bay does not say is a bay's default, not the bay before it.
		{Name: "right", Connections: 3, Carriers: []string{"water"}},
	}
	want.Pad.CarrierGpm, want.Pad.CarrierFirst = model.Decimal(150_100_000_000), model.Decimal(100_000_000)
	want.Pad.Water = &model.WaterSettings{
		OnHandGal: model.WholeDecimal(5000), CapacityGal: model.WholeDecimal(10_000), RefillGpm: model.WholeDecimal(25),
	}
	want.RinseLevels = []model.LevelSettings{{Name: "quick", Min: model.Decimal(1_500_000_000), Gal: model.WholeDecimal(8)}}
	want.CleanoutLevels = []model.LevelSettings{}
	want.Costs.WaitPerH = model.Decimal(300_123_456_789)
	assert.Equal(t, want, s)
}

func TestEveryBadSettingIsTold(t *testing.T) {
	for _, tc := range []struct{ name, yaml, want string }{
		{"unknown key", "\nspray_form: \"06:00\"\n", `day.yaml:2: spray_form: unknown setting; did you mean "spray_from"?`},
		{"unknown key below", "pad:\n  bayz: 2\n", `day.yaml:2: pad.bayz: unknown setting; did you mean "pad.bays"?`},
		{"unknown key in a list", "pad:\n  bays:\n  - name: a\n    conections: 2\n",
			`day.yaml:4: pad.bays[0].conections: unknown setting; did you mean "pad.bays[].connections"?`},
		{"key in the wrong place", "opens: \"06:00\"\n", `day.yaml:1: opens: unknown setting; did you mean "pad.opens"?`},
		{"key in capitals", "Units: us\n", `day.yaml:1: Units: unknown setting; did you mean "units"?`},
		{"unknown empty key", "extra: {}\n", "day.yaml:1: extra: unknown setting"},
		{"path for a key", "\"pad::opens\": \"06:00\"\n", `day.yaml:1: pad::opens: unknown setting; did you mean "pad.opens"?`},
		{"key twice", "units: us\nsplit: even\nunits: metric\n", "day.yaml:3: units: stands twice, first in line 1"},
		{"bays: true", "pad:\n  bays: true\n", `day.yaml:2: pad.bays: "true": expected a list`},
		{"list of numbers for bays", "pad:\n  bays: [2]\n",
			`day.yaml:2: pad.bays[0]: "2": expected keys of its own: name, connections, plumbed, hooked, last_mix, carriers`},
		{"number for keys", "pad: 2\n", "day.yaml:1: pad: \"2\": expected keys of its own"},
		{"keys for a number", "pad:\n  jug_sec: {a: 1}\n", "day.yaml:2: pad.jug_sec: expected a number, not a list or keys of its own"},
		{"list for a time", "pad: {opens: [6]}\n", "day.yaml:1: pad.opens: expected a time in quotes, not a list or keys of its own"},
		{"nothing", "pad:\n  jug_sec:\n", "day.yaml:2: pad.jug_sec: is empty; give a value, or leave the key out for the default"},
		{"yes for a number", "pad:\n  jug_sec: true\n", `day.yaml:2: pad.jug_sec: "true" is not a number`},
		{"number in quotes", "pad:\n  jug_sec: \"75\"\n", `day.yaml:2: pad.jug_sec: "75" is a text; write the number without quotes`},
		{"exponent", "pad: {jug_sec: 1e3}\n", `day.yaml:1: pad.jug_sec: "1e3" is not a plain number; write it without an exponent`},
		{"infinite", "pad: {jug_sec: .inf}\n", `day.yaml:1: pad.jug_sec: ".inf" is not a number`},
		{"not a number", "pad: {jug_sec: .nan}\n", `day.yaml:1: pad.jug_sec: ".nan" is not a number`},
		{"octal", "pad: {jug_sec: 075}\n", `day.yaml:1: pad.jug_sec: "075" is not a plain number; leave out the zeros before it`},
		{"underscores", "pad: {jug_sec: 1_000}\n", `day.yaml:1: pad.jug_sec: "1_000" is not a plain number`},
		{"decimal comma", "pad:\n  jug_sec: 40,5\n", `day.yaml:2: pad.jug_sec: "40,5" is not a plain number; write 40.5, not 40,5`},
		{"negative", "pad: {jug_sec: -1}\n", `day.yaml:1: pad.jug_sec: "-1": expected at least 0 and at most 3600 seconds`},
		{"half a connection", "pad: {bays: [{name: a, connections: 1.5}]}\n", `day.yaml:1: pad.bays[0].connections: "1.5" is not a whole number`},
		{"off the globe", "pad: {lat: 1, lon: 200}\n", `day.yaml:1: pad.lon: "200": expected decimal degrees from -180 to 180`},
		{"time without quotes", "spray_from: 06:30\n", `day.yaml:1: spray_from: "06:30" is a time without quotes, which other readers of YAML take for a number; write "06:30"`},
		{"time as a number", "spray_from: 6\n", `day.yaml:1: spray_from: "6": expected a time as HH:MM from 00:00 to 23:59, or HH:MM+1 for the next day`},
		{"times out of order", "pad:\n  opens: \"19:30\"\n", `day.yaml:2: pad.closes: "19:00" must be later than pad.opens (19:30)`},
		{"number for a name", "pad: {bays: [{name: 1}]}\n", `day.yaml:1: pad.bays[0].name: "1" is not a text; write it in quotes`},
		{"bad name", "pad: {bays: [{name: \"a|b\"}]}\n", `day.yaml:1: pad.bays[0].name: "a|b" holds '|'; a name may not hold ; = |`},
		{"no name", "pad:\n  bays:\n    - connections: 2\n", `day.yaml:3: pad.bays[0].name: a name is required`},
		{"unknown product on a bay", "pad:\n  bays:\n    - name: a\n      hooked:\n        - glyfosate 5.4 SL\n",
			`day.yaml:5: pad.bays[0].hooked[0]: "glyfosate 5.4 SL" is not in products.csv; did you mean "glyphosate 5.4 SL"?`},
		{"unknown word", "split: evn\n", `day.yaml:1: split: "evn": expected even or full_first; did you mean "even"?`},
		{"alias", "pad: &p {jug_sec: 1}\n", "day.yaml:1: pad: anchors and aliases are not read; write the value out"},
		{"tag", "pad: {jug_sec: !!str 75}\n", `day.yaml:1: pad.jug_sec: "!!str" tags are not read; write only the value`},
		{"not UTF-8", "units: us\npad: {bays: [{name: Caf\xe9}]}\n", "day.yaml:2: is not UTF-8; save the file as UTF-8"},
		{"UTF-16", "\xff\xfeu\x00", "day.yaml:1: is not UTF-8; save the file as UTF-8"},
		{"merge key", "<<: {units: us}\n", "day.yaml:1: <<: unknown setting"},
		{"two documents", "units: us\n---\nunits: us\n", "day.yaml:2: a second document starts here; settings are one document"},
		{"not YAML", "units: us\n  split: even\n", "day.yaml:2: is not YAML: mapping values are not allowed in this context"},
		{"a list", "- units\n", "day.yaml:1: expected keys of its own: date, units"},
		{"a word", "units\n", `day.yaml:1: "units": expected keys of its own: date, units`},
	} {
		t.Run(tc.name, func(t *testing.T) {
			errs := smallDay().with("day.yaml", tc.yaml).refuse(t).Errors
			require.Len(t, errs, 1)
			got := errs[0].String()
			assert.True(t, strings.HasPrefix(got, tc.want), "want %s\n got %s", tc.want, got)
		})
	}
}

// A fault in one setting does not hide those in others.
func TestAllBadSettingsAreToldAtOnce(t *testing.T) {
	problems := smallDay().with("day.yaml", `units: imperial
colour: red
pad:
  opens: dawn
  bays:
    - name: a
      connections: two
    - nam: b
  jug_sec: 40,5
`).refuse(t)
	var paths []string
	for _, f := range problems.Errors {
		paths = append(paths, f.Column)
	}
	assert.Equal(t, []string{
		"units", "colour", "pad.opens", "pad.bays[0].connections", "pad.bays[1].nam", "pad.bays[1].name", "pad.jug_sec",
	}, paths)
}
