package standing_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
	. "padturn/model/standing"
)

// hm reads a time of the tests.
func hm(text string) model.Clock {
	t, err := model.ParseHHMM(text)
	if err != nil {
		panic(err)
	}
	return t
}

func ac(n int64) model.Decimal { return model.WholeDecimal(n) }

// day is two sprayers, one bay and three loads of 40 acres, an acre a minute, ten
// minutes from the pad; each takes 10 gal of gly out of totes.
func day() (model.Input, Told) {
	in := model.Input{Settings: model.DefaultSettings()}
	in.Settings.Pad.Bays[0].Hooked = []string{"gly"}
	in.Products = []model.ProductRow{{Product: "gly", Form: "SL", Unit: "gal", Handling: "metered",
		TankLifeH: model.Some(ac(4)), RainfastH: model.Some(ac(2)), Groups: []string{"burn"}}}
	in.Mixes = []model.MixRow{{Mix: "burndown", GPA: ac(10)}}
	in.Recipes = []model.RecipeRow{{Mix: "burndown", Product: "gly", Rate: ac(1) / 4, Unit: "gal/ac"}}
	in.Stock = []model.StockRow{{Product: "gly", Container: "tote", Size: ac(100), Full: ac(1), Open: model.Some(ac(25))}}
	in.Deliveries = []model.DeliveryRow{{At: hm("07:00"), Product: "gly", Container: "tote", Size: ac(100), Count: ac(1)}}
	for _, name := range []string{"S1", "S2"} {
		in.Sprayers = append(in.Sprayers, model.SprayerRow{Sprayer: name, TankGal: ac(400), AcPerH: model.Some(ac(60))})
	}
	in.Jobs = []model.JobRow{
		{Job: "A", Field: "north", Sprayer: "S1", Mix: "burndown", Acres: ac(80), DriveMin: model.Some(ac(10))},
		{Job: "B", Field: "south", Sprayer: "S2", Mix: "burndown", Acres: ac(40), DriveMin: model.Some(ac(10))},
	}
	return in, Told{Loads: []Planned{
		load("S1-1", "S1", "A", "06:00"), load("S2-1", "S2", "B", "06:20"), load("S1-2", "S1", "A", "07:20"),
	}}
}

func load(id, sprayer, job, start string) Planned {
	t := hm(start)
	return Planned{
		ID: id, Bay: "bay 1", Sprayer: sprayer, Mix: "burndown", CarrierGal: ac(390),
		Parts:        []Part{{Job: job, Acres: ac(40), Spray: 2400, SprayedAt: t + 4200}},
		Doses:        []Dose{{Product: "gly", Amount: ac(10), Metered: true}},
		CleanoutFrom: t, Ready: t, SetupStart: t, Start: t, End: t + 1200, BackAt: t + 4800,
		DriveOut: 600, DriveBack: 600,
	}
}

// facts numbers news that happened at times.
func facts(pairs ...any) []Fact {
	var list []Fact
	for i := 0; i < len(pairs); i += 2 {
		list = append(list, Fact{N: i/2 + 1, At: hm(pairs[i].(string)), News: pairs[i+1].(News)})
	}
	return list
}

func at(t *testing.T, moment string, list []Fact) *Standing {
	t.Helper()
	in, told := day()
	s, err := At(in, told, list, hm(moment))
	require.NoError(t, err)
	return s
}

