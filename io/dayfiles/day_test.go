package dayfiles_test

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/io/dayfiles"
	"padturn/model"
)

func TestReadSmallDay(t *testing.T) {
	day := smallDay().read(t)
	assert.Empty(t, day.Warnings)
	assert.Equal(t, model.DefaultSettings().Pad, day.Input.Settings.Pad)
	assert.Equal(t, "2026-05-04", day.Input.Settings.Date)
	require.Len(t, day.Input.Jobs, 2)
	assert.Equal(t, model.Decimal(120_500_000_000), day.Input.Jobs[0].Acres)
	assert.Equal(t, "S1", day.Input.Jobs[0].Sprayer)
	assert.Nil(t, day.Input.Jobs[0].GPA)
	require.Len(t, day.Problem.Jobs, 2)
	assert.Equal(t, model.None, day.Problem.Jobs[1].Sprayer)
}

func TestReadEveryColumn(t *testing.T) {
	day := smallDay().
		with("jobs.csv", "job,field,sprayer,mix,acres,customer,crop,drive_min,lat,lon,earliest,due,priority,gpa,note\n"+
			"J1,north,S1,burndown,120.5,Miller,corn,12,41.123456789012345,-93.5,07:30,01:15+1,2.5,20,\"gate, code 4\"\n").
		with("products.csv", "product,form,unit,handling,density_lb_gal,groups,pack,reorder_at,tank_life_h,rainfast_h,max_wind_mph,epa_reg_no,restricted,signal_word,ppe\n"+
			"glyphosate 5.4 SL,SL,gal,metered,10.2,\"glyphosate; group 9\",2.5,30,24,0.5,12,123-45,Yes,caution,gloves\n").
		with("sprayers.csv", "sprayer,tank_gal,boom_ft,mph,efficiency,ac_per_h,road_mph,available_from,available_until,last_mix,wait_per_h\n"+
			"S1,1200,120,15,0.8,90,25,06:30,20:00,burndown,180.25\n").
		with("deliveries.csv", "at,product,container,size,count\n10:00,glyphosate 5.4 SL,tote,265,1\n").
		with("rules.csv", "where,after,before,level,reason\nmanifold,@group 9,*,flush,label\n").
		with("holds.csv", "from,to,kind,scope,reason\n12:00,13:00,inversion,field:north,neighbour\n").
		with("forecast.csv", "from,to,wind_mph,gust_mph,rain_in,temp_f\n14:00,16:00,8,15,0,71.5\n").
		read(t)
	assert.Empty(t, day.Warnings)

	j := day.Input.Jobs[0]
	assert.Equal(t, 41.123456789012345, *j.Lat)
	assert.Equal(t, model.Clock(7*3600+30*60), *j.Earliest)
	assert.Equal(t, model.Clock(25*3600+15*60), *j.Due)
	assert.Equal(t, "2.5", j.Priority.String())
	assert.Equal(t, "gate, code 4", j.Note)

	p := day.Input.Products[0]
	assert.Equal(t, []string{"glyphosate", "group 9"}, p.Groups)
	assert.True(t, p.Restricted)
	assert.Equal(t, "0.5", p.RainfastH.String())
	assert.Equal(t, "123-45", p.EPARegNo)

	s := day.Input.Sprayers[0]
	assert.Equal(t, "180.25", s.WaitPerH.String())
	assert.Equal(t, model.Clock(20*3600), *s.AvailableUntil)
	assert.Equal(t, model.WholeDecimal(1), day.Input.Deliveries[0].Count)
	assert.Equal(t, "flush", day.Input.Rules[0].Level)
	assert.Equal(t, "field:north", day.Input.Holds[0].Scope)
	assert.Equal(t, "71.5", day.Input.Forecast[0].TempF.String())
	// Wind of 15 mph in gusts is over the product's 12.
	assert.Len(t, day.Problem.Holds, 2)
}

func TestReadSeparatorsAndEncodings(t *testing.T) {
	comma := smallDay()["jobs.csv"]
	for name, text := range map[string]string{
		"semicolons":     strings.ReplaceAll(comma, ",", ";"),
		"tabs":           strings.ReplaceAll(comma, ",", "\t"),
		"byte-order":     "\uFEFF" + comma,
		"CRLF":           strings.ReplaceAll(comma, "\n", "\r\n"),
		"blank lines":    "\n" + strings.ReplaceAll(comma, "\n", "\n\n , , , , , , \n"),
		"header in caps": strings.Replace(comma, "job,field", " JOB , Field", 1),
	} {
		t.Run(name, func(t *testing.T) {
			want := smallDay().read(t)
			got := smallDay().with("jobs.csv", text).read(t)
			assert.Equal(t, want.Input, got.Input)
			assert.Empty(t, got.Warnings)
		})
	}
}

