package main

import (
	"bytes"
	"encoding/csv"
	"encoding/xml"
	"fmt"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/io/planfile"
	"padturn/model"
	"padturn/planner"
	"padturn/planner/scenario"
)

// picture is an SVG as a stranger reads it back: sections of rows of bars.
type picture struct {
	Texts  []pictureText  `xml:"text"`
	Groups []pictureGroup `xml:"g"`
}

type pictureGroup struct {
	Class string         `xml:"class,attr"`
	Label string         `xml:"aria-label,attr"`
	Load  string         `xml:"data-load,attr"`
	Rects []pictureRect  `xml:"rect"`
	Lines []pictureLine  `xml:"polyline"`
	Inner []pictureGroup `xml:"g"`
}

type pictureText struct {
	X    float64 `xml:"x,attr"`
	Text string  `xml:",chardata"`
}

type pictureRect struct {
	X     float64 `xml:"x,attr"`
	Width float64 `xml:"width,attr"`
}

type pictureLine struct {
	Points string `xml:"points,attr"`
}

// drawn is a bar with its times in seconds.
type drawn struct {
	row, kind, load string
	from, to        float64
}

// bars reads every bar's times off the picture, by the clock that is written
// over it.
func (p picture) bars(t *testing.T) []drawn {
	at := p.clock(t)
	var all []drawn
	for _, row := range p.Groups {
		for _, g := range row.Inner {
			d := drawn{row: row.Label, kind: g.Class, load: g.Load}
			switch {
			case g.Class == "drive":
				var x0, y0, x1, y1 float64
				require.Len(t, g.Lines, 1)
				_, err := fmt.Sscanf(g.Lines[0].Points, "%f,%f %f,%f", &x0, &y0, &x1, &y1)
				require.NoError(t, err)
				d.from, d.to = at(x0), at(x1)
			case len(g.Rects) > 0:
				d.from, d.to = at(g.Rects[0].X), at(g.Rects[0].X+g.Rects[0].Width)
			}
			all = append(all, d)
		}
	}
	return all
}

var clockText = regexp.MustCompile(`^\d\d:\d\d(\+1)?$`)

// clock turns a place into seconds, by the first and the last time that is
// written over the first section.
func (p picture) clock(t *testing.T) func(x float64) float64 {
	var xs, seconds []float64
	for _, text := range p.Texts {
		if !clockText.MatchString(text.Text) {
			continue
		}
		c := secondsOf(t, text.Text[:5]+":00"+text.Text[5:])
		if len(seconds) > 0 && c <= seconds[len(seconds)-1] {
			break // the next section's
		}
		xs, seconds = append(xs, text.X), append(seconds, c)
	}
	require.GreaterOrEqual(t, len(xs), 2)
	last := len(xs) - 1
	perUnit := (seconds[last] - seconds[0]) / (xs[last] - xs[0])
	for i := range xs {
		assert.InDelta(t, seconds[i], seconds[0]+(xs[i]-xs[0])*perUnit, 1, "the clock is even")
	}
	return func(x float64) float64 { return seconds[0] + (x-xs[0])*perUnit }
}

func readRows(t *testing.T, path string) []map[string]string {
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	require.NoError(t, err)
	var out []map[string]string
	for _, row := range rows[1:] {
		cells := map[string]string{}
		for i, name := range rows[0] {
			cells[name] = row[i]
		}
		out = append(out, cells)
	}
	return out
}

func secondsOf(t *testing.T, cell string) float64 {
	c, err := model.ParseClock(cell)
	require.NoError(t, err)
	return float64(c)
}