func TestStatesOfLoads(t *testing.T) {
	left := func(n int64) *model.Decimal { return model.Some(ac(n)) }
	rain := HoldMark{model.HoldRow{From: hm("07:00"), To: hm("08:00"), Kind: "rain"}}
	tests := []struct {
		name   string
		facts  []Fact
		moment string
		states string // S1-1, S2-1, S1-2; p where presumed
		backAt string // of S1-1
		left   int64  // acres of S1-1
	}{
		{"before the opening", nil, "05:00", "waiting waiting waiting", "07:20", 40},
		{"a load that starts now has not begun", nil, "06:00", "waiting waiting waiting", "07:20", 40},
		{"filling", nil, "06:10", "fillingp waiting waiting", "07:20", 40},
		{"on the way", nil, "06:25", "filledp fillingp waiting", "07:20", 40},
		{"a quarter is sprayed", nil, "06:40", "sprayingp filledp waiting", "07:20", 30},
		{"all as planned", nil, "09:00", "donep donep donep", "07:20", 0},
		{"reported as it was planned", facts("06:00", LoadMark{Load: "S1-1", State: Filling}), "06:10", "filling waiting waiting", "07:20", 40},
		{"a late start delays what is presumed after it", facts("06:30", LoadMark{Load: "S1-1", State: Filling}),
			"06:55", "filledp fillingp waiting", "07:50", 40},
		{"a slow filling", facts("06:45", LoadMark{Load: "S1-1", State: Filled}), "06:50", "filled fillingp waiting", "07:45", 40},
		{"amounts told of later move nothing", facts("06:20", LoadMark{Load: "S1-1", State: Filled},
			"07:05", LoadMark{Load: "S1-1", State: Filled, Drew: []Drew{{"gly", ac(11)}}}), "07:06", "sprayingp sprayingp waiting", "07:20", 4},
		{"acres left that were reported", facts("06:40", LoadMark{Load: "S1-1", State: Spraying, AcresLeft: left(36)}),
			"06:46", "spraying filledp waiting", "07:26", 30},
		{"done early", facts("07:00", LoadMark{Load: "S1-1", State: Done}), "07:05", "done sprayingp waiting", "07:10", 0},
		{"done with acres left", facts("07:00", LoadMark{Load: "S1-1", State: Done, AcresLeft: left(5)}), "07:05", "done sprayingp waiting", "07:10", 5},
		{"done says that it was filled", facts("06:50", LoadMark{Load: "S1-1", State: Done}), "06:55", "done sprayingp waiting", "07:00", 0},
		{"filled after a late start", facts("06:30", LoadMark{Load: "S1-1", State: Filling}, "07:05", LoadMark{Load: "S2-1", State: Filled}),
			"07:10", "sprayingp filled waiting", "07:50", 30},
		{"waiting keeps the bay until more is reported", facts("06:00", LoadMark{Load: "S1-1", State: Waiting}), "07:00", "waiting waiting waiting", "08:20", 40},
		{"another was filled in its place", facts("06:00", LoadMark{Load: "S1-1", State: Waiting}, "06:05", LoadMark{Load: "S2-1", State: Filling}),
			"06:20", "waiting filling waiting", "07:45", 40},
		{"dropped and never filled", facts("05:50", LoadMark{Load: "S1-1", State: Dropped}), "06:10", "dropped waiting waiting", "", 40},
		{"dropped from the tank", facts("06:00", LoadMark{Load: "S1-1", State: Filling}, "06:40", LoadMark{Load: "S1-1", State: Dropped}),
			"06:41", "dropped filledp waiting", "06:50", 30},
		{"the next load says that this one is over", facts("07:10", LoadMark{Load: "S1-2", State: Filling}), "07:12", "donep sprayingp filling", "07:10", 0},
		{"rain pauses the spraying", facts("06:55", rain), "07:30", "sprayingp sprayingp waiting", "08:20", 10},
		{"a sprayer that is out is not filled", facts("05:50", SprayerMark{Sprayer: "S1", Out: true, Until: model.Some(hm("06:25"))}),
			"06:24", "waiting waiting waiting", "07:45", 40},
		{"nor one that goes out while it waits", facts("06:10", SprayerMark{Sprayer: "S2", Out: true}), "06:40", "sprayingp waiting waiting", "07:20", 30},
		{"a sprayer that is out stands still", facts("06:50", SprayerMark{Sprayer: "S1", Out: true}, "07:20", SprayerMark{Sprayer: "S1"}),
			"07:30", "sprayingp donep waiting", "07:50", 10},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := at(t, tt.moment, tt.facts)
			got := ""
			for _, l := range s.Loads {
				got += " " + string(l.State)
				if l.Presumed {
					got += "p"
				}
			}
			assert.Equal(t, tt.states, got[1:])
			if tt.backAt != "" {
				assert.Equal(t, tt.backAt, s.Loads[0].BackAt.HHMM())
			}
			assert.Equal(t, ac(tt.left), s.Loads[0].LeftAcres())
			assert.Empty(t, s.Oddities)
		})
	}
}

