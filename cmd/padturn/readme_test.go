package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/io/dayfiles"
	"padturn/io/planfile"
	"padturn/model"
)

const readmePath = "../../README.md"

func readme(t *testing.T) string {
	data, err := os.ReadFile(readmePath)
	require.NoError(t, err)
	return string(data)
}

// consoleBlock is a fenced block of a command after "$ " and what it answers.
var consoleBlock = regexp.MustCompile("(?s)```console\n\\$ ([^\n]+)\n(.*?)```")

// TestReadmeSamples runs the commands of the README in a copy of the examples
// and compares what they print, both streams as a terminal shows them.
func TestReadmeSamples(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(filepath.Join(dir, "examples"), os.DirFS(examplesDir)))
	require.NoError(t, os.RemoveAll(filepath.Join(dir, "examples", "small", "plan")))
	text := readme(t)
	blocks := consoleBlock.FindAllStringSubmatch(text, -1)
	require.NotEmpty(t, blocks)
	for _, block := range blocks {
		whole, command, want := block[0], block[1], block[2]
		got := inShell(t, dir, strings.ReplaceAll(command, "go run ./cmd/padturn", "padturn"))
		if *update {
			text = strings.Replace(text, whole, "```console\n$ "+command+"\n"+got+"```", 1)
			continue
		}
		assert.Equal(t, want, got, command)
	}
	if *update {
		require.NoError(t, os.WriteFile(readmePath, []byte(text), 0o644))
	}
}

func inShell(t *testing.T, dir, command string) string {
	cmd := exec.Command("sh", "-c", command)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "COLUMNS=", "PADTURN_EFFORT=", "PADTURN_SEED=")
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s: %s", command, out)
	return string(out)
}

// TestReadmeHasTheTwoCommands keeps the lines that a newcomer copies; .ci/run
// takes the second from here and runs it.
func TestReadmeHasTheTwoCommands(t *testing.T) {
	for _, command := range []string{"go run ./cmd/padturn plan examples/small", "go test ./..."} {
		assert.Contains(t, readme(t), "```sh\n"+command+"\n```")
	}
}

// TestReadmeSettings compares the table of settings with the settings that
// there are and with their defaults, in order.
func TestReadmeSettings(t *testing.T) {
	row := regexp.MustCompile("(?m)^\\| `([a-z_.\\[\\]]+)` \\| (.*?) \\| (.+) \\|$")
	var told []setting
	for _, m := range row.FindAllStringSubmatch(readme(t), -1) {
		told = append(told, setting{m[1], m[2]})
	}
	assert.Equal(t, settings("", reflect.ValueOf(model.DefaultSettings())), filterSettings(told))
}

// filterSettings leaves out rows of other tables, whose first cell names a file.
func filterSettings(rows []setting) []setting {
	var kept []setting
	for _, r := range rows {
		if !strings.HasSuffix(r.key, ".csv") {
			kept = append(kept, r)
		}
	}
	return kept
}

// TestStarterNamesEverySetting: a newcomer's day.yaml shows all there is to
// set.
func TestStarterNamesEverySetting(t *testing.T) {
	data, err := starterFiles.ReadFile("starter/day.yaml")
	require.NoError(t, err)
	for _, s := range settings("", reflect.ValueOf(model.DefaultSettings())) {
		key := s.key[strings.LastIndex(s.key, ".")+1:]
		assert.Regexp(t, `(?m)^[-# ]*`+key+`:`, string(data), s.key)
	}
}

// TestStarterHasTheDefaults: the starter's comment says that all its values but
// the bay's are the defaults.
func TestStarterHasTheDefaults(t *testing.T) {
	day, err := dayfiles.Read("starter")
	require.NoError(t, err)
	assert.Empty(t, day.Warnings)
	got, want := day.Input.Settings, model.DefaultSettings()
	got.Pad.Bays, want.Pad.Bays = nil, nil
	assert.Equal(t, want, got)
}

// setting is a key of day.yaml and its default as the README writes it.
type setting struct{ key, value string }

// settings lists what can be set below a value.
func settings(path string, v reflect.Value) []setting {
	one := func(value string) []setting { return []setting{{path, value}} }
	switch x := v.Interface().(type) {
	case model.Clock:
		return one(x.HHMM())
	case model.Decimal:
		return one(x.String())
	case []model.LevelSettings:
		var levels []string
		for _, l := range x {
			levels = append(levels, fmt.Sprintf("%s (%s min, %s gal)", l.Name, l.Min, l.Gal))
		}
		return one(strings.Join(levels, ", "))
	case []model.BaySettings:
		return settings(path+"[]", reflect.ValueOf(x[0]))
	case []string:
		return one(orNone(strings.Join(x, ", ")))
	case string:
		return one(orNone(x))
	}
	switch v.Kind() {
	case reflect.Pointer:
		if v.Type().Elem().Kind() != reflect.Struct {
			return one("none") // no default of this kind is set
		}
		below := settings(path, reflect.Zero(v.Type().Elem()))
		for i := range below {
			below[i].value = "none"
		}
		return below
	case reflect.Struct:
		var all []setting
		for i := range v.NumField() {
			key := strings.TrimPrefix(path+"."+snakeCase(v.Type().Field(i).Name), ".")
			all = append(all, settings(key, v.Field(i))...)
		}
		return all
	}
	return one(fmt.Sprint(v.Interface()))
}

