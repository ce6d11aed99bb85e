package webpage

import (
	"html"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/io/handout"
	"padturn/io/planfile"
)

func printed(t *testing.T, sample string) (*handout.Handout, string) {
	d, err := planfile.Read("../planfile/testdata/" + sample + "/plan.json")
	require.NoError(t, err)
	h, err := handout.Of(d)
	require.NoError(t, err)
	data, err := Print(h)
	require.NoError(t, err)
	return h, string(data)
}

// TestPrint: all samples of plans make a page whose tags close, with a sheet
// for every load and a drawing for every stock that moves.
func TestPrint(t *testing.T) {
	for _, sample := range []string{"long", "short", "empty"} {
		t.Run(sample, func(t *testing.T) {
			h, page := printed(t, sample)
			assert.Equal(t, len(h.Sheets), strings.Count(page, "<article"))
			text, moving := html.UnescapeString(page), 0
			for _, s := range h.Stocks {
				if s.Moves() {
					moving++
				}
			}
			assert.Equal(t, moving, strings.Count(page, `<svg class="chart"`))
			for _, s := range h.Sheets {
				for _, line := range s.Lines {
					assert.True(t, strings.Contains(text, `<span class="amount">`+line.Measure+"</span>"), "%s of %s", line.Measure, s.Load)
				}
			}
			assert.True(t, strings.Contains(page, "revision <b>"+h.Revision))
			checkTags(t, page)
		})
	}
}

// checkTags counts the tags that have to be closed.
func checkTags(t *testing.T, page string) {
	for _, tag := range []string{"div", "td", "tr", "th", "table", "tbody", "thead", "ul", "li", "dl", "dd", "dt", "section", "article", "svg", "text", "figure", "p", "span", "h2", "h3", "a", "b"} {
		opened := len(regexp.MustCompile("<"+tag+"[ >]").FindAllString(page, -1))
		assert.Equal(t, opened, strings.Count(page, "</"+tag+">"), tag)
	}
}

func TestChart(t *testing.T) {
	h, _ := printed(t, "long")
	drawn := string(chart(h, h.Stocks[0]))
	// 90 gal at the opening, 70 and 50 after the loads at 06:00 and 06:08, on a
	// scale of 97.2 gal; the pad is open from 06:00 to 22:00 on 298 units.
	assert.Contains(t, drawn, `<path class="stock" d="M52.0 25.8H52.0V52.9H54.5V80.1H350.0"/>`)
	assert.Contains(t, drawn, `class="reorder"`)
}