func TestAcresLeftGoBackToTheJob(t *testing.T) {
	five := model.Some(ac(5))
	tests := []struct {
		name                    string
		facts                   []Fact
		sprayed, inTank, toFill int64 // of job A at 06:40
	}{
		{"as planned", nil, 10, 30, 40},
		{"never filled", facts("05:50", LoadMark{Load: "S1-1", State: Dropped}), 0, 0, 80},
		{"dropped with 5 acres left", facts("06:00", LoadMark{Load: "S1-1", State: Filling}, "06:39", LoadMark{Load: "S1-1", State: Dropped, AcresLeft: five}), 35, 0, 45},
		{"done with 5 acres left", facts("06:39", LoadMark{Load: "S1-1", State: Done, AcresLeft: five}), 35, 0, 45},
		{"12 acres more", facts("06:10", JobMark{JobChanged, model.JobRow{Job: "A", Acres: ac(92)}, []string{"acres"}}), 10, 30, 52},
		{"dropped", facts("06:10", JobMark{Change: JobDropped, Row: model.JobRow{Job: "A"}}), 10, 30, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			j := at(t, "06:40", tt.facts).Jobs[0]
			assert.Equal(t, []model.Decimal{ac(tt.sprayed), ac(tt.inTank), ac(tt.toFill)}, []model.Decimal{j.Sprayed, j.InTank, j.ToFill})
		})
	}
}

func TestStockIsWhatIsThere(t *testing.T) {
	count := StockCount{Product: "gly", Container: "tote", Size: ac(100), Full: ac(1), Open: []model.Decimal{ac(7)}}
	late := DeliveryMark{Product: "gly", Planned: hm("07:00")}
	tests := []struct {
		name           string
		facts          []Fact
		moment         string
		level, hanging int64
	}{
		{"as planned", nil, "06:30", 105, 5},
		{"the tote runs dry in the third load", nil, "07:30", 195, 95},
		{"more was drawn", facts("06:20", LoadMark{Load: "S1-1", State: Filled, Drew: []Drew{{"gly", ac(12)}}}), "06:30", 103, 3},
		{"counted", facts("06:15", count), "06:18", 107, 7},
		{"drawn after the count", facts("06:15", count), "06:30", 97, 97},
		{"counted after the draw", facts("06:45", count), "06:50", 107, 7},
		{"delivered after the count", facts("06:45", count), "07:10", 207, 7},
		{"late", facts("06:50", late), "07:10", 105, 5},
		{"came early", facts("06:25", DeliveryMark{Product: "gly", Planned: hm("07:00"), Arrived: true}), "06:30", 205, 5},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := at(t, tt.moment, tt.facts)
			assert.Equal(t, ac(tt.level), s.Stock[0].Level)
			assert.Equal(t, ac(tt.hanging), *s.Bays[0].On[0].Left)
			_, report := model.NewProblem(s.Rest())
			assert.Empty(t, report.Errors)
		})
	}
}

// What was drawn beyond what is reckoned to be there was there: what is delivered
// later is not owed to it.
func TestNoStockIsBelowNothing(t *testing.T) {
	in, told := day()
	in.Deliveries[0].Size = ac(10)
	s, err := At(in, told, facts("05:50", StockCount{Product: "gly", Container: "tote", Size: ac(100)},
		"06:20", LoadMark{Load: "S1-1", State: Filled}, "06:40", LoadMark{Load: "S2-1", State: Filled}), hm("06:45"))
	require.NoError(t, err)
	assert.Len(t, s.Oddities, 2)
	assert.Equal(t, hm("07:20"), s.Loads[2].Start)
}

