package changes

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/io/planfile"
	"padturn/model"
)

// load is one of 50 acres and 500 gal: a quarter of an hour to fill, sprayed out ten
// minutes before it is back an hour after its start.
func load(id, sprayer, bay, mix, job string, start model.Clock) planfile.Load {
	return planfile.Load{
		Load: id, Sprayer: sprayer, Bay: bay, Mix: mix, Start: planfile.Time(start), Gal: planfile.Number(model.WholeDecimal(500)),
		Acres: planfile.Number(model.WholeDecimal(50)), Ready: planfile.Time(start), End: planfile.Time(start + 900), BackAt: planfile.Time(start + 3600),
		Parts: []planfile.Part{{Job: job, Acres: planfile.Number(model.WholeDecimal(50)), SprayedAt: planfile.Time(start + 3000)}},
	}
}

func document(loads ...planfile.Load) *planfile.Document {
	day := planfile.Day{Opens: planfile.Time(six), Closes: planfile.Time(20 * 3600), SprayUntil: planfile.Time(21 * 3600)}
	return &planfile.Document{Day: day, Sprayers: []planfile.Sprayer{{Sprayer: "S2"}, {Sprayer: "S4"}}, Loads: loads}
}

const (
	six    model.Clock = 6 * 3600
	ten    model.Clock = 10 * 3600
	twenty             = ten + 20*60
	after              = 13*3600 + 20*60
)

func TestRadio(t *testing.T) {
	next := load("S4-2", "S4", "north", "corn post", "J1", twenty)
	tests := []struct {
		name      string
		told, now *planfile.Document
		want      []string
	}{
		{"nothing", document(next), document(next), nil},
		{"a minute later", document(next), document(load("S4-2", "S4", "north", "corn post", "J1", twenty+119)), nil},
		{"two minutes later", document(next), document(load("S4-2", "S4", "north", "corn post", "J1", twenty+120)),
			[]string{"S4: your next fill moves from 10:20 to 10:22 at north, mix unchanged."}},
		{"five minutes later, and not the next", document(next, load("S4-3", "S4", "north", "corn post", "J2", after)),
			document(next, load("S4-3", "S4", "north", "corn post", "J2", after+300)), nil},
		{"begun", document(load("S4-1", "S4", "north", "corn post", "J0", ten), next),
			document(load("S4-1", "S4", "north", "corn post", "J0", ten+1200), next), nil},
		{"bay and time", document(next), document(load("S4-2", "S4", "south", "corn post", "J1", after)),
			[]string{"S4: your next fill moves from 10:20 north to 13:20 south, mix unchanged."}},
		{"time", document(next), document(load("S4-2", "S4", "north", "corn post", "J1", after)),
			[]string{"S4: your next fill moves from 10:20 to 13:20 at north, mix unchanged."}},
		{"mix", document(next), document(load("S4-2", "S4", "north", "bean post", "J1", twenty)),
			[]string{"S4: your next fill at 10:20 north: mix changes from corn post to bean post."}},
		{"sprayer", document(next), document(load("S2-1", "S2", "south", "corn post", "J1", after)),
			[]string{
				"S2: a new fill at 13:20 south, corn post, 500 gal, for J1, from S4.",
				"S4: your next fill, 10:20 north, goes to S2.\n  then load S4-2 of the old sheets is now S2-1.",
			}},
		{"dropped", document(next), document(), []string{"S4: your next fill, 10:20 north, is off."}},
		{"new", document(), document(next), []string{"S4: a new fill at 10:20 north, corn post, 500 gal, for J1."}},
		{"order", document(next, load("S4-3", "S4", "north", "corn post", "J2", twenty+200)),
			document(load("S4-2", "S4", "north", "corn post", "J2", twenty), load("S4-3", "S4", "north", "corn post", "J1", twenty+200)),
			[]string{"S4: your next fill for J2 moves from 10:23 to 10:20 at north, mix unchanged." +
				"\n  then your fill for J1 at 10:23 north now comes behind another, mix unchanged." +
				"\n  then load S4-3 of the old sheets is now S4-2, S4-2 is now S4-3."}},
		{"field", document(next), document(load("S4-2", "S4", "north", "corn post", "J2", twenty)),
			[]string{"S4: your next fill at 10:20 north: mix unchanged, for J2 instead of J1."}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			assert.Equal(t, tt.want, Radio(tt.told, tt.now, []string{"S4-1"}))
		})
	}
}

