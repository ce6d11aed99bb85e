package planfile

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/model"
)

func TestSprayingsGiveEveryPartItsTime(t *testing.T) {
	var got []string
	for _, s := range build(t, longDay).Sprayings() {
		got = append(got, s.Load.Load+" "+s.Part.Job+" "+s.From.String()+" "+s.To.String())
	}
	assert.Equal(t, []string{
		"R1-1 J1 06:31:40 07:51:40",
		"Flèche 農場 rouge à très longue rampe-1 J2 06:50:00 07:56:40",
		"R2-1 J3 08:10:01 08:35:01",
		"R2-1 J4 08:35:01 08:50:31",
		"R1-2 J5 00:20:10+1 01:00:10+1",
	}, got)
}

func TestSprayingsCountPausesIn(t *testing.T) {
	d := &Document{
		Loads: []Load{{Load: "S-1", Parts: []Part{{Job: "1", SprayS: 600, SprayedAt: 2000}}}},
		Turns: []Turn{{Load: "S-1", What: "spray", From: 1000, To: 1200}, {Load: "S-1", What: "spray", From: 1600, To: 2000}},
	}
	assert.Equal(t, Time(1000), d.Sprayings()[0].From)
	d.Turns = nil
	assert.Equal(t, Time(1400), d.Sprayings()[0].From)
}

func TestHoldScopesAreWrittenAsInTheDay(t *testing.T) {
	p := longProblem(t)
	none := model.HoldScope{Sprayer: model.None, Bay: model.None}
	tests := []struct {
		want  string
		scope func(*model.HoldScope)
	}{
		{"", func(*model.HoldScope) {}},
		{"sprayer:R2", func(s *model.HoldScope) { s.Sprayer = 1 }},
		{"bay:south", func(s *model.HoldScope) { s.Bay = 1 }},
		{"field:Creek", func(s *model.HoldScope) { s.Field = "Creek" }},
		{"product:water", func(s *model.HoldScope) { s.Product = "water" }},
		{"@drifts", func(s *model.HoldScope) { s.Group = "drifts" }},
	}
	for _, tt := range tests {
		scope := none
		tt.scope(&scope)
		assert.Equal(t, tt.want, builder{p: p}.scope(scope))
	}
}