func orNone(s string) string {
	if s == "" {
		return "none"
	}
	return s
}

func snakeCase(name string) string {
	var key strings.Builder
	for i, r := range name {
		if unicode.IsUpper(r) && i > 0 {
			key.WriteByte('_')
		}
		key.WriteRune(unicode.ToLower(r))
	}
	return key.String()
}

// columnsOf returns the columns that the README lists for a file of the day,
// and which of them it says have to be there.
func columnsOf(t *testing.T, file string) (all, required []string) {
	_, section, found := strings.Cut(readme(t), "### `"+file+"`")
	require.True(t, found, file)
	_, section, _ = strings.Cut(section, "|---|---|\n")
	for _, line := range strings.Split(section, "\n") {
		if !strings.HasPrefix(line, "| ") {
			break
		}
		name := strings.TrimSpace(strings.Split(line, "|")[1])
		if bare := strings.Trim(name, "*"); bare != name {
			name = bare
			required = append(required, name)
		}
		all = append(all, name)
	}
	require.NotEmpty(t, all, file)
	return all, required
}

// rowTypes are the records behind the files; each field is a column.
var rowTypes = map[string]reflect.Type{
	"jobs.csv": reflect.TypeFor[model.JobRow](), "mixes.csv": reflect.TypeFor[model.MixRow](),
	"recipes.csv": reflect.TypeFor[model.RecipeRow](), "products.csv": reflect.TypeFor[model.ProductRow](),
	"stock.csv": reflect.TypeFor[model.StockRow](), "deliveries.csv": reflect.TypeFor[model.DeliveryRow](),
	"sprayers.csv": reflect.TypeFor[model.SprayerRow](), "rules.csv": reflect.TypeFor[model.RuleRow](),
	"holds.csv": reflect.TypeFor[model.HoldRow](), "forecast.csv": reflect.TypeFor[model.ForecastRow](),
}

// TestReadmeColumns hands the reader a header of all the columns that the
// README lists, and one without each that it says is required.
func TestReadmeColumns(t *testing.T) {
	for file, row := range rowTypes {
		t.Run(file, func(t *testing.T) {
			all, required := columnsOf(t, file)
			assert.Len(t, all, row.NumField(), "one row in the README for every column")
			assert.NotContains(t, messages(file, all), "column", "all listed columns are known and enough")
			for _, name := range required {
				var rest []string
				for _, c := range all {
					if c != name {
						rest = append(rest, c)
					}
				}
				assert.Contains(t, messages(file, rest), file+":1: "+name+": ", "without %s", name)
			}
		})
	}
}

// messages returns what the reader says about a file that has only a header.
func messages(file string, columns []string) string {
	_, err := dayfiles.ReadFS(fstest.MapFS{file: {Data: []byte(strings.Join(columns, ",") + "\n")}}, "day")
	problems := err.(*dayfiles.Problems) // the other files are missing, so there always are some
	var about strings.Builder
	for _, fault := range append(problems.Errors, problems.Warnings...) {
		if fault.File == file && fault.Line > 0 {
			fmt.Fprintln(&about, fault)
		}
	}
	return about.String()
}

// TestReadmePlanFiles compares the table of plan files with the headers of a
// plan.
func TestReadmePlanFiles(t *testing.T) {
	p, _, stderr := newPlanning(t)
	require.Equal(t, exitPlanned, report(stderr, "padturn plan", p.run(t.Context())), stderr)
	inBrackets := regexp.MustCompile(` \([^)]*\)`)
	for _, name := range planfile.FileNames() {
		if name == planfile.PlanFile {
			continue
		}
		data, err := os.ReadFile(filepath.Join(p.out, name))
		require.NoError(t, err)
		header, _, _ := strings.Cut(string(data), "\n")
		row := regexp.MustCompile("(?m)^\\| `" + regexp.QuoteMeta(name) + "` \\|[^|]*\\| (.*) \\|$").FindStringSubmatch(readme(t))
		require.NotNil(t, row, name)
		assert.Equal(t, strings.ReplaceAll(header, ",", ", "), inBrackets.ReplaceAllString(row[1], ""), name)
	}
}
