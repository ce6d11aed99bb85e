package audit

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/model"
)

const (
	replanHeader = "bay,seq,load,sprayer,mix,jobs,gal,carrier_gal,ready,setup_start,start,end,wait_min,held_min,cleanout,rinse,changeovers,back_at,run\n"
	begunRow     = "north,1,S1-1,S1,corn,J1=50.0000,500.0000,450.0000,06:00:00,06:00:00,06:00:00,06:20:00,0.0000,0.0000,,,0,08:00:00,J1\n"
	frozenRow    = "north,2,S2-1,S2,corn,J2=50.0000,500.0000,450.0000,07:00:00,07:10:00,07:10:00,07:30:00,10.0000,0.0000,,,0,09:00:00,J2\n"
	laterRow     = "south,1,S1-2,S1,corn,J3=50.0000,500.0000,450.0000,08:00:00,08:00:00,08:00:00,08:20:00,0.0000,0.0000,,,0,10:00:00,J3\n"
	amountsOf    = "load,step,product,amount,unit,how\nS1-1,0,water,225.0000,gal,carrier\nS1-1,1,A,50.0000,gal,metered\n"
)

// soundReplan is a replan at 07:00 in which nothing is wrong.
func soundReplan() *Replan {
	files := func(rows ...string) map[string][]byte {
		return map[string][]byte{
			"loads.csv":   []byte(replanHeader + strings.Join(rows, "")),
			"amounts.csv": []byte(amountsOf),
		}
	}
	moved := strings.Replace(laterRow, "08:00:00,08:00:00,08:20:00", "09:00:00,09:00:00,09:20:00", 1)
	return &Replan{
		Rest: &model.Input{Underway: &model.Underway{At: 7 * 3600, Told: []model.ToldLoad{
			{Sprayer: "S2", Mix: "corn", Bay: "north", Jobs: []string{"J2"}, Start: 7*3600 + 600},
			{Sprayer: "S1", Mix: "corn", Bay: "south", Jobs: []string{"J3"}, Start: 8 * 3600},
		}}},
		Plan:  files(frozenRow, moved),
		Whole: files(begunRow, frozenRow, moved),
		Told:  files(begunRow, frozenRow, laterRow),
		Kept:  files(frozenRow, laterRow), FrozenUntil: 7*3600 + 900, Begun: []string{"S1-1"},
	}
}

func TestCheckReplan(t *testing.T) {
	change := func(files map[string][]byte, name, from, to string) {
		text := string(files[name])
		if !strings.Contains(text, from) {
			panic("nothing to change: " + from)
		}
		files[name] = []byte(strings.Replace(text, from, to, 1))
	}
	tests := []struct {
		name string
		harm func(r *Replan)
		want string // blank: nothing is wrong
	}{
		{"sound", func(*Replan) {}, ""},
		{"begun load on another bay", func(r *Replan) { change(r.Whole, "loads.csv", "north,1,S1-1", "south,1,S1-1") }, "bay is south"},
		{"begun load for another field", func(r *Replan) { change(r.Whole, "loads.csv", "J1=50", "J9=50") }, "is for J9"},
		{"begun load gone", func(r *Replan) { change(r.Whole, "loads.csv", begunRow, "") }, "expected it in the plan before and in this one"},
		{"begun load in the future", func(r *Replan) { change(r.Whole, "loads.csv", "06:00:00,06:20:00", "07:20:00,07:40:00") }, "it has begun by 07:00:00"},
		{"begun load without a product", func(r *Replan) { change(r.Whole, "amounts.csv", "S1-1,1,A,50.0000,gal,metered\n", "") }, "holds , but it was filled with A"},
		{"rest in the past", func(r *Replan) {
			change(r.Whole, "loads.csv", "09:00:00,09:00:00,09:20:00", "06:50:00,06:50:00,07:05:00")
			change(r.Plan, "loads.csv", "09:00:00,09:00:00,09:20:00", "06:50:00,06:50:00,07:05:00")
		}, "before the 07:00:00 it is planned at"},
		{"rest not as judged", func(r *Replan) { change(r.Whole, "loads.csv", "J3=50.0000", "J3=55.0000") }, "jobs is J3=55.0000, expected J3=50.0000"},
		{"waited longer", func(r *Replan) { change(r.Whole, "loads.csv", "10.0000,0.0000,,", "15.0000,0.0000,,") }, "wait_min is 15.0000, expected 10.0000"},
		{"waited for a cleanout that was begun", func(r *Replan) {
			change(r.Whole, "loads.csv", "10.0000,0.0000,,", "15.0000,0.0000,flush,")
		}, ""},
		{"waited less for a cleanout that was begun", func(r *Replan) {
			change(r.Whole, "loads.csv", "10.0000,0.0000,,", "5.0000,0.0000,flush,")
		}, "wait_min is 5.0000, expected 10.0000"},
		{"a load of the rest gone", func(r *Replan) { change(r.Whole, "loads.csv", frozenRow, "") }, "has 1 loads that have not begun, expected the 2"},
		{"frozen load moved", func(r *Replan) {
			for _, files := range []map[string][]byte{r.Whole, r.Plan} {
				change(files, "loads.csv", "07:10:00,07:10:00,07:30:00", "07:25:00,07:25:00,07:45:00")
			}
		}, "nothing that can stay moves before 07:15:00"},
		{"frozen load that can't stay", func(r *Replan) {
			for _, files := range []map[string][]byte{r.Whole, r.Plan, r.Kept} {
				change(files, "loads.csv", "07:10:00,07:10:00,07:30:00", "07:25:00,07:25:00,07:45:00")
			}
		}, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := soundReplan()
			tt.harm(r)
			var found []string
			for _, v := range CheckReplan(r) {
				found = append(found, v.What)
			}
			if tt.want == "" {
				assert.Empty(t, found)
				return
			}
			assert.Contains(t, strings.Join(found, "\n"), tt.want)
		})
	}
}
