package outside

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
)

// example5 is a tool switching example with 5 jobs, 6 tools and 3 slots whose
// best order puts tools on 4 times after the first filling.
const example5 = "5\n6\n3\n1 1 0 0 1\n1 0 0 1 0\n0 1 1 1 0\n1 0 1 0 1\n0 0 1 1 0\n0 0 0 0 1\n"

func TestInsertionsCountsTheFirstFilling(t *testing.T) {
	s, err := ReadSwitching(strings.NewReader(example5))
	require.NoError(t, err)
	assert.Equal(t, [][]int{{0, 1, 3}, {0, 2}, {2, 3, 4}, {1, 2, 4}, {0, 3, 5}}, s.Jobs)
	assert.Equal(t, 3, s.FirstFilling())
	tests := []struct {
		name  string
		order []int
		want  int
	}{
		// 0 1 3 go on; 5 for 1; 2 for 5 (0 stays); 4 for 0; 1 for 3
		{"a best order", []int{0, 4, 1, 2, 3}, 3 + 4},
		// 0 1 3; 2 for 1 or 3 (3 is wanted sooner); 4 for 0; 1 for 3; 0 3 5
		{"file order", []int{0, 1, 2, 3, 4}, 3 + 1 + 1 + 1 + 3},
		{"nothing to do", nil, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) { assert.Equal(t, tt.want, s.Insertions(tt.order)) })
	}
}

func TestLengthAddsWorkAndEveryTool(t *testing.T) {
	p, err := ReadParallel(strings.NewReader("2 2 3 2\n10\n5 7\n1 0\n1 1\n0 1\n"))
	require.NoError(t, err)
	assert.Equal(t, 5+7+3*10, p.Length([]int{0, 1}))
	assert.Equal(t, max(7+2*10, (5+7+3*10)/2), p.LowerBound())
}

func TestClockworkQueuesOnceAndThenWaitsTheSame(t *testing.T) {
	c := Clockwork{Sprayers: 6, Bays: 1, Turns: 10, Fill: 10, Away: 45}
	assert.Equal(t, (0+10+20+30+40+50)+9*6*5, c.FirstComeWait())
}

func TestMakespanOfTwoMachines(t *testing.T) {
	f, err := NewFlowShop([]int{3, 1}, []int{2, 4})
	require.NoError(t, err)
	assert.Equal(t, 3+2+4, f.Makespan([]int{0, 1}))
	assert.Equal(t, 1+4+2, f.Makespan([]int{1, 0}))
	_, err = NewFlowShop([]int{3, 0}, []int{2, 4})
	assert.ErrorContains(t, err, "job 2")
	_, err = NewFlowShop([]int{3}, nil)
	assert.ErrorContains(t, err, "expected as many")
}

const smallTour = "NAME: t\nTYPE: ATSP\nDIMENSION: 3\nEDGE_WEIGHT_TYPE: EXPLICIT\nEDGE_WEIGHT_FORMAT: FULL_MATRIX\nEDGE_WEIGHT_SECTION\n9999 1 0\n5 9999 2000\n7 4 9999\nEOF\n"

func TestTourDayRinsesWhatItsArcsCost(t *testing.T) {
	tour, err := ReadTour(strings.NewReader(smallTour))
	require.NoError(t, err)
	p, report := model.NewProblem(tour.Day())
	require.Empty(t, report.Errors)
	const home = 3
	tests := []struct {
		name     string
		from, to int // mixes
		want     model.Seconds
	}{
		{"first to second", 0, 1, 1 * 6}, // 2000 is longer than a rinse may be in minutes: a unit is 6 s
		{"second to third", 1, 2, 2000 * 6},
		{"third to second", 2, 1, 4 * 6},
		{"back from the third", 2, home, 7 * 6},
		{"leaving home", home, 1, 0}, // no minutes, but gallons
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			level := p.Settings.RinseLevels[p.RinseBetween(tt.from, tt.to)]
			assert.Equal(t, tt.want, model.CeilMinutes(level.Min))
		})
	}
	assert.Equal(t, model.None, p.RinseBetween(0, 2), "an arc that costs nothing needs no rinse")
	assert.Equal(t, model.WholeDecimal(neverCost), p.Settings.RinseLevels[p.RinseBetween(home, 1)].Gal)
}

func TestServerWorkAndLoadingAddUpExactly(t *testing.T) {
	list, err := ReadServers(strings.NewReader("1\n2 2\n72 23\n6 1\n7 2\n"))
	require.NoError(t, err)
	p, report := model.NewProblem(list[0].Day())
	require.Empty(t, report.Errors)
	for j, want := range []struct{ work, loading model.Seconds }{{72 * 60, 6 * 60}, {23 * 60, 60}} {
		load := p.RunLoads(0, []int{j})[0]
		assert.Equal(t, want.loading, load.Fill[0])
		assert.Equal(t, model.Seconds(sprayTime), load.Parts[0].Spray)
		before := model.TankContents{Mix: p.Sprayers[0].LastMix}
		level := p.CleanoutBetween(before, model.TankContents{Mix: p.Jobs[j].Mix, Crops: []string{""}})
		assert.Equal(t, want.work, model.CeilMinutes(p.Settings.CleanoutLevels[level].Min)+model.Seconds(sprayTime))
	}
}