func TestFreshToteGoesOnWhereThereWasNone(t *testing.T) {
	in, told := day()
	told.Changes = []Changeover{{Bay: "bay 1", At: hm("07:12"), Off: "gly", On: "gly", Load: "S1-2"}}
	told.Loads[2].SetupStart = hm("07:12")
	s, err := At(in, told, facts("06:45", StockCount{Product: "gly", Container: "tote", Size: ac(100)}), hm("07:15"))
	require.NoError(t, err)
	assert.Equal(t, ac(100), *s.Bays[0].On[0].Left)
}

// Reports that don't fit together are not read a second time beside the plan that
// was made with them.
func TestWithoutNewsAllGoesAsPlanned(t *testing.T) {
	in, told := day()
	list := facts("06:30", LoadMark{Load: "S1-1", State: Filling}, "06:40", LoadMark{Load: "S2-1", State: Filling})
	told.At, told.Facts, told.Same = hm("07:00"), 2, true
	s, err := At(in, told, list, hm("07:10"))
	require.NoError(t, err)
	assert.True(t, s.NoNews)
	assert.Equal(t, []model.Clock{hm("06:00"), hm("06:20"), hm("07:20")}, []model.Clock{s.Loads[0].Start, s.Loads[1].Start, s.Loads[2].Start})
	told.Same = false
	s, err = At(in, told, list, hm("07:10"))
	require.NoError(t, err)
	assert.False(t, s.NoNews)
	assert.Equal(t, hm("06:30"), s.Loads[0].Start)
}

// A sprayer that was out when the plan was made need not go on with the job it had
// begun; without news it keeps to that when it is back.
func TestBegunJobThatIsPutOff(t *testing.T) {
	in, told := day()
	in.Jobs = append(in.Jobs, model.JobRow{Job: "C", Field: "west", Sprayer: "S1", Mix: "burndown", Acres: ac(40), DriveMin: model.Some(ac(10))})
	told.Loads = []Planned{load("S1-1", "S1", "A", "06:00"), load("S1-2", "S1", "C", "07:30"), load("S1-3", "S1", "A", "09:00")}
	told.At = hm("07:25")
	for same, want := range map[bool][]model.BegunJob{false: {{Job: "A", Sprayer: "S1"}}, true: nil} {
		told.Same = same
		s, err := At(in, told, nil, hm("07:27"))
		require.NoError(t, err)
		assert.Equal(t, want, s.Rest().Underway.Begun)
	}
}

func TestDoubts(t *testing.T) {
	tests := []struct {
		name   string
		facts  []Fact
		moment string
		want   map[string]string
	}{
		{"none", nil, "06:30", map[string]string{}},
		{"rain", facts("06:30", HoldMark{model.HoldRow{From: hm("08:00"), To: hm("09:00"), Kind: "rain"}}), "06:30",
			map[string]string{"S1-2": "is sprayed out at 09:30, not 08:30: rain 08:00-09:00"}},
		{"rain longer than the tank lives", facts("06:30", HoldMark{model.HoldRow{From: hm("08:00"), To: hm("12:00"), Kind: "rain"}}), "06:30",
			map[string]string{"S1-2": "is sprayed out at 12:30, after its tank life ends at 11:20: rain 08:00-12:00"}},
		{"the sprayer is late", facts("06:30", LoadMark{Load: "S1-1", State: Filling}), "06:35",
			map[string]string{"S2-1": "starts at 06:50: bay 1 is not free before then", "S1-2": "starts at 07:50: S1 is not back before then"}},
		{"the sprayer is out", facts("06:45", SprayerMark{Sprayer: "S1", Out: true}), "06:50",
			map[string]string{"S1-2": "can't be filled, as far as is known: S1 is not back"}},
		{"a sprayer that another's load waits for is out", facts("06:10", SprayerMark{Sprayer: "S2", Out: true}), "06:50", map[string]string{
			"S2-1": "can't be filled, as far as is known: S2 is out", "S1-2": "can't be filled, as far as is known: bay 1 waits for S2-1"}},
		{"stock", facts("06:45", StockCount{Product: "gly", Container: "tote", Size: ac(100)}, "06:50", DeliveryMark{Product: "gly", Planned: hm("07:00"), Until: model.Some(hm("10:00"))}), "06:50",
			map[string]string{"S1-2": "starts at 10:00: there is not enough gly then"}},
		{"the job is smaller", facts("06:30", JobMark{JobChanged, model.JobRow{Job: "A", Acres: ac(70)}, []string{"acres"}}), "06:30",
			map[string]string{"S1-2": "job A has 30.0 ac to fill, planned 40.0"}},
		{"the job is dropped", facts("06:30", JobMark{Change: JobDropped, Row: model.JobRow{Job: "A"}}), "06:30",
			map[string]string{"S1-2": "job A was dropped"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := map[string]string{}
			for _, d := range at(t, tt.moment, tt.facts).Doubts() {
				got[d.Load] = d.Why
			}
			assert.Equal(t, tt.want, got)
		})
	}
}

