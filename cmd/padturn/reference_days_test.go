package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/stretchr/testify/require"

	"padturn/io/dayfiles"
	"padturn/model"
	"padturn/planner/scenario"
)

var referenceDays = flag.String("reference.days", "", "folder that the days for testdata/reference/table.py are written to")

// referenceShapes are sizes of days that general solvers are measured on.
var referenceShapes = []scenario.Shape{
	{Sprayers: 2, Loads: 8, Bays: 1}, {Sprayers: 3, Loads: 12, Bays: 1}, {Sprayers: 4, Loads: 20, Bays: 2},
	{Sprayers: 5, Loads: 40, Bays: 2}, scenario.Middle, scenario.Large,
}

// referenceForms are what days there are of each size.
var referenceForms = []struct {
	crowding scenario.Crowding
	seed     uint64
	alone    bool // no loads that neighbours share
}{{scenario.Busy, 1, false}, {scenario.Crowded, 2, true}}

// The days that general solvers are measured on are written as folders, and read
// back they say the same.
func TestReferenceDaysReadBack(t *testing.T) {
	root := *referenceDays
	if root == "" {
		root = t.TempDir()
	}
	for _, shape := range referenceShapes {
		for _, form := range referenceForms {
			in := countable(shape.Day(form.crowding, form.seed))
			name := fmt.Sprintf("%03d-%v-%.0f-%d", shape.Loads, shape, 100*form.crowding, form.seed)
			if form.alone {
				in.Settings.ShareMaxMin = 0
				name += "-alone"
			}
			dir := filepath.Join(root, name)
			writeDay(t, dir, in)
			day, err := dayfiles.Read(dir)
			require.NoError(t, err)
			require.Empty(t, cmp.Diff(in, day.Input, cmpopts.EquateEmpty()))
		}
	}
}

func writeDay(t *testing.T, dir string, in model.Input) {
	t.Helper()
	require.NoError(t, os.MkdirAll(dir, 0o755))
	for name, text := range dayfiles.Files(in) {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
}

// countable takes out of a day what the reference model does not count, or not
// at this size: weather and shut bays, limited water, a tank life, totes that run
// dry and deliveries; and it shares any-sprayer jobs out.
func countable(in model.Input) model.Input {
	in.Holds, in.Forecast, in.Deliveries = nil, nil, nil
	in.Settings.Pad.Water, in.Settings.Pad.RinsateGal = nil, nil
	in.Products, in.Stock, in.Jobs = slices.Clone(in.Products), slices.Clone(in.Stock), slices.Clone(in.Jobs)
	for i := range in.Products {
		in.Products[i].TankLifeH = nil
	}
	for i, s := range in.Stock {
		if s.Container == "tote" {
			in.Stock[i] = model.StockRow{Product: s.Product, Container: "bulk", Size: model.WholeDecimal(20_000), Full: model.One}
		}
	}
	for i := range in.Jobs {
		if in.Jobs[i].Sprayer == "" {
			in.Jobs[i].Sprayer = in.Sprayers[i%len(in.Sprayers)].Sprayer
		}
	}
	return in
}