func TestReadSaysWhatItAssumed(t *testing.T) {
	for name, tc := range map[string]struct {
		day  files
		want string
	}{
		"no day.yaml": {smallDay().without("day.yaml"), "day.yaml: there is no such file; all settings are the defaults"},
		"day.yaml with nothing in it": {smallDay().with("day.yaml", "# later\n"),
			"day.yaml: says nothing; all settings are the defaults"},
		"Windows-1252": {smallDay().with("jobs.csv", strings.Replace(smallDay()["jobs.csv"], "north", "Caf\xe9", 1)),
			"jobs.csv: is not UTF-8 and was read as Windows-1252; check the letters with accents"},
		"unknown column": {smallDay().with("jobs.csv", strings.Replace(smallDay()["jobs.csv"], "crop", "corp", 1)),
			`jobs.csv:1: corp: unknown column, not read; did you mean "crop"?`},
		"misspelt optional file": {smallDay().with("hold.csv", "from,to\n"),
			`hold.csv: unknown file, not read; did you mean "holds.csv"?`},
		"day.yml": {smallDay().without("day.yaml").with("day.yml", ""), `day.yml: unknown file, not read; did you mean "day.yaml"?`},
	} {
		t.Run(name, func(t *testing.T) {
			day := tc.day.read(t)
			var got []string
			for _, w := range day.Warnings {
				got = append(got, w.String())
			}
			assert.Contains(t, got, tc.want)
		})
	}
}

func TestWindows1252IsDecoded(t *testing.T) {
	day := smallDay().with("jobs.csv", strings.Replace(smallDay()["jobs.csv"], "north", "Caf\xe9 \xbd", 1)).read(t)
	assert.Equal(t, "Café ½", day.Input.Jobs[0].Field)
}

func TestReadFolder(t *testing.T) {
	dir := t.TempDir()
	for name, text := range smallDay() {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600))
	}
	day, err := dayfiles.Read(dir)
	require.NoError(t, err)
	assert.Equal(t, smallDay().read(t).Input, day.Input)

	_, err = dayfiles.Read(filepath.Join(dir, "tomorrow"))
	require.EqualError(t, err, filepath.Join(dir, "tomorrow")+": there is no such folder")
	_, err = dayfiles.Read(filepath.Join(dir, "jobs.csv"))
	require.EqualError(t, err, filepath.Join(dir, "jobs.csv")+": is a file; a day is a folder of files, or a workbook (.xlsx)")
}

// A pipe in place of a file must not be waited for.
func TestPipeIsNotOpened(t *testing.T) {
	fsys := smallDay().fs()
	fsys["stock.csv"].Mode = fs.ModeNamedPipe
	_, err := dayfiles.ReadFS(fsys, "day")
	require.EqualError(t, err, "stock.csv: cannot be read: it is not a plain file")
}

func TestUnreadableFolderAndFile(t *testing.T) {
	_, err := dayfiles.ReadFS(denied{smallDay().fs(), "."}, "fields/monday")
	require.EqualError(t, err, "fields/monday: the folder cannot be read: permission denied")
	_, err = dayfiles.ReadFS(denied{smallDay().fs(), "mixes.csv"}, "day")
	require.EqualError(t, err, "mixes.csv: cannot be read: permission denied")
}

func TestHugeFilesAreRefused(t *testing.T) {
	cell := strings.Repeat("9", 10<<20)
	problems := smallDay().with("jobs.csv", "field,mix,acres,drive_min\nnorth,burndown,"+cell+",5\n").refuse(t)
	require.Len(t, problems.Errors, 1)
	assert.Equal(t, 2, problems.Errors[0].Line)
	assert.Equal(t, 3, problems.Errors[0].Field)
	assert.Less(t, len(problems.Error()), 300)
	assert.Contains(t, problems.Error(), "is 10485760 bytes long; a cell may have 65536")

	file := "field,mix,acres\n" + strings.Repeat("north,burndown,1\n", 1<<20)
	assert.EqualError(t, smallDay().with("jobs.csv", file).refuse(t), "jobs.csv: is larger than 16 MiB; a day's table is far smaller")
	assert.EqualError(t, smallDay().with("day.yaml", strings.Repeat("#\n", 1<<20)).refuse(t), "day.yaml: is larger than 1 MiB; settings are far smaller")
}

// Reading many copies of the same bytes must give the same words each time.
func TestFaultsAreInTheSameOrderEachTime(t *testing.T) {
	day := smallDay().
		with("day.yaml", "spray_form: \"06:00\"\nsplit: odd\npad: {opens: 6, bayz: 2, closes: late}\n").
		with("jobs.csv", "field,mix,acres\nnorth,burn down,\"1,200\"\n,burndown,-4\n")
	want := day.refuse(t).Error()
	for range 20 {
		require.Equal(t, want, day.refuse(t).Error())
	}
}

func BenchmarkReadSeventyLoads(b *testing.B) {
	var jobs bytes.Buffer
	jobs.WriteString("field,sprayer,mix,acres,crop,drive_min,due\n")
	for range 70 {
		// One load each: 80 ac × 15 gal/ac fill the tank of 1,200 gal.
		jobs.WriteString("north,S1,burndown,80,corn,12.5,18:30\n")
	}
	fsys := smallDay().with("jobs.csv", jobs.String()).fs()
	for b.Loop() {
		day, err := dayfiles.ReadFS(fsys, "day")
		if err != nil || len(day.Problem.Jobs) != 70 {
			b.Fatal(err)
		}
	}
}
