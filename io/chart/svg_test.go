package chart

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/io/planfile"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func TestGolden(t *testing.T) {
	for _, name := range []string{"long", "empty"} {
		data := SVG(planOf(t, name))
		path := filepath.Join("testdata", name+".svg")
		if *update {
			require.NoError(t, os.MkdirAll("testdata", 0o755))
			require.NoError(t, os.WriteFile(path, data, 0o644))
		}
		want, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, string(want), string(data), name)
	}
}

func TestTheSamePlanGivesTheSameBytes(t *testing.T) {
	d := crowded(7, 40, 2, 5)
	assert.Equal(t, SVG(d), SVG(d))
	var a, b bytes.Buffer
	require.NoError(t, PNG(&a, d))
	require.NoError(t, PNG(&b, d))
	assert.True(t, bytes.Equal(a.Bytes(), b.Bytes()))
}

// wellFormed has the standard library read the document, and checks what a
// reader that cannot see relies on.
func wellFormed(t require.TestingT, data []byte) {
	dec := xml.NewDecoder(bytes.NewReader(data))
	var names []string
	ids, used := map[string]bool{}, map[string]bool{}
	for {
		token, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		names = append(names, e.Name.Local)
		for _, a := range e.Attr {
			switch {
			case a.Name.Local == "id":
				assert.False(t, ids[a.Value], "id %s twice", a.Value)
				ids[a.Value] = true
			case a.Name.Local == "aria-label":
				assert.NotEmpty(t, a.Value)
			case a.Name.Local == "aria-labelledby":
				for _, id := range strings.Fields(a.Value) {
					used[id] = true
				}
			case strings.HasPrefix(a.Value, "url(#"):
				used[strings.TrimSuffix(strings.TrimPrefix(a.Value, "url(#"), ")")] = true
			}
			assert.NotRegexp(t, `NaN|Inf`, a.Value)
		}
	}
	require.GreaterOrEqual(t, len(names), 3)
	assert.Equal(t, []string{"svg", "title", "desc"}, names[:3])
	for id := range used {
		assert.True(t, ids[id], "nothing has the id %s", id)
	}
}

func TestWellFormed(t *testing.T) {
	for _, d := range []*planfile.Document{planOf(t, "long"), planOf(t, "short"), planOf(t, "empty"), {}, crowded(100, 400, 10, 40)} {
		wellFormed(t, SVG(d))
	}
}

func TestAPlanOfBeforeHoldsWereKept(t *testing.T) {
	d := planOf(t, "long")
	d.Holds = nil
	assert.NotContains(t, string(SVG(d)), `class="hold"`)
}

// TestEveryKindOfBarIsDrawn: all that a plan can hold is somewhere in the
// picture, with its words.
func TestEveryKindOfBarIsDrawn(t *testing.T) {
	svg := string(SVG(crowded(3, 9, 1, 2)))
	for _, kind := range []string{"fill", "spray", "drive", "wait", "held", "pause", "cleanout", "rinse", "changeover", "hold", "stock"} {
		assert.Regexp(t, regexp.MustCompile(`<g class="`+kind+`" role="graphics-symbol img" aria-label="[^"]+`), svg, kind)
	}
	assert.Contains(t, svg, ", late")
}

// TestHatchingTellsBarsApart: no two looks that can stand in one row differ by
// colour only.
func TestHatchingTellsBarsApart(t *testing.T) {
	type form struct {
		hatch hatch
		share float64
		dark  bool
	}
	dark := func(l look) bool { return l.hatch == hatchNone && luminance(l.fill) < 0.4 }
	seen := map[form]string{}
	for kind, l := range spanLooks {
		f := form{l.look.hatch, l.share, dark(l.look)}
		assert.Empty(t, seen[f], kind)
		seen[f] = kind
	}
	assert.NotEqual(t, lookRinse.hatch, lookChangeover.hatch)
}

// luminance is the relative luminance of WCAG 2.1, 0 for black and 1 for white.
func luminance(hex string) float64 {
	c := colorOf(hex)
	part := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.03928 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*part(c.R) + 0.7152*part(c.G) + 0.0722*part(c.B)
}

func TestTextHasContrast(t *testing.T) {
	contrast := func(a, b string) float64 {
		high, low := max(luminance(a), luminance(b)), min(luminance(a), luminance(b))
		return (high + 0.05) / (low + 0.05)
	}
	for _, pair := range [][2]string{{paper, lookFill.fill}, {ink, lookSpray.fill}, {ink, paper}, {faint, paper}, {ink, shade}} {
		assert.GreaterOrEqual(t, contrast(pair[0], pair[1]), 4.5, "%v", pair)
	}
}

func TestPNGIsTheSamePicture(t *testing.T) {
	d := planOf(t, "long")
	var out bytes.Buffer
	require.NoError(t, PNG(&out, d))
	img, err := png.Decode(&out)
	require.NoError(t, err)
	s := newSheet(noCanvas{}, d)
	s.draw()
	assert.InDelta(t, s.clock.page*pixelScale, img.Bounds().Dx(), 1)
	assert.InDelta(t, s.y*pixelScale, img.Bounds().Dy(), 1)

	// A filling's bar is there in its colour: the first load's, beside its name.
	l := d.Loads[0]
	x := int((s.clock.x(l.Start) + 3) * pixelScale)
	found := false
	for y := range img.Bounds().Dy() {
		found = found || img.At(x, y) == colorOf(lookFill.fill)
	}
	assert.True(t, found)
}