// Two minutes matter where the told time will not do: the crew that goes by it would
// fill a tank too early for its life, or too late for what follows.
func TestFewMinutesAreToldWhereTheyMatter(t *testing.T) {
	next := load("S4-2", "S4", "north", "corn post", "J1", twenty)
	told := load("S4-3", "S4", "north", "corn post", "J2", after)
	later, sooner := load("S4-3", "S4", "north", "corn post", "J2", after+90), load("S4-3", "S4", "north", "corn post", "J2", after-90)
	held := later
	held.Ready, held.HeldS = held.Ready-600, 600
	to := func(l planfile.Load, holds ...planfile.Hold) *planfile.Document {
		d := document(next, l)
		d.Holds = holds
		return d
	}
	shut := planfile.Hold{From: sooner.End + 60, To: sooner.End + 3600, Scope: "bay:north"}
	elsewhere := shut
	elsewhere.Scope = "bay:south"
	rain := planfile.Hold{From: sooner.Parts[0].SprayedAt, To: sooner.BackAt + 3600}
	closed, ended, gone := to(sooner), to(sooner), to(sooner)
	closed.Day.Closes, ended.Day.SprayUntil = sooner.End+89, sooner.Parts[0].SprayedAt+89
	gone.Sprayers[1].AvailableUntil = new(sooner.BackAt)
	tests := []struct {
		name string
		now  *planfile.Document
		want string // blank: nothing
	}{
		{"later", to(later), ""},
		{"tank life", to(held), "13:20 to 13:21 at north, mix unchanged, not sooner, by its tank life."},
		{"sooner", to(sooner), ""},
		{"before the bay is shut", to(sooner, shut), "13:20 to 13:18 at north, mix unchanged, not later: north is shut from 13:34."},
		{"another bay is shut", to(sooner, elsewhere), ""},
		{"before rain", to(sooner, rain), "13:20 to 13:18 at north, mix unchanged, not later: no spraying from 14:08."},
		{"before the pad closes", closed, "13:20 to 13:18 at north, mix unchanged, not later: the pad closes at 13:34."},
		{"before spraying ends", ended, "13:20 to 13:18 at north, mix unchanged, not later: no spraying from 14:09."},
		{"before the sprayer goes", gone, "13:20 to 13:18 at north, mix unchanged, not later: S4 must be back by 14:18."},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var want []string
			if tt.want != "" {
				want = []string{"S4: your fill for J2 moves from " + tt.want}
			}
			assert.Equal(t, want, Radio(document(next, told), tt.now, nil))
		})
	}
}

// What shifts by a few minutes in each of several replans is told when it comes to more
// than a few from what the crew was told.
func TestLoadsDoNotDriftUntold(t *testing.T) {
	next, third := load("S4-2", "S4", "north", "corn post", "J1", twenty), func(late model.Clock) planfile.Load {
		return load("S4-3", "S4", "north", "bean post", "J2", after+late)
	}
	morning, first, second := document(next, third(0)), document(next, third(240)), document(next, third(400))
	assert.Empty(t, Radio(AsTold(morning), first, nil))
	NoteUntold(AsTold(morning), first, nil)
	assert.Equal(t, third(0).Start, *first.Loads[1].ToldStart)
	assert.Nil(t, first.Loads[0].ToldStart)
	assert.Equal(t, []string{"S4: your fill for J2 moves from 13:20 to 13:26 at north, mix unchanged."}, Radio(AsTold(first), second, nil))
	NoteUntold(AsTold(first), second, nil)
	assert.Nil(t, second.Loads[1].ToldStart, "it is told")
}

// The sheets call loads by names that a replan gives anew. Who holds an old sheet must
// not take it for that of another load.
func TestNewNamesAreTold(t *testing.T) {
	told := document(load("S4-2", "S4", "north", "corn post", "J1", twenty), load("S4-3", "S4", "north", "bean post", "J2", after),
		load("S4-4", "S4", "north", "bean grass", "J3", after+7200))
	now := document(load("S4-2", "S4", "north", "bean post", "J2", after), load("S4-3", "S4", "north", "bean grass", "J3", after+7200))
	assert.Equal(t, []string{"S4: your next fill, 10:20 north, is off.\n" +
		"  then load S4-2 of the old sheets is off, S4-3 is now S4-2, S4-4 is now S4-3."}, Radio(told, now, nil))
	assert.Contains(t, string(CSV(Between(told, now, nil))), "\nS4,S4-2,renamed,J2,bean post,north,13:20:00,S4,S4-3,bean post,north,13:20:00,0.0000,\n")
}