func TestUncoveredAcres(t *testing.T) {
	assert.Empty(t, at(t, "06:30", nil).Uncovered())
	more := facts("06:10", JobMark{JobChanged, model.JobRow{Job: "A", Acres: ac(92)}, []string{"acres"}})
	assert.Equal(t, []Uncovered{{"A", "north", ac(12)}}, at(t, "06:30", more).Uncovered())
	left := facts("07:00", LoadMark{Load: "S1-1", State: Done, AcresLeft: model.Some(ac(5))})
	assert.Equal(t, []Uncovered{{"A", "north", ac(5)}}, at(t, "07:30", left).Uncovered())
}

func TestWashedFields(t *testing.T) {
	rain := func(from string) HoldMark {
		return HoldMark{model.HoldRow{From: hm(from), To: hm("12:00"), Kind: "rain"}}
	}
	tests := []struct {
		name   string
		rain   HoldMark
		moment string
		want   map[string]int64 // load: acres
	}{
		{"while it is sprayed", rain("06:50"), "06:50", map[string]int64{"S1-1": 20}},
		{"an hour after", rain("08:10"), "08:15", map[string]int64{"S1-1": 40, "S2-1": 40, "S1-2": 20}},
		{"rainfast since", rain("09:30"), "09:40", map[string]int64{"S1-2": 40}},
		{"wind washes nothing", HoldMark{model.HoldRow{From: hm("08:10"), To: hm("12:00"), Kind: "wind"}}, "08:15", map[string]int64{}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := map[string]int64{}
			for _, w := range at(t, tt.moment, facts("06:30", tt.rain)).Washed() {
				got[w.Load] = int64(w.Acres / model.One)
			}
			assert.Equal(t, tt.want, got)
		})
	}
}

func TestTanksThatNeedADecision(t *testing.T) {
	rain := func(to string) []Fact {
		return facts("06:30", HoldMark{model.HoldRow{From: hm("06:45"), To: hm(to), Kind: "rain"}})
	}
	assert.Empty(t, at(t, "07:00", rain("09:00")).Stranded(), "it waits out the rain")
	list := at(t, "07:00", rain("11:00")).Stranded()
	require.Len(t, list, 2)
	assert.Equal(t, "it is sprayed out at 11:25, after its tank life ends at 10:00: rain 06:45-11:00", list[0].Why)
	assert.Equal(t, ac(25), list[0].Acres)
	out := at(t, "07:00", facts("06:50", SprayerMark{Sprayer: "S1", Out: true})).Stranded()
	require.Len(t, out, 1)
	assert.Equal(t, "S1 is out of service", out[0].Why)
}

