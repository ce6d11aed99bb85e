package pdf

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/io/handout"
	"padturn/io/planfile"
	"padturn/model"
)

// madeDay is a plan of so many loads on four bays, each of a mix of so many
// products, every second of them dry, with names made longer by extra.
func madeDay(loads, products int, extra string) *planfile.Document {
	acres := planfile.Number(80 * model.One)
	d := &planfile.Document{Day: planfile.Day{Date: "2026-05-04", Units: "us", Opens: 6 * 3600, Closes: 20 * 3600, SettleDryMin: planfile.Number(3 * model.One)}}
	for i := range 4 {
		d.Bays = append(d.Bays, planfile.Bay{Bay: fmt.Sprint("bay ", i+1, extra), Connections: 3})
	}
	mix := planfile.Mix{Mix: "mix" + extra, GPA: planfile.Number(15 * model.One), Carrier: "water", Note: "½ rate at 7 ° slope" + extra}
	for i := range products {
		p := planfile.Product{Product: fmt.Sprintf("product %d%s", i+1, extra), Form: "SC", Unit: "gal", Handling: "metered", Restricted: i%7 == 0, SignalWord: "WARNING", PPE: "gloves" + extra}
		if i%2 == 1 {
			p.Form, p.Unit, p.Handling, p.Pack = "WG", "lb", "hopper", new(planfile.Number(5*model.One))
		}
		d.Products = append(d.Products, p)
		mix.Recipe = append(mix.Recipe, planfile.Ingredient{Product: p.Product, Rate: planfile.Number(model.One), Unit: "floz/ac"})
	}
	d.Mixes = []planfile.Mix{mix}
	for n := range loads {
		id := fmt.Sprintf("S%d%s-%d", n%40, extra, n/40+1)
		job := planfile.Job{Job: fmt.Sprint("J", n), Field: "Field é µ" + extra, Mix: mix.Mix, GPA: mix.GPA, Customer: "customer" + extra, Note: "note" + extra}
		d.Jobs = append(d.Jobs, job)
		start := planfile.Time(6*3600 + n/4*500)
		l := planfile.Load{
			Load: id, Bay: d.Bays[n%4].Bay, Seq: n/4 + 1, Sprayer: fmt.Sprintf("S%d%s", n%40, extra), Mix: mix.Mix, Acres: acres, Gal: 15 * acres,
			Carrier: "water", CarrierGal: 15 * acres, Parts: []planfile.Part{{Job: job.Job, Acres: acres}},
			CleanoutFrom: start, Ready: start, SetupStart: start, Start: start, End: start + 480, BackAt: start + 4000,
		}
		half := l.CarrierGal / 2
		l.Steps = append(l.Steps, planfile.Step{Product: "water", Amount: half, Unit: "gal", Gal: half, Source: "carrier"})
		for i, p := range d.Products {
			l.Steps = append(l.Steps, planfile.Step{Step: i + 1, Product: p.Product, Amount: planfile.Number((12_345_000_000 + int64(n)*1_000_000) * int64(i+1)), Unit: p.Unit, Source: p.Handling, Connection: 1})
			d.Stock = append(d.Stock, planfile.StockEvent{Product: p.Product, At: start, Event: "load " + id, Level: planfile.Number(int64(loads-n) * int64(model.One)), Unit: p.Unit})
		}
		l.Steps = append(l.Steps, planfile.Step{Step: products + 1, Product: "water", Amount: half, Unit: "gal", Gal: half, Source: "carrier"})
		d.Loads = append(d.Loads, l)
	}
	return d
}

func handoutOf(t testing.TB, d *planfile.Document) *handout.Handout {
	h, err := handout.Of(d)
	require.NoError(t, err)
	return h
}

const longName = ", half a mile east of the old Brandenburgisches Wasserwerk where the gravel road ends, unit ½ é µ °"

var made = []struct {
	name            string
	loads, products int
	extra           string
}{
	{"a small day", 6, 4, ""},
	{"long names", 8, 6, longName},
	{"names without a blank", 4, 3, strings.Repeat("Wasserwerk", 12)},
	{"mixes of 40 lines", 3, 40, ""},
	{"mixes of 40 long lines", 2, 40, longName},
}

func TestSamePages(t *testing.T) {
	h := handoutOf(t, madeDay(6, 4, longName))
	first, _, err := Print(h, Letter)
	require.NoError(t, err)
	again, _, err := Print(h, Letter)
	require.NoError(t, err)
	assert.True(t, bytes.Equal(first, again), "the same handout gives the same bytes")
}

