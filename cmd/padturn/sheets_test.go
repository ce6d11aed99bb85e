package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"html"
	"html/template"
	"image"
	"image/color"
	"image/png"
	"math/big"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/io/planfile"
	"padturn/model"
)

// plannedSheets plans an example a little, writes its sheets, and returns the
// folder they are in.
func plannedSheets(t *testing.T, example string, flags ...string) string {
	dir := filepath.Join(t.TempDir(), "plan")
	var stdout, stderr bytes.Buffer
	code := run(t.Context(), []string{"plan", filepath.Join(examplesDir, example), "--effort", "10", "-o", dir}, nil, &stdout, &stderr)
	require.Contains(t, []int{exitPlanned, exitWorkLeft}, code, stderr.String())
	code = run(t.Context(), append([]string{"sheets", dir}, flags...), nil, &stdout, &stderr)
	require.Equal(t, exitPlanned, code, stderr.String())
	return dir
}

func readText(t *testing.T, parts ...string) string {
	data, err := os.ReadFile(filepath.Join(parts...))
	require.NoError(t, err)
	return string(data)
}

// sheetLine is one line of a load sheet as the page shows it.
type sheetLine struct{ product, measure, otherwise string }

var (
	articleOf  = regexp.MustCompile(`(?s)<article [^>]*data-load="([^"]*)">(.*?)</article>`)
	rowPattern = regexp.MustCompile(`(?s)<tr data-step="(\d+)">.*?<span class="name">(.*?)</span>.*?<span class="amount">(.*?)</span>(?:<div class="small otherwise">(.*?)</div>)?`)
)

// sheetLines reads the page back: by load and step.
func sheetLines(page string) map[string]sheetLine {
	out := map[string]sheetLine{}
	for _, article := range articleOf.FindAllStringSubmatch(page, -1) {
		for _, row := range rowPattern.FindAllStringSubmatch(article[2], -1) {
			out[html.UnescapeString(article[1])+" "+row[1]] = sheetLine{
				html.UnescapeString(row[2]), html.UnescapeString(row[3]), html.UnescapeString(row[4]),
			}
		}
	}
	return out
}

var (
	packsOf  = regexp.MustCompile(`(\d+) (?:jug|bag)s? of ([\d.]+) (fl oz|[a-zA-Z]+)`)
	amountOf = regexp.MustCompile(`([\d.]+) (fl oz|gal|pt|lb|oz|mL|L|kg|g)\b`)
)

// measured adds up a measure in words, such as 4 jugs of 2.5 gal + 37 fl oz, in
// a unit.
func measured(t *testing.T, text string, to model.Unit) *big.Rat {
	sum := new(big.Rat)
	add := func(n, unit string, times int64) {
		of, ok := model.FindUnit(strings.ReplaceAll(unit, " ", ""))
		require.True(t, ok, text)
		value, ok := new(big.Rat).SetString(n)
		require.True(t, ok, text)
		value.Mul(value, of.Per(to)).Mul(value, big.NewRat(times, 1))
		sum.Add(sum, value)
	}
	for _, m := range packsOf.FindAllStringSubmatch(text, -1) {
		count, err := strconv.ParseInt(m[1], 10, 64)
		require.NoError(t, err)
		add(m[2], m[3], count)
	}
	for _, m := range amountOf.FindAllStringSubmatch(packsOf.ReplaceAllString(text, ""), -1) {
		add(m[1], m[2], 1)
	}
	return sum
}

// TestSheetsAgreeWithAmounts reads amounts.csv, the page and the PDF back: every
// step of every load is on the page, within 1.1 % of amounts.csv, the carrier
// within a gallon; and the PDF has the very words of the page.
func TestSheetsAgreeWithAmounts(t *testing.T) {
	for _, example := range []string{"small", "spring-rush", "short-stock"} {
		t.Run(example, func(t *testing.T) {
			dir := plannedSheets(t, example)
			lines := sheetLines(readText(t, dir, sheetsHTML))
			printed := pdfText(t, filepath.Join(dir, sheetsPDF))
			rows, err := csv.NewReader(strings.NewReader(readText(t, dir, planfile.AmountsFile))).ReadAll()
			require.NoError(t, err)
			assert.Len(t, lines, len(rows)-1)
			for _, row := range rows[1:] {
				load, step, product := row[0], row[1], row[2]
				line, ok := lines[load+" "+step]
				require.True(t, ok, "%s step %s", load, step)
				assert.Equal(t, product, line.product)
				unit, ok := model.FindUnit(row[4])
				require.True(t, ok)
				want, ok := new(big.Rat).SetString(row[3])
				require.True(t, ok)
				got, _ := measured(t, line.measure, unit).Float64()
				exact, _ := want.Float64()
				slack := 0.011 * exact
				if product == model.Water {
					slack = max(slack, 1.01)
				}
				assert.InDelta(t, exact, got, slack, "%s step %s: %s for %s %s", load, step, line.measure, row[3], row[4])
				assert.Contains(t, printed, squeezed(line.product))
				assert.Contains(t, printed, squeezed(line.measure+line.otherwise), "%s step %s in the PDF", load, step)
			}
		})
	}
}

