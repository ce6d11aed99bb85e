package audit

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
)

func TestExampleDayIsAccepted(t *testing.T) {
	_, report := model.NewProblem(*exampleDay())
	assert.Empty(t, report.Errors)
}

func TestSoundPlanIsClean(t *testing.T) {
	assert.Empty(t, Check(exampleDay(), examplePlan()))
}

// Each row changes one cell of the sound plan; the check must see it and name
// the rule.
func TestChangedCellIsCaught(t *testing.T) {
	cells := []struct {
		name, file, old, new string
		rule, says           string
	}{
		{"acres of a load", "loads.csv", "J1=45.0000", "J1=44.9000", "R1", "takes J1=44.9000"},
		{"acres of a job add up", "loads.csv", "J4=30.0000", "J4=29.0000", "R1", "29.0000 acres are sprayed and 0.0000 left"},
		{"order of jobs in a load", "loads.csv", "J1=15.0000;J4=30.0000", "J4=30.0000;J1=15.0000", "R1", "load S1-2"},
		{"another mix", "loads.csv", "S1,blight", "S1,burndown", "R1", "job J2 is to have blight"},
		{"run without a job of its loads", "loads.csv", "07:40:53,J1;J4", "07:40:53,J1", "R1", "job J1 is in the run of J1, J4, but it is in that of load S1-1"},
		{"run in another order", "loads.csv", ",10:42:59,J2", ",10:42:59,J3;J2", "R1", "takes J2=40.0000 of the run of J3, J2"},
		{"run with another mix", "loads.csv", ",10:42:59,J2", ",10:42:59,J2;J4", "R1", "jobs J2 and J4 are filled as one run, but they have different mixes"},
		{"run of no job", "loads.csv", ",10:42:59,J2", ",10:42:59,", "files", "expected the jobs of its run"},
		{"run of an unknown job", "loads.csv", ",10:42:59,J2", ",10:42:59,J2;J9", "files", "expected the jobs of its run"},
		{"volume", "loads.csv", ",600.0000,597.5000", ",601.0000,597.5000", "R1", "gal is 601.0000, expected 600.0000"},
		{"over the tank", "loads.csv", ",600.0000,597.5000", ",601.0000,597.5000", "R1", "at most the tank's 600.0000"},
		{"carrier", "loads.csv", "600.0000,597.5000", "600.0000,597.4998", "R2", "carrier_gal is 597.4998, expected 597.5000"},
		{"ready", "loads.csv", "09:25:46,08:04:46", "09:25:45,08:04:46", "R8", "ready is 09:25:45, expected 09:25:46"},
		{"ready at the first turn", "loads.csv", "05:30:00", "05:31:00", "R8", "ready is 05:31:00, expected 05:30:00"},
		{"rinse before the bay is free", "loads.csv", "08:04:46,09:28:00", "08:04:45,09:28:00", "R7", "rinse begins 08:04:45, expected not before 08:04:46"},
		{"rinse later than the bay is free", "loads.csv", "08:04:46,09:28:00", "08:05:46,09:28:00", "R7", "rinse begins 08:05:46, expected 08:04:46"},
		{"no set-up has no start of its own", "loads.csv", "07:40:53,07:40:53,07:40:53", "07:40:53,07:40:52,07:40:53", "R7", "setup_start without a set-up"},
		{"start before the set-up is done", "loads.csv", "08:04:46,09:28:00,09:38:59", "08:04:46,09:27:59,09:38:58", "R7", "begins 09:27:59, expected not before 09:28:00"},
		{"start later than need be", "loads.csv", "08:04:46,09:28:00,09:38:59", "08:04:46,09:29:00,09:39:59", "R7", "begins 09:29:00, expected 09:28:00"},
		{"start before the sprayer is there", "loads.csv", "07:40:53,07:40:53,07:40:53,08:04:46", "07:40:53,07:40:50,07:40:50,08:04:43", "R7", "begins 07:40:50, expected not before 07:40:53"},
		{"filling too short", "loads.csv", "06:00:00,06:15:53", "06:00:00,06:15:52", "R4", "952 s with 0 changeovers inside, expected 953 s"},
		{"end after closing", "loads.csv", "09:38:59", "12:38:59", "R11", "ends 12:38:59, expected by 12:00:00"},
		{"wait", "loads.csv", "2.2333", "2.2500", "cost", "wait_min is 2.2500, expected 2.2333"},
		{"held", "loads.csv", ",30.0000,,", ",29.0000,,", "cost", "held_min is 29.0000, expected 30.0000"},
		{"no cleanout", "loads.csv", "water flush", "", "R8", `cleanout is "", expected "water flush"`},
		{"too much cleanout", "loads.csv", "water flush", "triple rinse", "R8", `cleanout is "triple rinse"`},
		{"another rinse", "loads.csv", ",flush,1", ",wash,1", "R5", `rinse is "wash", expected "flush"`},
		{"no rinse", "loads.csv", ",flush,1", ",,1", "R5", `rinse is "", expected "flush"`},
		{"count of changeovers", "loads.csv", "flush,1,10:42:59", "flush,2,10:42:59", "R6", "changeovers is 2, expected 1"},
		{"back too early", "loads.csv", "10:42:59", "10:42:58", "R8", "back_at is 10:42:58, expected 10:42:59"},
		{"name of a load", "loads.csv", "north,3,S1-3", "north,3,S1-4", "files", "S1-3"},
		{"seq", "loads.csv", "north,3", "north,4", "files", "seq on north is 4, expected 3"},
		{"unknown bay", "loads.csv", "north,3", "south,3", "files", `bay is "south"`},
		{"no clock", "loads.csv", "10:42:59", "10:42", "files", "expected a moment"},

		{"first part of the carrier", "amounts.csv", "300.0000", "301.0000", "R2", "is 301.0000, expected 300.0000"},
		{"rest of the carrier", "amounts.csv", "297.5000", "297.0000", "R2", "is 297.0000, expected 297.5000"},
		{"amount", "amounts.csv", "2.5000,gal,metered", "2.5002,gal,metered", "R2", "2.5002 of fungicide 4 SC, expected 2.5000"},
		{"unit", "amounts.csv", "2.5000,gal,metered", "2.5000,qt,metered", "R2", "unit of fungicide 4 SC is qt, expected gal"},
		{"product", "amounts.csv", "S1-3,1,fungicide 4 SC", "S1-3,1,AMS", "R2", "AMS is not in mix blight"},
		{"step", "amounts.csv", "S1-3,1,", "S1-3,2,", "R3", "step is 2, expected 1"},
		{"adding order", "amounts.csv", "S1-1,1,AMS,76.5000,lb,2 bags\nS1-1,2,glyphosate 5.4 SL,11.2500,gal,metered",
			"S1-1,1,glyphosate 5.4 SL,11.2500,gal,metered\nS1-1,2,AMS,76.5000,lb,2 bags", "R3", "AMS (place 1) goes in after"},
		{"no carrier first", "amounts.csv", "S1-3,0,water,300.0000,gal,\"carrier, first part\"\n", "", "R3", "does not begin with step 0"},
		{"no rest of the carrier", "amounts.csv", "S1-3,2,water,297.5000,gal,\"carrier, the rest\"\n", "", "R2", "does not end with the rest"},

		{"changeover before the drum is there", "connections.csv", "09:20:00", "09:19:59", "R6", "at 09:19:59 no container of fungicide 4 SC"},
		{"changeover later than need be", "connections.csv", "09:20:00", "09:20:01", "R7", "begins 09:20:01, expected 09:20:00"},
		{"what comes off", "connections.csv", "09:20:00,glyphosate 5.4 SL", "09:20:00,", "R6", "off is , expected glyphosate 5.4 SL"},
		{"what goes on", "connections.csv", "fungicide 4 SC,S1-3", "AMS,S1-3", "R6", "puts AMS on"},
		{"no such connection", "connections.csv", "north,1,09:20:00", "north,2,09:20:00", "R6", "connection is 2, expected at most 1"},
		{"another load's changeover", "connections.csv", "fungicide 4 SC,S1-3", "fungicide 4 SC,S1-2", "R6", ""},
		{"no fresh tote", "connections.csv", "north,1,07:50:00,glyphosate 5.4 SL,glyphosate 5.4 SL,S1-2\n", "", "R6", "0 fresh containers of glyphosate 5.4 SL inside, expected 1"},
		{"the changeover is missing", "connections.csv", "north,1,09:20:00,glyphosate 5.4 SL,fungicide 4 SC,S1-3\n", "", "R6", "0 of its 1 metered products"},
		{"fresh tote in the set-up", "connections.csv", "07:50:00", "07:30:00", "R6", "is left in the one there"},
		{"inside after the end", "connections.csv", "07:50:00", "08:05:00", "R6", "expected by the end of load S1-2"},

		{"change of stock", "stock.csv", "-2.5000", "-2.6000", "R10", "change of fungicide 4 SC is -2.6000, expected -2.5000"},
		{"level of stock", "stock.csv", "107.5000", "107.6000", "R10", "level of glyphosate 5.4 SL is 107.6000, expected 107.5000"},
		{"low", "stock.csv", "107.5000,yes", "107.5000,no", "R10", "low is false"},
		{"event of stock", "stock.csv", "09:20:00,delivery", "09:20:01,delivery", "R10", "expected no such event"},
		{"event of stock is missing", "stock.csv", "fungicide 4 SC,09:28:00,load S1-3,-2.5000,27.5000,no\n", "", "R10", "has no row for load S1-3 of fungicide 4 SC"},
		{"load before the delivery", "stock.csv", "fungicide 4 SC,09:20:00,delivery,30.0000,30.0000,no\nfungicide 4 SC,09:28:00,load S1-3,-2.5000,27.5000,no",
			"fungicide 4 SC,09:28:00,load S1-3,-2.5000,-2.5000,no\nfungicide 4 SC,09:20:00,delivery,30.0000,27.5000,no", "R10", "out of order"},
		{"level of water", "water.csv", "1362.0333", "1362.1333", "R10", "water_gal is 1362.1333, expected 1362.0333"},
		{"water blank", "water.csv", "1362.0333", "", "R10", "water_gal is blank, expected 1362.0333"},
		{"rinsate", "water.csv", "1454.0333,60.0000", "1454.0333,50.0000", "R10", "rinsate_gal is 50.0000, expected 60.0000"},
		{"event of water", "water.csv", "08:04:46,rinse S1-3", "08:04:47,rinse S1-3", "R10", "is at 08:04:47, expected 08:04:46"},
		{"event of water is missing", "water.csv", "09:28:00,load S1-3,881.0000,60.0000\n", "", "R10", "has no row for load S1-3"},
		{"opening of the water", "water.csv", "06:00:00,opening", "06:30:00,opening", "R10", "the opening is at 06:30:00"},

		{"sprays in the rain", "turns.csv", "06:40:00\nS1,S1-1,pause,06:40:00", "06:45:00\nS1,S1-1,pause,06:45:00", "R9", "spray 06:25:53 to 06:45:00, but job J1"},
		{"pause too short", "turns.csv", "pause,06:40:00,07:00:00\nS1,S1-1,spray,07:00:00", "pause,06:40:00,06:59:00\nS1,S1-1,spray,06:59:00", "R9", "may be sprayed next from 07:00:00"},
		{"a hole", "turns.csv", "drive,08:29:46,08:34:46", "drive,08:29:46,08:34:40", "R8", "expected drive 08:29:46 to 08:34:46"},
		{"an overlap", "turns.csv", "fill,09:28:00", "fill,09:27:00", "files", "begins before the row above ends"},
		{"no drive between parts", "turns.csv", "S1,S1-2,drive,08:29:46,08:34:46\n", "", "R8", "expected drive 08:29:46"},
		{"no wait", "turns.csv", "S1,S1-3,wait,09:25:46,09:28:00\n", "", "cost", "expected wait 09:25:46 to 09:28:00"},
		{"no cleanout row", "turns.csv", "S1,S1-3,cleanout,09:15:46,09:25:46\n", "", "R8", "expected cleanout"},
		{"cleanout and held in the wrong place", "turns.csv", "S1-1,held", "S1-1,wait", "cost", "expected held"},
		{"a row too many", "turns.csv", "S1,S1-3,drive,10:30:59,10:42:59\n", "S1,S1-3,drive,10:30:59,10:42:59\nS1,S1-3,drive,10:42:59,10:43:59\n", "files", "expected nothing more"},
		{"drive back is missing", "turns.csv", "S1,S1-3,drive,10:30:59,10:42:59\n", "", "R8", "ends before drive"},

		{"left acres", "unsprayed.csv", "5.0000", "4.0000", "R1", "0.0000 acres are sprayed and 4.0000 left"},
		{"left without a word", "unsprayed.csv", "J3,5.0000,no time left before the pad closes\n", "", "R1", "job J3"},
		{"no reason", "unsprayed.csv", "no time left before the pad closes", "", "R11", "without a reason"},

		{"dollars of a part", "cost.csv", "256.000000", "256.020000", "cost", "dollars of any_sprayer are 256.0200, expected 256.0000"},
		{"amount of a part", "cost.csv", "1.032778", "1.032978", "cost", "amount of late is 1.0330, expected 1.0328"},
		{"total", "cost.csv", "419.436875", "419.416875", "cost", "total is 419.4169 dollars"},
		{"part is missing", "cost.csv", "rinse,0.033333,2.000000\n", "", "cost", "has no row for rinse"},
		{"unknown part", "cost.csv", "rinse,", "rinsing,", "cost", `part is "rinsing"`},

		{"plan.json has other loads", "plan.json", "[{},{},{}]", "[{},{}]", "files", "number of loads is 2, expected 3"},
		{"plan.json has another total", "plan.json", "419.436875", "400", "files", "totals.cost.dollars is 400"},
		{"another header", "turns.csv", "sprayer,load,what", "sprayer,what,load", "files", "the header is"},
	}
	for _, c := range cells {
		t.Run(c.name, func(t *testing.T) {
			files := examplePlan()
			require.Equal(t, 1, strings.Count(string(files[c.file]), c.old), "the cell must be there once")
			files[c.file] = []byte(strings.Replace(string(files[c.file]), c.old, c.new, 1))
			assertCaught(t, Check(exampleDay(), files), c.rule, c.says)
		})
	}
}

func assertCaught(t *testing.T, found []model.Violation, rule, says string) {
	t.Helper()
	caught := slices.ContainsFunc(found, func(v model.Violation) bool {
		return v.Rule == rule && strings.Contains(v.Where+": "+v.What, says)
	})
	assert.True(t, caught, "expected a breach of %s that says %q; found %v", rule, says, found)
}

func TestMissingFileIsCaught(t *testing.T) {
	for name := range columns {
		files := examplePlan()
		delete(files, name)
		assert.Contains(t, Check(exampleDay(), files), model.Violation{Rule: "files", Where: name, What: "is missing"})
	}
}
