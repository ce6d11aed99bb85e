package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"
	"github.com/spf13/viper"

	"padturn/model"
	"padturn/planner"
)

// Settings of the search come from flags, else from the environment, else they
// are the defaults. This file alone knows how.

const envPrefix = "PADTURN_"

// envNames are the variables of our prefix that may be set. PADTURN_BENCH says
// where the project's tests find their reference data; the program has no use
// for it.
var envNames = []string{"PADTURN_EFFORT", "PADTURN_SEED", "PADTURN_BENCH"}

// settingNames are the flags that may also come from the environment.
var settingNames = []string{"effort", "seed"}

func addSearchFlags(flags *pflag.FlagSet) {
	addEffortFlags(flags)
	flags.Bool("keep-order", false, "keep the jobs of each sprayer in the order of jobs.csv")
	flags.Bool("prove", false, "go on until the best plan is proved, nothing more can be tried, or Ctrl-C; shows how plan and bound close in")
}

// addEffortFlags adds the flags that every search has.
func addEffortFlags(flags *pflag.FlagSet) {
	flags.String("effort", "normal", "how hard to search: quick, normal, deep or a number of `steps`; also PADTURN_EFFORT")
	flags.String("seed", "1", "`number` that starts the random choices of the search; also PADTURN_SEED")
}

// searchSettings reads the settings of a search and the word its effort was
// asked for by; environ is as from os.Environ.
func searchSettings(flags *pflag.FlagSet, environ []string) (s planner.Settings, effort string, err error) {
	if s, effort, err = effortSettings(flags, environ); err != nil {
		return s, effort, err
	}
	if s.KeepOrder, err = flags.GetBool("keep-order"); err != nil {
		return s, effort, err
	}
	s.Prove, err = flags.GetBool("prove")
	return s, effort, err
}

// effortSettings reads what every search has.
func effortSettings(flags *pflag.FlagSet, environ []string) (s planner.Settings, effort string, err error) {
	s = planner.DefaultSettings()
	if err := checkEnvironment(environ); err != nil {
		return s, "", err
	}
	v := viper.New()
	v.SetEnvPrefix(strings.TrimSuffix(envPrefix, "_"))
	for _, name := range settingNames {
		if err := v.BindPFlag(name, flags.Lookup(name)); err != nil {
			return s, "", err
		}
		if err := v.BindEnv(name); err != nil {
			return s, "", err
		}
	}
	// Viper turns a word that is no number into 0 without a sound, so it is
	// asked for text only.
	effort = v.GetString("effort")
	if s.Steps, err = planner.ParseEffort(effort); err != nil {
		return s, effort, err
	}
	if s.Seed, err = strconv.ParseUint(v.GetString("seed"), 10, 64); err != nil {
		return s, effort, fmt.Errorf("seed %q: expected a whole number from 0", v.GetString("seed"))
	}
	return s, effort, nil
}

// checkEnvironment reports a variable that looks like one of ours and is none:
// it would have no effect, and nobody would know.
func checkEnvironment(environ []string) error {
	for _, pair := range environ {
		name, _, _ := strings.Cut(pair, "=")
		if strings.HasPrefix(name, envPrefix) && !slices.Contains(envNames, name) {
			return fmt.Errorf("there is no variable %s%s", name, model.Suggest(name, envNames))
		}
	}
	return nil
}
