package changes

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/io/planfile"
	"padturn/model"
)

// load is one of 50 acres and 500 gal.
func load(id, sprayer, bay, mix, job string, start model.Clock) planfile.Load {
	return planfile.Load{
		Load: id, Sprayer: sprayer, Bay: bay, Mix: mix, Start: planfile.Time(start), Gal: planfile.Number(model.WholeDecimal(500)),
		Acres: planfile.Number(model.WholeDecimal(50)),
		Parts: []planfile.Part{{Job: job, Acres: planfile.Number(model.WholeDecimal(50))}},
	}
}

func document(loads ...planfile.Load) *planfile.Document {
	return &planfile.Document{Sprayers: []planfile.Sprayer{{Sprayer: "S2"}, {Sprayer: "S4"}}, Loads: loads}
}

const (
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
		{"a little later", document(next), document(load("S4-2", "S4", "north", "corn post", "J1", twenty+300)), nil},
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
				"S4: your next fill, 10:20 north, goes to S2.",
			}},
		{"dropped", document(next), document(), []string{"S4: your next fill, 10:20 north, is off."}},
		{"new", document(), document(next), []string{"S4: a new fill at 10:20 north, corn post, 500 gal, for J1."}},
		{"order", document(next, load("S4-3", "S4", "north", "corn post", "J2", twenty+200)),
			document(load("S4-2", "S4", "north", "corn post", "J2", twenty), load("S4-3", "S4", "north", "corn post", "J1", twenty+200)),
			[]string{"S4: your fill for J1 at 10:23 north now comes behind another, mix unchanged."}},
		{"field", document(next), document(load("S4-2", "S4", "north", "corn post", "J2", twenty)),
			[]string{"S4: your next fill at 10:20 north: mix unchanged, for J2 instead of J1."}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			assert.Equal(t, tt.want, Radio(tt.told, tt.now, []string{"S4-1"}))
		})
	}
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
