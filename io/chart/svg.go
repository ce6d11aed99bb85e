package chart

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
)

// svgCanvas writes SVG 1.1 with the roles of the WAI-ARIA graphics module.
type svgCanvas struct {
	body    bytes.Buffer
	hatched map[string]look // by pattern id
}

// writeTo writes the whole document for a sheet that was drawn.
func (c *svgCanvas) writeTo(out *bytes.Buffer, s *sheet) {
	fmt.Fprintf(out, `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="%s" height="%s" viewBox="0 0 %s %s" lang="en" role="graphics-document document" aria-labelledby="title desc" font-family="%s" fill="%s">
`, num(s.clock.page), num(s.y), num(s.clock.page), num(s.y), fontFamily, ink)
	fmt.Fprintf(out, "<title id=\"title\">%s</title>\n<desc id=\"desc\">%s</desc>\n", escape(s.title()), escape(s.description()))
	if len(c.hatched) > 0 {
		out.WriteString("<defs>\n")
		for _, id := range slices.Sorted(maps.Keys(c.hatched)) {
			out.WriteString(pattern(id, c.hatched[id]))
		}
		out.WriteString("</defs>\n")
	}
	fmt.Fprintf(out, "<rect width=\"%s\" height=\"%s\" fill=\"%s\"/>\n", num(s.clock.page), num(s.y), paper)
	out.Write(c.body.Bytes())
	out.WriteString("</svg>\n")
}

// pattern is the tile of a hatching. Tiles lie in the page's own grid, so
// strokes of neighbouring boxes meet.
func pattern(id string, l look) string {
	step := hatchStep[l.hatch]
	n, half, pen := num(step), num(step/2), num(hatchPen[l.hatch])
	var path string
	switch l.hatch {
	case hatchSlash, hatchWide:
		path = slashes(step)
	case hatchBack:
		path = backslashes(step)
	case hatchCross:
		path = slashes(step) + backslashes(step)
	case hatchBars:
		path = "M" + half + ",0V" + n
	case hatchLines:
		path = "M0," + half + "H" + n
	}
	mark := fmt.Sprintf(`<path d="%s" stroke="%s" stroke-width="%s" fill="none"/>`, path, l.ink, pen)
	if l.hatch == hatchDots {
		mark = fmt.Sprintf(`<rect x="%s" y="%s" width="%s" height="%s" fill="%s"/>`,
			num(step/2-hatchPen[hatchDots]/2), num(step/2-hatchPen[hatchDots]/2), pen, pen, l.ink)
	}
	return fmt.Sprintf("<pattern id=\"%s\" width=\"%s\" height=\"%s\" patternUnits=\"userSpaceOnUse\"><rect width=\"%s\" height=\"%s\" fill=\"%s\"/>%s</pattern>\n",
		id, n, n, n, n, l.fill, mark)
}

// slashes are the strokes of a tile on which x + y is a multiple of its size.
func slashes(step float64) string {
	s, o := num(step), num(step+1)
	return fmt.Sprintf("M-1,1L1,-1M0,%sL%s,0M%s,%sL%s,%s", s, s, num(step-1), o, o, num(step-1))
}

// backslashes are those on which x - y is one.
func backslashes(step float64) string {
	s, o := num(step), num(step+1)
	return fmt.Sprintf("M-1,%sL1,%sM0,0L%s,%sM%s,-1L%s,1", num(step-1), o, s, s, num(step-1), o)
}

func (c *svgCanvas) begin(g group) {
	role := "graphics-symbol img"
	if g.kind == kindRow || g.kind == kindSection {
		role = "group"
	}
	fmt.Fprintf(&c.body, `<g class="%s" role="%s" aria-label="%s"`, g.kind, role, escape(g.label))
	if g.load != "" {
		fmt.Fprintf(&c.body, ` data-load="%s"`, escape(g.load))
	}
	c.body.WriteString(">\n")
	if role != "group" {
		fmt.Fprintf(&c.body, "<title>%s</title>\n", escape(g.label))
	}
}

func (c *svgCanvas) end() { c.body.WriteString("</g>\n") }

func (c *svgCanvas) rect(b box, l look) {
	fill := l.fill
	if fill == "" {
		fill = "none"
	}
	if l.hatch != hatchNone {
		fill = "url(#" + c.patternID(l) + ")"
	}
	fmt.Fprintf(&c.body, `<rect x="%s" y="%s" width="%s" height="%s" fill="%s"`, num(b.x), num(b.y), num(b.w), num(b.h), fill)
	if l.edge != "" {
		fmt.Fprintf(&c.body, ` stroke="%s" stroke-width="%s"`, l.edge, num(edgePen))
	}
	c.body.WriteString("/>\n")
}

func (c *svgCanvas) patternID(l look) string {
	id := fmt.Sprintf("%s-%s-%s", l.hatch, strings.TrimPrefix(l.fill, "#"), strings.TrimPrefix(l.ink, "#"))
	if c.hatched == nil {
		c.hatched = map[string]look{}
	}
	c.hatched[id] = l
	return id
}

func (c *svgCanvas) line(points []point, s stroke) {
	fmt.Fprintf(&c.body, `<polyline points="%s" fill="none" stroke="%s" stroke-width="%s"`, coordinates(points), s.color, num(s.width))
	if s.dash > 0 {
		fmt.Fprintf(&c.body, ` stroke-dasharray="%s"`, num(s.dash))
	}
	c.body.WriteString("/>\n")
}

func (c *svgCanvas) polygon(points []point, color string) {
	fmt.Fprintf(&c.body, "<polygon points=\"%s\" fill=\"%s\"/>\n", coordinates(points), color)
}

func coordinates(points []point) string {
	var parts []string
	for _, p := range points {
		parts = append(parts, num(p.x)+","+num(p.y))
	}
	return strings.Join(parts, " ")
}

func (c *svgCanvas) text(t label) {
	fmt.Fprintf(&c.body, `<text x="%s" y="%s" font-size="%s"`, num(t.x), num(t.y), num(t.size))
	if t.bold {
		c.body.WriteString(` font-weight="bold"`)
	}
	if t.color != "" {
		fmt.Fprintf(&c.body, ` fill="%s"`, t.color)
	}
	if t.anchor != start {
		fmt.Fprintf(&c.body, ` text-anchor="%s"`, map[anchor]string{middle: "middle", end: "end"}[t.anchor])
	}
	if t.turned {
		fmt.Fprintf(&c.body, ` transform="rotate(-90 %s %s)"`, num(t.x), num(t.y))
	}
	fmt.Fprintf(&c.body, ">%s</text>\n", escape(t.text))
}

// escape makes text safe in an element or an attribute. What XML cannot hold
// at all becomes a replacement character.
func escape(text string) string {
	var out strings.Builder
	if err := xml.EscapeText(&out, []byte(text)); err != nil {
		panic("chart: a string builder refused to be written to: " + err.Error())
	}
	return out.String()
}

// num writes a length with two decimals at most: a hundredth of a unit is half
// a second of a common day.
func num(v float64) string {
	return strconv.FormatFloat(math.Round(v*100)/100+0, 'f', -1, 64)
}