// TestEverythingIsOnThePaper reads the words of every page back with their
// places: all stand within the margins, none over another, and every amount,
// revision and page number is there.
func TestEverythingIsOnThePaper(t *testing.T) {
	for _, row := range made {
		for _, paper := range Papers() {
			t.Run(row.name+" on "+string(paper), func(t *testing.T) {
				h := handoutOf(t, madeDay(row.loads, row.products, row.extra))
				data, missing, err := Print(h, paper)
				require.NoError(t, err)
				assert.Empty(t, missing)
				pages := readWords(t, data)
				width, height, err := paper.size()
				require.NoError(t, err)
				for i, p := range pages {
					p.checkPlaces(t, i+1, width/point, height/point)
					assert.Contains(t, p.text(), fmt.Sprintf("revision %s", h.Revision))
					assert.Contains(t, p.text(), fmt.Sprintf("page %d of %d", i+1, len(pages)))
				}
				all := rawText(t, data)
				for _, s := range h.Sheets {
					for _, line := range s.Lines {
						assert.Contains(t, all, squeeze(line.Measure))
						assert.Contains(t, all, squeeze(line.Tank.String()))
					}
				}
			})
		}
	}
}

func TestFourHundredLoads(t *testing.T) {
	began := time.Now()
	h := handoutOf(t, madeDay(400, 8, ""))
	data, _, err := Print(h, Letter)
	require.NoError(t, err)
	took := time.Since(began)
	t.Logf("%d kB in %s", len(data)/1000, took)
	text := rawText(t, data)
	for _, s := range h.Sheets {
		assert.Contains(t, text, squeeze(fmt.Sprintf("%s, load %d of %d: fill", s.Bay, s.Seq, s.OfBay)))
	}
}

func TestCharactersTheFontLacks(t *testing.T) {
	d := madeDay(1, 2, " 農 🚜 ½")
	data, missing, err := Print(handoutOf(t, d), A4)
	require.NoError(t, err)
	assert.Equal(t, "農🚜", string(missing))
	assert.Contains(t, rawText(t, data), squeeze("product 1 ? ? ½"))
}

func TestUnknownPaper(t *testing.T) {
	_, _, err := Print(&handout.Handout{}, "legal")
	assert.EqualError(t, err, `there is no paper "legal"; expected letter or a4`)
}

// word is a word on a page, in points from its upper left corner.
type word struct {
	XMin float64 `xml:"xMin,attr"`
	YMin float64 `xml:"yMin,attr"`
	XMax float64 `xml:"xMax,attr"`
	YMax float64 `xml:"yMax,attr"`
	Text string  `xml:",chardata"`
}

type page struct {
	Words []word `xml:"word"`
}

func (p page) text() string {
	var words []string
	for _, w := range p.Words {
		words = append(words, w.Text)
	}
	return strings.Join(words, " ")
}

// checkPlaces finds words beyond the margins and words over each other. A
// word's box is taller than its letters, so only the middle of it counts.
func (p page) checkPlaces(t *testing.T, number int, width, height float64) {
	edge := (margin - 2) / point
	for i, a := range p.Words {
		inside := a.XMin >= edge && a.YMin >= edge/2 && a.XMax <= width-edge && a.YMax <= height-edge/2
		assert.True(t, inside, "page %d: %q stands outside: %+v", number, a.Text, a)
		for _, b := range p.Words[:i] {
			across := min(a.XMax, b.XMax) - max(a.XMin, b.XMin)
			down := min(a.YMax, b.YMax) - max(a.YMin, b.YMin)
			lower := min(a.YMax-a.YMin, b.YMax-b.YMin)
			if across > 1 && down > 0.45*lower {
				assert.Fail(t, "words over each other", "page %d: %q and %q", number, a.Text, b.Text)
			}
		}
	}
}

// rawText is all text in the order it was written, without any blanks: where a
// line is broken is of no matter.
func rawText(t testing.TB, data []byte) string { return squeeze(string(poppler(t, data, "-raw"))) }

func squeeze(text string) string { return strings.Join(strings.Fields(text), "") }

// poppler reads a PDF back.
func poppler(t testing.TB, data []byte, how string) []byte {
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("the gate installs poppler-utils, but there is no pdftotext")
		}
		t.Skip("pdftotext (poppler-utils) is not there to read the PDF back")
	}
	file := filepath.Join(t.TempDir(), "sheets.pdf")
	require.NoError(t, os.WriteFile(file, data, 0o600))
	out, err := exec.Command(tool, how, file, "-").Output()
	require.NoError(t, err)
	return out
}

// readWords returns the words of every page with their places.
func readWords(t testing.TB, data []byte) []page {
	out := poppler(t, data, "-bbox")
	var pages []page
	dec := xml.NewDecoder(bytes.NewReader(out))
	dec.Strict, dec.Entity = false, xml.HTMLEntity
	for {
		token, err := dec.Token()
		if err == io.EOF {
			break
		}
		require.NoError(t, err)
		if start, ok := token.(xml.StartElement); ok && start.Name.Local == "page" {
			var p page
			require.NoError(t, dec.DecodeElement(&p, &start))
			pages = append(pages, p)
		}
	}
	require.NotEmpty(t, pages)
	return pages
}
