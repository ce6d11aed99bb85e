package main

import (
	"testing"

	"github.com/spf13/pflag"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/planner"
)

func TestSearchSettings(t *testing.T) {
	for _, row := range []struct {
		name   string
		args   []string
		env    map[string]string
		steps  int64
		seed   uint64
		effort string
	}{
		{"nothing said", nil, nil, planner.NormalSteps, 1, "normal"},
		{"flags", []string{"--effort", "deep", "--seed", "7"}, nil, planner.DeepSteps, 7, "deep"},
		{"environment", nil, map[string]string{"PADTURN_EFFORT": "quick", "PADTURN_SEED": "9"}, planner.QuickSteps, 9, "quick"},
		{"flags win", []string{"--effort", "500"}, map[string]string{"PADTURN_EFFORT": "quick"}, 500, 1, "500"},
		{"an empty variable says nothing", nil, map[string]string{"PADTURN_EFFORT": ""}, planner.NormalSteps, 1, "normal"},
		{"the largest seed", []string{"--seed", "18446744073709551615"}, nil, planner.NormalSteps, 1<<64 - 1, "normal"},
		{"no steps", []string{"--effort", "0"}, nil, 0, 1, "0"},
	} {
		t.Run(row.name, func(t *testing.T) {
			s, effort, err := settingsFor(t, row.args, row.env, nil)
			require.NoError(t, err)
			assert.Equal(t, row.steps, s.Steps)
			assert.Equal(t, row.seed, s.Seed)
			assert.Equal(t, row.effort, effort)
		})
	}
}

func TestBadSearchSettings(t *testing.T) {
	for _, row := range []struct {
		name    string
		args    []string
		env     map[string]string
		environ []string
		says    string
	}{
		{"effort is no word", []string{"--effort", "qiuck"}, nil, nil, `effort "qiuck": expected quick, normal, deep or a number`},
		{"effort below zero", []string{"--effort", "-5"}, nil, nil, `effort "-5"`},
		{"seed is no number", []string{"--seed", "x"}, nil, nil, `seed "x": expected a whole number`},
		{"seed of the environment", nil, map[string]string{"PADTURN_SEED": "1.5"}, nil, `seed "1.5"`},
		{"misspelt variable", nil, nil, []string{"PADTURN_EFORT=deep"}, `no variable PADTURN_EFORT; did you mean "PADTURN_EFFORT"?`},
		{"unknown variable", nil, nil, []string{"HOME=/", "PADTURN_COLOUR=no"}, "no variable PADTURN_COLOUR"},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, _, err := settingsFor(t, row.args, row.env, row.environ)
			assert.ErrorContains(t, err, row.says)
		})
	}
}

func settingsFor(t *testing.T, args []string, env map[string]string, environ []string) (planner.Settings, string, error) {
	for _, name := range envNames {
		t.Setenv(name, env[name])
	}
	flags := pflag.NewFlagSet("plan", pflag.ContinueOnError)
	addSearchFlags(flags)
	require.NoError(t, flags.Parse(args))
	return searchSettings(flags, environ)
}