func TestASprayerThatIsOutHasNoTimeLeft(t *testing.T) {
	rest := at(t, "07:00", facts("06:50", SprayerMark{Sprayer: "S1", Out: true})).Rest()
	p, report := model.NewProblem(rest)
	require.Empty(t, report.Errors)
	assert.Equal(t, hm("07:00"), p.Sprayers[0].AvailableUntil)
	back := at(t, "07:00", facts("06:50", SprayerMark{Sprayer: "S1", Out: true, Until: model.Some(hm("09:00"))})).Rest()
	assert.Equal(t, hm("09:30"), back.Underway.Sprayers[0].BackAt, "20 min of spraying and 10 of driving after it is back")
}

// A plan made in the course of the day has, of a load that was over, only the
// acres that were sprayed.
func TestAcresLeftCountOnce(t *testing.T) {
	list := facts("06:00", LoadMark{Load: "S1-1", State: Filling}, "07:00", LoadMark{Load: "S1-1", State: Done, AcresLeft: model.Some(ac(5))})
	in, told := day()
	before, err := At(in, told, list, hm("07:05"))
	require.NoError(t, err)
	told.At, told.Facts, told.Loads[0].Parts[0].Acres = hm("07:05"), 2, ac(35)
	after, err := At(in, told, list, hm("07:10"))
	require.NoError(t, err)
	assert.Equal(t, before.Jobs[0], after.Jobs[0])
}

func TestWhatHappenedLaterIsLeftAlone(t *testing.T) {
	list := facts(
		"07:30", LoadMark{Load: "S1-1", State: Filling}, "07:31", SprayerMark{Sprayer: "S2", Out: true},
		"07:32", HoldMark{model.HoldRow{From: hm("06:40"), To: hm("08:00"), Kind: "rain"}},
	)
	s := at(t, "06:50", list)
	assert.Equal(t, []int{1, 2}, s.Ahead)
	assert.Equal(t, Spraying, s.Loads[0].State)
	assert.False(t, s.Sprayers[1].Out)
	assert.Equal(t, ac(30), s.Loads[0].LeftAcres(), "the hold is known and counts")
}

func TestFactsOfAnEarlierPlan(t *testing.T) {
	in, told := day()
	told.At, told.Facts = hm("07:00"), 2
	list := facts("06:05", LoadMark{Load: "S1-1", State: Filling}, "06:30", LoadMark{Load: "S1-2", State: Dropped})
	s, err := At(in, told, list, hm("07:00"))
	require.NoError(t, err)
	assert.Equal(t, Waiting, s.Loads[2].State, "the new S1-2 is not the one that was dropped")
	assert.Equal(t, hm("06:05"), s.Loads[0].Start, "what had begun is still what it was")
}

func TestUnlikelyReportsAreSaidToBe(t *testing.T) {
	in, told := day()
	in.Sprayers[0].AvailableFrom = model.Some(hm("06:10"))
	begun := facts("06:12", LoadMark{Load: "S1-1", State: Filling})
	tests := []struct {
		before []Fact
		at     string
		state  State
		want   string // blank: likely enough
	}{
		{nil, "05:30", Filling, "load S1-1 filling at 05:30: the pad opens at 06:00"},
		{nil, "06:05", Filled, "load S1-1 filled at 06:05: S1 is available from 06:10"},
		{begun, "06:20", Done, "load S1-1 done at 06:20: it was filling at 06:12, and what is left of it was planned to take 70 min"},
		{begun, "07:20", Done, ""},
		{facts("06:12", LoadMark{Load: "S1-2", State: Filling}), "06:40", Filling, "load S1-1 filling at 06:40: S1 is at S1-2, filling since 06:12 and planned to take 70 min"},
		{facts("06:12", LoadMark{Load: "S1-2", State: Filling}), "06:50", Filling, ""},
		{facts("06:12", LoadMark{Load: "S1-2", State: Dropped}), "06:40", Filling, ""},
		{facts("06:12", LoadMark{Load: "S2-1", State: Filling}), "06:20", Filling, "load S1-1 filling at 06:20: bay 1 is at S2-1, filling since 06:12 and planned to take 20 min"},
		{facts("06:12", LoadMark{Load: "S2-1", State: Filled}), "06:20", Filling, ""},
		{nil, "05:30", Waiting, ""},
		{nil, "06:12", Filling, ""},
		{nil, "06:30", Done, "load S1-1 done at 06:30: it was to be filled from 06:00, and to take 70 min until it is sprayed"},
		{nil, "06:50", Done, ""},
	}
	for _, tt := range tests {
		got := Unlikely(in, told, tt.before, Fact{N: 2, At: hm(tt.at), News: LoadMark{Load: "S1-1", State: tt.state}})
		assert.Equal(t, tt.want, strings.Join(got, "\n"))
	}
}