// A load that is left says why.
func TestRadioGivesTheReason(t *testing.T) {
	now := document()
	now.Unsprayed = []planfile.Unsprayed{{Job: "J1", Reason: "the pad closes"}}
	told := document(load("S4-2", "S4", "north", "corn post", "J1", twenty), load("S4-3", "S4", "north", "corn post", "J2", after))
	assert.Equal(t, []string{"S4: your next fill, 10:20 north, is off: the pad closes.\n  then your fill at 13:20 north for J2 is off."},
		Radio(told, now, nil))
}

// An operator knows fields, not the jobs of a sheet, and litres where the day is
// in them.
func TestRadioSpeaksOfFieldsInTheDaysUnits(t *testing.T) {
	jobs := []planfile.Job{{Job: "1", Field: "Home 80"}, {Job: "2", Field: "Ridge"}, {Job: "3", Field: "Ridge"}, {Job: "4", Field: "Pond"}}
	run := load("S4-2", "S4", "north", "bean post", "2", twenty)
	run.Parts = append(run.Parts, planfile.Part{Job: "3"}, planfile.Part{Job: "4"})
	less := load("S4-3", "S4", "north", "corn post", "1", after)
	less.Gal = planfile.Number(model.WholeDecimal(400))
	told, now := document(load("S4-3", "S4", "north", "corn post", "1", after)), document(run, less)
	told.Jobs, now.Jobs, told.Day.Units, now.Day.Units = jobs, jobs, "metric", "metric"
	assert.Equal(t, []string{"S4: a new fill at 10:20 north, bean post, 1893 L, for Ridge (job 2), Ridge (job 3) and Pond.\n" +
		"  then your fill for Home 80 at 13:20 north: mix unchanged, 1514 L instead of 1893."}, Radio(told, now, nil))
}

func TestCSV(t *testing.T) {
	told := document(load("S4-2", "S4", "north", "corn post", "J1", twenty), load("S4-3", "S4", "north", "=mix", "J3", after))
	now := document(load("S2-1", "S2", "south", "corn post", "J1", after))
	data := CSV(Between(told, now, nil))
	assert.Equal(t, header+"\n"+
		"S2,S2-1,moved,J1,corn post,south,13:20:00,S4,S4-2,corn post,north,10:20:00,180.0000,\n"+
		",,dropped,J3,,,,S4,S4-3,'=mix,north,13:20:00,,\n", string(data))
}

// The crew was told an order of the products; where only that changes, they are told
// the new one.
func TestAddingOrder(t *testing.T) {
	steps := func(l planfile.Load, products ...string) planfile.Load {
		l.Steps = []planfile.Step{{Product: "water", Source: planfile.SourceCarrier}}
		for _, p := range products {
			l.Steps = append(l.Steps, planfile.Step{Product: p, Source: planfile.SourceMetered})
		}
		return l
	}
	next := load("S4-2", "S4", "north", "corn post", "J1", twenty)
	told, now := document(steps(next, "AMS", "glyphosate", "atrazine")), document(steps(next, "AMS", "atrazine", "glyphosate"))
	assert.Equal(t, []string{"S4: your next fill at 10:20 north: mix unchanged, added in the order AMS, atrazine, glyphosate."}, Radio(told, now, nil))
	assert.Equal(t, header+"\nS4,S4-2,reordered,J1,corn post,north,10:20:00,S4,S4-2,corn post,north,10:20:00,0.0000,AMS;atrazine;glyphosate\n",
		string(CSV(Between(told, now, nil))))
	assert.Empty(t, Between(told, told, nil))
	now.Loads[0].Mix = "bean post"
	assert.NotContains(t, Radio(told, now, nil)[0], "in the order", "another mix has its own order, on its sheet")
}

func TestShortNumbers(t *testing.T) {
	for _, number := range []string{"1095", "1095.0", "1095.00"} {
		assert.Equal(t, "1095", short(number))
	}
	assert.Equal(t, "1095.5", short("1095.50"))
	assert.Equal(t, "900", short("900"))
}