func TestOrderedReadsJobsAndSetupTimes(t *testing.T) {
	o, err := ReadOrdered(strings.NewReader("# N jobs:\n2\n# M tools:\n2\n# K slots:\n2\n\nList of jobs:\n1, 0\n0\n\nSetup costs:\n0, 6\n5, 0\n\n# Name of the instance:\nx"))
	require.NoError(t, err)
	assert.Equal(t, [][]int{{1, 0}, {0}}, o.Jobs)
	assert.Equal(t, [][]int{{0, 6}, {5, 0}}, o.Setup)
	assert.Equal(t, 2, o.FirstFilling())
	assert.Equal(t, model.WholeDecimal(2), *o.Day().Recipes[1].Step)
}

// errorOf reads a text by format.
func errorOf(format, text string) error {
	in := strings.NewReader(text)
	var err error
	switch format {
	case "switching":
		_, err = ReadSwitching(in)
	case "ordered":
		_, err = ReadOrdered(in)
	case "parallel":
		_, err = ReadParallel(in)
	case "tour":
		_, err = ReadTour(in)
	case "servers":
		_, err = ReadServers(in)
	}
	return err
}

func TestReadersSayWhatIsWrong(t *testing.T) {
	tests := []struct{ name, format, text, want string }{
		{"empty", "switching", "", "word 1: the text ends; expected the number of jobs"},
		{"a word for a number", "switching", "5 six", `word 2: "six": expected the number of tools`},
		{"too large", "switching", "99999999999999999999", "expected the number of jobs, a whole number from 1 to 2000"},
		{"cut short", "switching", "1 1 1", "word 4: the text ends; expected 0 or 1"},
		{"not a bit", "switching", "1 1 1 2", `word 4: "2": expected 0 or 1`},
		{"more than it says", "switching", "1 1 1 1 0", "word 5: \"0\": expected the end"},
		{"job over the slots", "switching", "1 2 1 1 1", "job 1 needs 2 tools; the machine has 1 slots"},
		{"no slots", "parallel", "2 1 1 0", `word 4: "0": expected the number of slots`},
		{"endless switch", "parallel", "2 1 1 1 9999", "expected the time of a switch"},
		{"no such tool", "ordered", "1\n1\n1\n1\n0\n", `line 4: "1": expected a whole number from 0 to 0`},
		{"a tool twice", "ordered", "1\n2\n2\n1,1\n0,0\n0,0\n", "job 1 names tool 1 twice"},
		{"two sizes on a line", "ordered", "1, 2\n", "line 1: 2 numbers; expected one"},
		{"short row", "ordered", "1\n2\n2\n0\n0\n", "line 5: 1 set-up times; expected one for each of 2 tools"},
		{"ends early", "ordered", "1\n", "line 2: the text ends"},
		{"no matrix", "tour", "DIMENSION: 3\n", "expected EDGE_WEIGHT_SECTION"},
		{"matrix without size", "tour", "EDGE_WEIGHT_SECTION 1", "EDGE_WEIGHT_SECTION before DIMENSION"},
		{"arc too long", "tour", "DIMENSION: 2 EDGE_WEIGHT_SECTION 0 14401 5 0", "an arc costs 14401; expected at most 14400"},
		{"size without a colon", "tour", "DIMENSION 3", "expected a colon"},
		{"three machines", "servers", "1\n8 3\n", `word 3: "3": expected two machines`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) { assert.ErrorContains(t, errorOf(tt.format, tt.text), tt.want) })
	}
}

// FuzzReaders makes sure that no text makes a reader panic, and that what it
// accepts is a day without errors.
func FuzzReaders(f *testing.F) {
	for _, seed := range []string{
		"", example5, smallTour, "1\n2 2\n72 23\n6 1\n7 2\n", "2 2 3 2\n10\n5 7\n1 0\n1 1\n0 1\n", "1\n1\n1\n0\n0\n",
		"2000 1000 1000", "2000\n1000\n1000\n", "DIMENSION: 2000 EDGE_WEIGHT_SECTION", "\ufeff5 6 3", "5,6,3", "-1 -1 -1",
		"DIMENSION : 2 EDGE_WEIGHT_SECTION 0 0 0 0", "DIMENSION: 2 EDGE_WEIGHT_SECTION 0 1000000000 5 0", "1\x00", "1\n1\n1\n0,0\n0\n",
		"1\n2\n2\n1,1\n0,0\n0,0\n",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if s, err := ReadSwitching(strings.NewReader(text)); err == nil {
			soundDay(t, s.Day())
		}
		if o, err := ReadOrdered(strings.NewReader(text)); err == nil {
			soundDay(t, o.Day())
		}
		if p, err := ReadParallel(strings.NewReader(text)); err == nil {
			soundDay(t, p.Day())
		}
		if tour, err := ReadTour(strings.NewReader(text)); err == nil {
			soundDay(t, tour.Day())
		}
		if list, err := ReadServers(strings.NewReader(text)); err == nil {
			for _, s := range list {
				soundDay(t, s.Day())
			}
		}
	})
}

func soundDay(t *testing.T, in model.Input) {
	t.Helper()
	_, report := model.NewProblem(in)
	require.Empty(t, report.Errors)
}