// The second load of a sprayer may come before its time when the first was done sooner.
func TestUnlikelyDoneGoesByWhenTheSprayerWasBack(t *testing.T) {
	in, told := day()
	soon := facts("06:30", LoadMark{Load: "S1-1", State: Done})
	done := func(before []Fact, at string, left *model.Decimal) string {
		return strings.Join(Unlikely(in, told, before, Fact{N: 2, At: hm(at), News: LoadMark{Load: "S1-2", State: Done, AcresLeft: left}}), "\n")
	}
	assert.Contains(t, done(nil, "07:30", nil), "load S1-2 done at 07:30: it was to be filled from ")
	assert.Empty(t, done(soon, "07:30", nil))
	assert.Contains(t, done(soon, "06:50", nil), "load S1-2 done at 06:50: S1 was back at 06:40 at the earliest, and it was planned to take 70 min")
	assert.Contains(t, done(soon, "07:10", nil), "planned to take 70 min")
	assert.Empty(t, done(soon, "07:10", model.Some(ac(40))), "nothing of it was sprayed")
}

func TestUnlikelyAmountsAreSaidToBe(t *testing.T) {
	in, told := day()
	drew := func(amount string) string {
		d, err := model.ParseDecimal(amount)
		require.NoError(t, err)
		return strings.Join(Unlikely(in, told, nil, Fact{N: 1, At: hm("06:20"), News: LoadMark{Load: "S1-1", State: Filled, Drew: []Drew{{"gly", d}}}}), "\n")
	}
	assert.Equal(t, "load S1-1 filled at 06:20: 40 gal of gly drawn, planned 10.0 gal", drew("40"))
	assert.Equal(t, "load S1-1 filled at 06:20: 2.5 gal of gly drawn, planned 10.0 gal", drew("2.5"))
	assert.Empty(t, drew("10.4"))
}