// withoutTool leaves a test out on a machine that lacks a tool; the gate, which
// installs them all, fails instead.
func withoutTool(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("CI") != "" {
		t.Fatal(what)
	}
	t.Skip(what)
}

// pdfText is the text of a PDF without blanks.
func pdfText(t *testing.T, file string) string {
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		withoutTool(t, "pdftotext (poppler-utils) is not there to read the PDF back")
	}
	out, err := exec.Command(tool, "-raw", file, "-").Output()
	require.NoError(t, err)
	return squeezed(string(out))
}

func squeezed(text string) string { return strings.Join(strings.Fields(text), "") }

// TestPrintedAmountsOfTheDay adds up the day: the page's amounts of a product
// are those of amounts.csv to half a step for each job.
func TestPrintedAmountsOfTheDay(t *testing.T) {
	dir := plannedSheets(t, "spring-rush", "--format", "html")
	doc, err := planfile.Read(dir)
	require.NoError(t, err)
	lines := sheetLines(readText(t, dir, sheetsHTML))
	gal, _ := model.FindUnit("gal")
	told, exact, jobs := new(big.Rat), new(big.Rat), map[string]bool{}
	for _, l := range doc.Loads {
		for _, s := range l.Steps {
			if s.Product != "glyphosate 5.4 SL" {
				continue
			}
			told.Add(told, measured(t, lines[fmt.Sprint(l.Load, " ", s.Step)].measure, gal))
			exact.Add(exact, model.Decimal(s.Amount).Rat())
			for _, p := range l.Parts {
				jobs[p.Job] = true
			}
		}
	}
	require.Positive(t, exact.Sign())
	off := new(big.Rat).Sub(told, exact)
	most := big.NewRat(int64(len(jobs)), 200) // half of 0.01 gal a job
	assert.LessOrEqual(t, off.Abs(off).Cmp(most), 0, "%s of %s gal", off.FloatString(4), exact.FloatString(4))
}

// TestSheetsAreTheSameAgain: no clock, no map order.
func TestSheetsAreTheSameAgain(t *testing.T) {
	dir := plannedSheets(t, "small", "--paper", "a4")
	before := map[string]string{sheetsPDF: readText(t, dir, sheetsPDF), sheetsHTML: readText(t, dir, sheetsHTML)}
	var stdout, stderr bytes.Buffer
	require.Equal(t, exitPlanned, run(t.Context(), []string{"sheets", dir, "--paper", "a4"}, nil, &stdout, &stderr))
	for name, text := range before {
		assert.True(t, text == readText(t, dir, name), name)
	}
}

// TestPageStandsAlone: no script, nothing fetched, every link leads somewhere.
func TestPageStandsAlone(t *testing.T) {
	text := readText(t, plannedSheets(t, "spring-rush", "--format", "html"), sheetsHTML)
	for _, outside := range []string{"http:", "https:", "<script", " src=", "url(", "@import", "<link"} {
		assert.NotContains(t, text, outside)
	}
	for _, link := range regexp.MustCompile(`href="#([^"]*)"`).FindAllStringSubmatch(text, -1) {
		assert.Contains(t, text, ` id="`+link[1]+`"`)
	}
}

