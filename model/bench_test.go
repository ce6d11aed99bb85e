package model_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"padturn/model"
)

// busyDay is a day of many jobs: four sprayers, neighbours of the same mix,
// rules, and lat/lon for the drives.
func busyDay(jobs int) model.Input {
	in := smallDay()
	in.Settings.Pad.Lat, in.Settings.Pad.Lon = model.Some(42.0), model.Some(-93.6)
	in.Sprayers = nil
	for k := range 4 {
		in.Sprayers = append(in.Sprayers, model.SprayerRow{Sprayer: fmt.Sprint("S", k+1), TankGal: dec("1200"), AcPerH: some("110")})
	}
	in.Jobs = nil
	for i := range jobs {
		in.Jobs = append(in.Jobs, model.JobRow{
			Job: fmt.Sprint("J", i+1), Field: fmt.Sprint("field ", i+1), Sprayer: fmt.Sprint("S", i%4+1), Mix: "corn", Crop: "corn",
			Acres: dec("123.457"), Lat: model.Some(42 + float64(i%7)/50), Lon: model.Some(-93.6 + float64(i%5)/50),
		})
	}
	in.Rules = []model.RuleRow{
		{Where: "manifold", After: "@triazine", Before: "*", Level: "flush"},
		{Where: "sprayer", After: "atrazine", Before: "*", Level: "triple rinse"},
	}
	return in
}

// A run of four jobs: 493.828 ac of 15 gal/ac in a tank of 1,200 gal take seven
// loads.
func BenchmarkRunLoads(b *testing.B) {
	p := sound(b, busyDay(16))
	run := []int{0, 4, 8, 12}
	require.Len(b, p.RunLoads(0, run), 7)
	b.ReportAllocs()
	for b.Loop() {
		p.RunLoads(0, run)
	}
}

// A day of 60 jobs, checked and made.
func BenchmarkNewProblem(b *testing.B) {
	in := busyDay(60)
	require.Len(b, sound(b, in).Jobs, 60)
	b.ReportAllocs()
	for b.Loop() {
		model.NewProblem(in)
	}
}
