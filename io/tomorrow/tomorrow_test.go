package tomorrow

import (
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/io/dayfiles"
	"padturn/model"
	"padturn/model/standing"
)

// dayText is a day of two sprayers on one bay.
func dayText() map[string]string {
	return map[string]string{
		"day.yaml": "date: \"2026-06-30\"\npad:\n  bays:\n    - name: bay 1  # the only one\n      connections: 3\n      plumbed: [ams]\n" +
			"      hooked: [gly, atra]\n  water: {on_hand_gal: 500, capacity_gal: 6000, refill_gpm: 1}\n",
		"jobs.csv": "job,field,sprayer,mix,acres,crop,drive_min,due,earliest,priority,note\n" +
			"A,north,S1,post,60,corn,10,10:30,07:00,,\nB,south,S2,burn,40,soybeans,10,06:00+1,,2,gate\nC,west,,post,20,corn,5,,,,\n",
		"mixes.csv":      "mix,gpa\npost,10\nburn,10\n",
		"recipes.csv":    "mix,product,rate,unit\npost,gly,32,floz/ac\npost,atra,1,qt/ac\nburn,auxin,1,qt/ac\n",
		"products.csv":   "product,form,unit,handling,groups\nams,SL,gal,metered,\ngly,SL,gal,metered,\natra,SC,gal,metered,triazine\nauxin,SL,gal,metered,auxin\n",
		"stock.csv":      "product,container,size,full,open\nams,tote,265,1,\ngly,tote,120,2,10\natra,drum,30,1,\nauxin,tote,110,1,\n",
		"deliveries.csv": "at,product,container,size,count\n07:00+1,gly,tote,120,2\n15:00,atra,drum,30,1\n",
		"sprayers.csv":   "sprayer,tank_gal,ac_per_h,last_mix\nS1,400,60,\nS2,400,60,burn\n",
		"rules.csv":      "where,after,before,level\nsprayer,@auxin,crop:soybeans,triple rinse\nsprayer,@triazine,crop:soybeans,water flush\n",
		"holds.csv":      "from,to,kind,scope,reason\n22:00,05:30+1,rain,,front\n12:00,13:00,wind,,\n",
	}
}

// carriedAt carries a day that stands without any load being filled.
func carriedAt(t *testing.T, text map[string]string, at string, facts ...standing.Fact) (map[string][]byte, []string, *dayfiles.Day) {
	t.Helper()
	dir := t.TempDir()
	for name, content := range text {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(content), 0o644))
	}
	day, err := dayfiles.Read(dir)
	require.NoError(t, err)
	moment, err := model.ParseHHMM(at)
	require.NoError(t, err)
	s, err := standing.At(day.Input, toldLoads(), facts, moment)
	require.NoError(t, err)
	in, notes, err := Of(s)
	require.NoError(t, err)
	files, err := Files(dir, in)
	require.NoError(t, err)
	next := t.TempDir()
	for name, content := range files {
		require.NoError(t, os.WriteFile(filepath.Join(next, name), content, 0o644))
	}
	read, err := dayfiles.Read(next)
	require.NoError(t, err)
	return files, notes, read
}

// toldLoads has S1 spray half of A, and S2 burn B after its burn of the morning.
func toldLoads() standing.Told {
	load := func(id, sprayer, job, mix string, start model.Clock, doses ...standing.Dose) standing.Planned {
		return standing.Planned{
			ID: id, Bay: "bay 1", Sprayer: sprayer, Mix: mix, CarrierGal: 280 * model.One,
			Parts: []standing.Part{{Job: job, Acres: 30 * model.One, Spray: 1800, SprayedAt: start + 3600}}, Doses: doses,
			CleanoutFrom: start, Ready: start, SetupStart: start, Start: start, End: start + 1200, BackAt: start + 4200, DriveOut: 600, DriveBack: 600,
		}
	}
	gly, atra := standing.Dose{Product: "gly", Amount: 10 * model.One, Metered: true}, standing.Dose{Product: "atra", Amount: 7 * model.One, Metered: true}
	return standing.Told{Loads: []standing.Planned{load("S1-1", "S1", "A", "post", 7*3600, gly, atra)}}
}

func TestJobsThatAreLeft(t *testing.T) {
	files, notes, _ := carriedAt(t, dayText(), "12:00")
	assert.Equal(t, "job,field,sprayer,mix,acres,customer,crop,drive_min,lat,lon,earliest,due,priority,gpa,note\n"+
		"B,south,S2,burn,40,,soybeans,10,,,,06:00,2,,gate\n"+
		"A,north,S1,post,30,,corn,10,,,,06:00,,,the rest of 60 ac\n"+
		"C,west,,post,20,,corn,5,,,,,,,\n", string(files["jobs.csv"]))
	assert.Contains(t, notes, "job A was due at 10:30 today: it is due at the opening")
}

