package main

import (
	"testing"

	"github.com/stretchr/testify/require"

	"padturn/io/planfile"
	"padturn/model"
	"padturn/model/standing"
	"padturn/planner"
	"padturn/planner/scenario"
)

// BenchmarkStanding times where a day stands at noon, and what is left of it.
func BenchmarkStanding(b *testing.B) {
	for _, shape := range []scenario.Shape{scenario.Middle, scenario.Vast} {
		b.Run(shape.String(), func(b *testing.B) {
			in := shape.Day(scenario.Busy, 1)
			p, _ := model.NewProblem(in)
			r, err := planner.Plan(b.Context(), p, planner.Settings{})
			require.NoError(b, err)
			doc, err := planfile.Build(p, r)
			require.NoError(b, err)
			told := doc.Told()
			for b.Loop() {
				s, err := standing.At(in, told, nil, 12*3600)
				require.NoError(b, err)
				require.NotEmpty(b, s.Rest().Jobs)
			}
		})
	}
}