// TestChartAgreesWithThePlansFiles reads bars back from the picture and holds
// them to loads.csv, turns.csv and connections.csv: every bar a row, every row a
// bar, at its times to within two seconds.
func TestChartAgreesWithThePlansFiles(t *testing.T) {
	plans := map[string]string{"long": samplePlan(t, "long")}
	for _, name := range []string{"small", "spring-rush", "short-stock"} {
		dir := filepath.Join(t.TempDir(), name)
		padturn("plan", filepath.Join(examplesDir, name), "--effort", "100", "-o", dir)
		plans[name] = dir
	}
	if !testing.Short() {
		plans["400 loads"] = vastPlan(t)
	}
	for name, dir := range plans {
		t.Run(name, func(t *testing.T) {
			r := padturn("chart", dir)
			require.Equal(t, exitPlanned, r.code, r.stderr)
			var p picture
			require.NoError(t, xml.Unmarshal([]byte(r.stdout), &p))
			bars := p.bars(t)
			want := append(fillings(t, dir), turns(t, dir)...)
			for _, w := range want {
				i := slices.IndexFunc(bars, func(d drawn) bool {
					const slack = 2
					return strings.HasPrefix(d.row, w.row+",") && d.kind == w.kind && d.load == w.load &&
						math.Abs(d.from-w.from) <= slack && math.Abs(d.to-w.to) <= slack
				})
				require.GreaterOrEqual(t, i, 0, "no bar for %+v", w)
				bars = slices.Delete(bars, i, i+1)
			}
			changes := readRows(t, filepath.Join(dir, "connections.csv"))
			for _, d := range bars {
				switch d.kind {
				case "changeover":
					assert.True(t, slices.ContainsFunc(changes, func(row map[string]string) bool {
						return row["load"] == d.load && math.Abs(secondsOf(t, row["at"])-d.from) <= 2
					}), "a changeover of nothing: %+v", d)
				case "rinse", "hold":
				default:
					t.Errorf("a bar of nothing: %+v", d)
				}
			}
		})
	}
}

// vastPlan is a real plan of a day of 40 sprayers and about 400 loads, hardly
// searched.
func vastPlan(t *testing.T) string {
	in := scenario.Vast.Day(scenario.Busy, 1)
	p, report := model.NewProblem(in)
	require.True(t, report.OK())
	result, err := planner.Plan(t.Context(), p, planner.Settings{Steps: 50, Seed: 1})
	require.NoError(t, err)
	result.Effort = "50"
	_, files, err := written(&in, p, result)
	require.NoError(t, err)
	dir := filepath.Join(t.TempDir(), "plan")
	require.NoError(t, planfile.Write(dir, files))
	return dir
}

// fillings are the bars that loads.csv asks for in the rows of the bays.
func fillings(t *testing.T, dir string) []drawn {
	var all []drawn
	for _, row := range readRows(t, filepath.Join(dir, "loads.csv")) {
		all = append(all, drawn{"Bay " + row["bay"], "fill", row["load"], secondsOf(t, row["start"]), secondsOf(t, row["end"])})
	}
	return all
}

// turns are the bars that turns.csv asks for in the rows of the sprayers. What
// takes no time has none.
func turns(t *testing.T, dir string) []drawn {
	var all []drawn
	for _, row := range readRows(t, filepath.Join(dir, "turns.csv")) {
		from, to := secondsOf(t, row["from"]), secondsOf(t, row["to"])
		if from < to {
			all = append(all, drawn{"Sprayer " + row["sprayer"], row["what"], row["load"], from, to})
		}
	}
	return all
}

func TestChartFiles(t *testing.T) {
	plan, out := samplePlan(t, "long"), t.TempDir()
	svg, picture := filepath.Join(out, "day.svg"), filepath.Join(out, "day.PNG")
	for _, path := range []string{svg, picture} {
		r := padturn("chart", plan, "-o", path)
		require.Equal(t, exitPlanned, r.code, r.stderr)
		assert.Equal(t, "written to "+path+"\n", r.stderr)
	}
	onDisk, err := os.ReadFile(svg)
	require.NoError(t, err)
	assert.Equal(t, padturn("chart", plan).stdout, string(onDisk))
	data, err := os.ReadFile(picture)
	require.NoError(t, err)
	_, err = png.DecodeConfig(bytes.NewReader(data))
	assert.NoError(t, err)
}

func TestChartRefuses(t *testing.T) {
	plan := samplePlan(t, "long")
	for want, args := range map[string][]string{
		"expected a name that ends in .svg or .png": {plan, "-o", "day.gif"},
		"the folder chart.go cannot be made":        {plan, "-o", "chart.go/day.svg"},
		"no plan at nowhere":                        {"nowhere"},
	} {
		r := padturn(append([]string{"chart"}, args...)...)
		assert.Equal(t, exitInput, r.code)
		assert.Contains(t, r.stderr, want)
	}
}

// TestReadmePicture keeps the picture that the README shows true.
func TestReadmePicture(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "plan")
	require.Equal(t, exitPlanned, padturn("plan", filepath.Join(examplesDir, "small"), "-o", dir).code)
	golden(t, filepath.Join(examplesDir, "small.svg"), padturn("chart", dir).stdout)
}