func TestAcresInTheSheetAreRoundedDown(t *testing.T) {
	assert.Equal(t, "66.6666", cut(66_666_666_667, 10_000).String())
	assert.Equal(t, "12.5", cut(12_500_000_000, 10_000).String())
	assert.Positive(t, cut(1, 10_000))
}

func TestWhatHangsAndWhatIsLeft(t *testing.T) {
	files, notes, next := carriedAt(t, dayText(), "12:00")
	assert.Equal(t, "product,container,size,full,open\nams,tote,265,0,265\ngly,tote,120,2,\natra,drum,30,0,23\nauxin,tote,110,1,\n",
		string(files["stock.csv"]), "the opened gly is empty and hangs")
	assert.Equal(t, []string{"atra"}, next.Input.Settings.Pad.Bays[0].Hooked)
	assert.Equal(t, "post", next.Input.Settings.Pad.Bays[0].LastMix)
	assert.Contains(t, notes, "bay 1, connection 2: the container of gly is empty and counts as taken off")
	assert.Contains(t, string(files["day.yaml"]), "# the only one", "comments stay")
	assert.Equal(t, "2026-07-01", next.Input.Settings.Date)
	// 500 - 280 of the load, refilled 1 gal/min from 07:00 to 12:00 (and 60 before
	// it), then 18 h until 06:00.
	assert.Equal(t, "1660", next.Input.Settings.Pad.Water.OnHandGal.String())
}

func TestDeliveriesHoldsAndTheNextDay(t *testing.T) {
	files, notes, _ := carriedAt(t, dayText(), "12:00")
	assert.Equal(t, "at,product,container,size,count\n07:00,gly,tote,120,2\n", string(files["deliveries.csv"]))
	assert.Contains(t, notes, "1 drum of atra did not arrive: add it to the deliveries when its time is known")
	assert.Equal(t, "from,to,kind,scope,reason\n00:00,05:30,rain,,front\n", string(files["holds.csv"]))
}

func TestLastMixOfASprayer(t *testing.T) {
	_, notes, next := carriedAt(t, dayText(), "12:00")
	assert.Equal(t, "post", next.Input.Sprayers[0].LastMix)
	assert.Equal(t, "burn", next.Input.Sprayers[1].LastMix, "of the morning: it had no load")
	assert.NotContains(t, strings.Join(notes, "\n"), "S1 had")

	text := dayText()
	text["sprayers.csv"] = "sprayer,tank_gal,ac_per_h,last_mix\nS1,400,60,burn\nS2,400,60,\n"
	_, notes, next = carriedAt(t, text, "12:00")
	assert.Equal(t, "burn", next.Input.Sprayers[0].LastMix, "its auxin asks for more than the atrazine that came after it")
	assert.Contains(t, notes, "S1 had post last, but burn before it asks for the heavier cleanouts: that is its last_mix")
}

func TestSettingsInAnyForm(t *testing.T) {
	for name, text := range map[string]string{
		"no file": "-", "blank": "", "only a comment": "# nothing set\n", "no pad": "units: us\n",
		"flow style": "{date: \"2026-06-30\", pad: {bays: [{name: b, connections: 3}]}}\n",
	} {
		t.Run(name, func(t *testing.T) {
			day := maps.Clone(dayText())
			if day["day.yaml"] = text; text == "-" {
				delete(day, "day.yaml")
			}
			dir := t.TempDir()
			for file, content := range day {
				require.NoError(t, os.WriteFile(filepath.Join(dir, file), []byte(content), 0o644))
			}
			read, err := dayfiles.Read(dir)
			require.NoError(t, err)
			s, err := standing.At(read.Input, standing.Told{}, nil, 12*3600)
			require.NoError(t, err)
			in, _, err := Of(s)
			require.NoError(t, err)
			files, err := Files(dir, in)
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(filepath.Join(dir, "day.yaml"), files["day.yaml"], 0o644))
			again, err := dayfiles.Read(dir)
			require.NoError(t, err)
			read.Input.Settings.Date, again.Input.Settings.Date = "", ""
			read.Input.Settings.Pad.Bays[0].Hooked, again.Input.Settings.Pad.Bays[0].Hooked = nil, nil
			assert.Equal(t, read.Input.Settings, again.Input.Settings)
		})
	}
}

func TestATankWithoutADecisionKeepsTheDayOpen(t *testing.T) {
	dir := t.TempDir()
	for name, content := range dayText() {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(content), 0o644))
	}
	day, err := dayfiles.Read(dir)
	require.NoError(t, err)
	out := standing.Fact{N: 1, At: 7*3600 + 2000, News: standing.SprayerMark{Sprayer: "S1", Out: true}}
	s, err := standing.At(day.Input, toldLoads(), []standing.Fact{out}, 12*3600)
	require.NoError(t, err)
	_, _, err = Of(s)
	require.ErrorContains(t, err, "S1 has 26.7 ac of post in its tank (load S1-1): S1 is out of service. Decide by the labels")
}
