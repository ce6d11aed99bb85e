package planner

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/model"
	"padturn/planner/scenario"
)

func TestInterruptedSearchGivesThePlanSoFar(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	r, err := Plan(ctx, generated(t, scenario.Small), DefaultSettings())
	require.NoError(t, err)
	assert.Equal(t, "interrupted", string(r.Status))
	assert.Equal(t, r.Baseline.Left, r.Plan.Left)
	assert.LessOrEqual(t, r.Plan.Cost.Total(), r.Baseline.Cost.Total())
}

func TestEvaluateRefusesUnfitDecisions(t *testing.T) {
	in := plainDay()
	addJob(&in, "J1", "S1", "mix A", 90)
	addJob(&in, "J2", "S2", "mix A", 90)
	p := problem(t, in)
	fit := func() Decisions {
		return Decisions{Routes: [][]Run{{{0}}, {{1}}}, Sequence: []Slot{{0, 0}, {1, 0}}}
	}
	tests := []struct {
		name   string
		change func(d *Decisions)
		want   string
	}{
		{"too few routes", func(d *Decisions) { d.Routes = d.Routes[:1] }, "1 routes for 2 sprayers"},
		{"empty run", func(d *Decisions) { d.Routes[0] = append(d.Routes[0], Run{}) }, "has no job"},
		{"job twice", func(d *Decisions) { d.Routes[0] = append(d.Routes[0], Run{0}) }, "planned twice"},
		{"another's job", func(d *Decisions) { d.Routes = [][]Run{{{0}, {1}}, nil} }, "belongs to another sprayer"},
		{"job left out", func(d *Decisions) { d.Routes[1] = nil }, "is on no route"},
		{"no such bay", func(d *Decisions) { d.Sequence[0].Bay = 1 }, "names no bay"},
		{"load without a slot", func(d *Decisions) { d.Sequence = d.Sequence[:1] }, "loads off"},
	}
	_, err := Evaluate(p, fit())
	require.NoError(t, err)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d := fit()
			tt.change(&d)
			_, err := Evaluate(p, d)
			assert.ErrorContains(t, err, tt.want)
		})
	}
}

func TestParseEffort(t *testing.T) {
	for word, want := range map[string]int64{"quick": QuickSteps, "normal": NormalSteps, "deep": DeepSteps, "1234": 1234, "0": 0} {
		got, err := ParseEffort(word)
		require.NoError(t, err)
		assert.Equal(t, want, got, word)
	}
	for _, word := range []string{"", "fast", "-1", "1e6", "9999999999999999999"} {
		_, err := ParseEffort(word)
		assert.Error(t, err, word)
	}
}

func TestBeamInFileOrderSharesOverNoJobForAnySprayer(t *testing.T) {
	in := plainDay()
	addJob(&in, "J1", "S1", "mix A", 30)
	addJob(&in, "J2", "", "mix B", 30) // may come to S1, between the two that could share
	addJob(&in, "J3", "S1", "mix A", 30)
	in.Settings.ShareMaxMin = dec(30)
	e := newEvaluator(newInstance(problem(t, in)))
	b := newBeam(e, 1, beamPlan{comers: anySprayer, fileOrder: true})
	assert.Equal(t, []Run{{0}}, b.nextRuns(b.root(), 0))
	b = newBeam(e, 1, beamPlan{comers: anySprayer})
	assert.Equal(t, []Run{{0, 2}, {0}, {1}}, b.nextRuns(b.root(), 0))
}

func TestBeamServesWhoIsBackFirst(t *testing.T) {
	in := plainDay()
	in.Sprayers[0].AvailableFrom = model.Some(at(60))
	in.Sprayers = append(in.Sprayers, model.SprayerRow{Sprayer: "S3", TankGal: dec(1000), AcPerH: model.Some(dec(60))})
	addJob(&in, "J1", "S1", "mix A", 30)
	addJob(&in, "J2", "S2", "mix B", 30)
	e := newEvaluator(newInstance(problem(t, in)))
	b := newBeam(e, 1, beamPlan{comers: 1})
	assert.Equal(t, []int{1}, b.nextSprayers(b.root()))
	b = newBeam(e, 1, beamPlan{comers: anySprayer})
	assert.Equal(t, []int{0, 1}, b.nextSprayers(b.root()), "S3 has no work")
	addJob(&in, "J3", "", "mix B", 30)
	b = newBeam(newEvaluator(newInstance(problem(t, in))), 1, beamPlan{comers: anySprayer})
	assert.Equal(t, []int{0, 1, 2}, b.nextSprayers(b.root()), "any sprayer's job")
}

// First come, first served leaves work of this day undone, so full is its pad.
func TestAThousandLoadsAllFit(t *testing.T) {
	if testing.Short() {
		t.Skip("takes a second")
	}
	s := &search{in: newInstance(generated(t, scenario.Huge)), settings: Settings{Steps: QuickSteps}}
	e := newEvaluator(s.in)
	first := e.firstCome()
	assert.NotZero(t, e.score(first).left)
	s.start = []Decisions{e.decisions(first)}
	s.build(t.Context())
	assert.Zero(t, e.score(e.candidateOf(&s.start[0])).left)
}