func TestCheckRefusesWhatMakesNoSense(t *testing.T) {
	past := facts("06:05", LoadMark{Load: "S1-1", State: Spraying, AcresLeft: model.Some(ac(30))}, "06:10", LoadMark{Load: "S2-1", State: Done})
	until := model.Some(hm("05:00"))
	tests := []struct {
		name string
		at   string
		news News
		want string
	}{
		{"unknown load", "06:30", LoadMark{Load: "S1-9", State: Filling}, `load S1-9: the plan has none of that name; did you mean "S1-1"?`},
		{"unknown state", "06:30", LoadMark{Load: "S1-2", State: "fuming"}, `state "fuming": expected waiting, filling`},
		{"time goes backwards", "06:00", LoadMark{Load: "S1-1", State: Done}, "load S1-1 was spraying at 06:05; 06:00 can't be done already"},
		{"state goes backwards", "06:30", LoadMark{Load: "S1-1", State: Filled}, "load S1-1 is spraying since 06:05 and can't be filled after that; undo the entry that is wrong (1)"},
		{"after the end", "06:30", LoadMark{Load: "S2-1", State: Done}, "load S2-1 is done since 06:10; undo that first (entry 2)"},
		{"more left than before", "06:30", LoadMark{Load: "S1-1", State: Spraying, AcresLeft: model.Some(ac(31))}, "31 ac left: expected 0 to 30"},
		{"acres of a filling", "07:30", LoadMark{Load: "S1-2", State: Filling, AcresLeft: model.Some(ac(3))}, "acres left go with spraying, done or dropped"},
		{"drew what is not in it", "07:30", LoadMark{Load: "S1-2", State: Filled, Drew: []Drew{{"glu", ac(1)}}}, `there is no glu in it; did you mean "gly"?`},
		{"unknown sprayer", "07:00", SprayerMark{Sprayer: "S3", Out: true}, "sprayers.csv has none of that name"},
		{"back without having been out", "07:00", SprayerMark{Sprayer: "S1"}, "was not reported out"},
		{"until before now", "07:00", SprayerMark{Sprayer: "S1", Out: true, Until: until}, "expected later than 07:00"},
		{"unknown delivery", "07:00", DeliveryMark{Product: "gly", Planned: hm("08:00")}, "deliveries.csv has no gly at 08:00"},
		{"unknown product", "07:00", StockCount{Product: "glyph", Container: "tote", Size: ac(1)}, "products.csv has no glyph"},
		{"more open than it holds", "07:00", StockCount{Product: "gly", Container: "tote", Size: ac(10), Open: []model.Decimal{ac(11)}}, "11 open: expected 0 to 10"},
		{"job that is there", "07:00", JobMark{Change: JobAdded, Row: model.JobRow{Job: "A"}}, "job A: there is one of that name"},
		{"job that is not", "07:00", JobMark{Change: JobDropped, Row: model.JobRow{Job: "C"}}, "job C: there is none of that name"},
		{"job of no mix", "07:00", JobMark{Change: JobAdded, Row: model.JobRow{Job: "C", Field: "x", Mix: "burndwn", Acres: ac(1), DriveMin: model.Some(ac(1))}},
			`job C: mix: "burndwn" is not in mixes.csv; did you mean "burndown"?`},
		{"hold that ends first", "07:00", HoldMark{model.HoldRow{From: hm("09:00"), To: hm("08:00")}}, "must be later than from (09:00)"},
		{"hold of nobody", "07:00", HoldMark{model.HoldRow{From: hm("09:00"), To: hm("10:00"), Scope: "sprayer:S9"}}, "is not in sprayers.csv"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			in, told := day()
			err := Check(in, told, past, Fact{N: 3, At: hm(tt.at), News: tt.news})
			assert.ErrorContains(t, err, tt.want)
		})
	}
}

// What is over is not listed; what the forecast makes is.
func TestHoldsInForceAndToCome(t *testing.T) {
	in, told := day()
	in.Products[0].MaxWindMph = model.Some(ac(10))
	in.Forecast = []model.ForecastRow{{From: hm("09:00"), To: hm("10:00"), WindMph: model.Some(ac(12))}}
	hold := func(from, to, kind, scope, reason string) HoldMark {
		return HoldMark{model.HoldRow{From: hm(from), To: hm(to), Kind: kind, Scope: scope, Reason: reason}}
	}
	s, err := At(in, told, facts(
		"06:00", hold("12:00", "13:00", "", "bay:bay 1", "meter"), "06:00", hold("06:10", "07:00", "inversion", "", ""),
		"06:30", hold("07:00", "08:00", "rain", "", "radar"), "06:40", hold("08:00", "08:30", "other", "field:north", ""),
		"06:40", hold("08:10", "08:30", "", "sprayer:S1", ""), "06:40", hold("08:20", "08:30", "", "@burn", ""),
	), hm("07:00"))
	require.NoError(t, err)
	assert.Equal(t, []HoldAhead{
		{hm("07:00"), hm("08:00"), "rain", "nothing is sprayed", "radar", true},
		{hm("08:00"), hm("08:30"), "hold", "nothing is sprayed in north", "", false},
		{hm("08:10"), hm("08:30"), "hold", "S1 sprays nothing", "", false},
		{hm("08:20"), hm("08:30"), "hold", "no mix with a product of @burn is sprayed", "", false},
		{hm("09:00"), hm("10:00"), "wind of the forecast", "no mix with gly is sprayed", "", false},
		{hm("12:00"), hm("13:00"), "hold", "bay 1 is shut", "meter", false},
	}, s.Holds())
}