// TestPageEscapesNames: names are text, whatever stands in them.
func TestPageEscapesNames(t *testing.T) {
	day := filepath.Join(t.TempDir(), "day")
	require.NoError(t, os.CopyFS(day, os.DirFS(filepath.Join(examplesDir, "small"))))
	jobs := readText(t, day, "jobs.csv")
	header, rest, _ := strings.Cut(jobs, "\n")
	first, _, _ := strings.Cut(rest, "\n")
	field := strings.Split(first, ",")[indexOf(t, header, "field")]
	const hostile = `<img src onerror> & "½" 農`
	require.NoError(t, os.WriteFile(filepath.Join(day, "jobs.csv"), []byte(strings.Replace(jobs, field, `"`+strings.ReplaceAll(hostile, `"`, `""`)+`"`, 1)), 0o600))
	var stdout, stderr bytes.Buffer
	require.Equal(t, exitPlanned, run(t.Context(), []string{"plan", day, "--effort", "10"}, nil, &stdout, &stderr), stderr.String())
	require.Equal(t, exitPlanned, run(t.Context(), []string{"sheets", day}, nil, &stdout, &stderr), stderr.String())
	text := readText(t, day, "plan", sheetsHTML)
	assert.NotContains(t, text, "<img")
	assert.Contains(t, text, template.HTMLEscapeString(hostile))
	assert.Contains(t, stderr.String(), `the PDF's font lacks "農"`)
}

func indexOf(t *testing.T, header, column string) int {
	for i, name := range strings.Split(strings.TrimSpace(header), ",") {
		if name == column {
			return i
		}
	}
	require.Fail(t, "no column", column)
	return -1
}

// TestCodesCanBeRead has a reader of QR codes look at the PDF's pages and at
// the page's drawings.
func TestCodesCanBeRead(t *testing.T) {
	for _, tool := range []string{"zbarimg", "pdftoppm"} {
		if _, err := exec.LookPath(tool); err != nil {
			withoutTool(t, tool+" is not there to read the codes back")
		}
	}
	dir := plannedSheets(t, "small")
	doc, err := planfile.Read(dir)
	require.NoError(t, err)
	revision, err := doc.Revision()
	require.NoError(t, err)
	var want []string
	for _, l := range doc.Loads {
		want = append(want, "padturn|load|"+l.Load+"|"+doc.Day.Date+"|"+revision)
	}
	require.NoError(t, exec.Command("pdftoppm", "-r", "90", "-gray", "-png", filepath.Join(dir, sheetsPDF), filepath.Join(dir, "page")).Run())
	pages, err := filepath.Glob(filepath.Join(dir, "page-*.png"))
	require.NoError(t, err)
	assert.ElementsMatch(t, want, codesIn(t, pages), "PDF at 90 dots to the inch")

	var drawn []string
	for i, svg := range regexp.MustCompile(`(?s)<svg class="code" viewBox="0 0 (\d+) \d+".*?d="(.*?)"`).FindAllStringSubmatch(readText(t, dir, sheetsHTML), -1) {
		drawn = append(drawn, drawCode(t, filepath.Join(dir, fmt.Sprint("svg", i, ".png")), svg[1], svg[2]))
	}
	assert.ElementsMatch(t, want, codesIn(t, drawn), "page")
}

func codesIn(t *testing.T, pictures []string) []string {
	out, err := exec.Command("zbarimg", append([]string{"-q", "--raw"}, pictures...)...).Output()
	if exit := new(exec.ExitError); err != nil {
		require.ErrorAs(t, err, &exit) // pages without a code
	}
	return strings.Fields(strings.ReplaceAll(string(out), "\r", ""))
}

// drawCode paints the bars of a code, five dots to a module.
func drawCode(t *testing.T, file, side, path string) string {
	const dots = 5
	size, err := strconv.Atoi(side)
	require.NoError(t, err)
	picture := image.NewGray(image.Rect(0, 0, size*dots, size*dots))
	for i := range picture.Pix {
		picture.Pix[i] = 255
	}
	for _, bar := range regexp.MustCompile(`M(\d+) (\d+)h(\d+)v1h-\d+z`).FindAllStringSubmatch(path, -1) {
		x, _ := strconv.Atoi(bar[1])
		y, _ := strconv.Atoi(bar[2])
		wide, _ := strconv.Atoi(bar[3])
		for dy := range dots {
			for dx := range wide * dots {
				picture.SetGray(x*dots+dx, y*dots+dy, color.Gray{})
			}
		}
	}
	var data bytes.Buffer
	require.NoError(t, png.Encode(&data, picture))
	require.NoError(t, os.WriteFile(file, data.Bytes(), 0o600))
	return file
}
