package dayfiles_test

import (
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/stretchr/testify/require"

	"padturn/io/dayfiles"
)

// A day that is accepted must say the same when it is printed and read again,
// as files and as sheets; one that is refused must say why.
func checkDay(t *testing.T, day files) {
	got, err := dayfiles.ReadFS(day.fs(), "day")
	if err != nil {
		var problems *dayfiles.Problems
		require.True(t, errors.As(err, &problems))
		require.NotEmpty(t, problems.Errors)
		for _, f := range problems.Errors {
			require.NotEmpty(t, f.File)
			require.NotEmpty(t, f.Want)
		}
		return
	}
	require.NotNil(t, got.Problem)
	printed := printDay(got.Input)
	again, err := dayfiles.ReadFS(printed.fs(), "day")
	require.NoError(t, err, "accepted, but not when printed: %v", printed)
	if diff := cmp.Diff(got.Input, again.Input, cmpopts.EquateEmpty()); diff != "" {
		t.Fatalf("-read +printed and read again:\n%s", diff)
	}
	checkSheets(t, got.Input)
}

func TestDaysReadBackAsTheyArePrinted(t *testing.T) {
	checkDay(t, smallDay())
	checkDay(t, smallDay().with("day.yaml", wholeDayYAML))
	again := printDay(smallDay().with("day.yaml", wholeDayYAML).read(t).Input)
	require.Contains(t, again["day.yaml"], "wait_per_h: 300.123456789")
	require.Contains(t, again["jobs.csv"], "J1,north,S1,burndown,120.5,,corn,12,")
}

// FuzzDayYAML reads any text as the settings of a good day.
func FuzzDayYAML(f *testing.F) {
	for _, seed := range []string{
		"", "{}", "[]", "null", "units", wholeDayYAML, "pad:\n  jug_sec: 1e3\n", "pad: &a {bays: *a}", "<<: {units: us}",
		"? {a: b}\n: c\n", "? [units]\n: us\n", "units: !!binary dXM=\n", "pad: {bays: [{name: a}, 1, [], {}]}", "pad:\n\topens: x",
		"date: |\n  2026\n", "units: us\n---\n- a\n", "%YAML 1.1\n---\nunits: us\n", "'': 1\n", "pad: {jug_sec: 075, bag_sec: 0x10}",
		"pad: {opens: '00:00', closes: '23:59+1', lat: -0.0, lon: 180}\n", "\ufeffunits: us\n", "rinse_levels: [{name: \"é\", min: 0.000000001}]\n",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		checkDay(t, smallDay().with("day.yaml", text))
	})
}

// FuzzDay reads any texts as the tables of a day.
func FuzzDay(f *testing.F) {
	small := smallDay()
	f.Add(small["jobs.csv"], small["mixes.csv"], small["recipes.csv"], small["products.csv"], small["sprayers.csv"], small["stock.csv"],
		"where,after,before,level\ntank,a,b,forbid\n", "from,to,scope\n12:00,13:00,bay:bay 1\n",
		"at,product,container,size,count\n10:00,glyphosate 5.4 SL,tote,265,1\n", "from,to,wind_mph,rain_in\n14:00,16:00,8.5,0.01\n")
	f.Add("field,mix,acres,drive_min,lat,lon,due\nnorth,m,0.000000001,0,-0.0,1,00:30+1\n", "mix;gpa\nm;999.999999999\n",
		"mix,product,rate,unit,step\nm,p,0.1,%v/v,1.5\nm,p,1,floz/100L,\n", "product,form,unit,handling,groups,pack\np,WG,lb,hopper,a;b,20\n",
		"sprayer,tank_gal,boom_ft,mph,efficiency\ns,20000,120,14,0.000000001\n", "product,container,size,full,open\np,bag,20,40,3\n",
		"where,after,before,level\nsprayer,*,crop:x,triple rinse\nmanifold,@a,mix:m,wash\n", "from,to,kind\n00:00,23:59+1,rain\n",
		"at;product;container;size;count\n00:00;p;bag;20;40\n", "from,to,gust_mph,temp_f\n14:00,16:00,,-3.5\n")
	f.Add("\xff\xfe", "\"", ",\n,", "\uFEFF", "a\x00", "=1,2\n", "\n\n\n", "from;to\n1;2\n", "at\n", "\r")
	f.Fuzz(func(t *testing.T, jobs, mixes, recipes, products, sprayers, stock, rules, holds, deliveries, forecast string) {
		checkDay(t, files{
			"jobs.csv": jobs, "mixes.csv": mixes, "recipes.csv": recipes, "products.csv": products,
			"sprayers.csv": sprayers, "stock.csv": stock, "rules.csv": rules, "holds.csv": holds,
			"deliveries.csv": deliveries, "forecast.csv": forecast,
		})
	})
}
