package webpage

import (
	"fmt"
	"html/template"
	"strings"

	"padturn/io/handout"
	"padturn/io/planfile"
	"padturn/model"
)

// Measures of a chart in its own units.
const (
	chartWide, chartHigh = 360.0, 170.0
	padLeft, padRight    = 52.0, 10.0
	padTop, padFoot      = 16.0, 22.0
)

// plot maps times and levels to the chart.
type plot struct {
	from, to planfile.Time
	top      float64
}

func newPlot(h *handout.Handout, s handout.Stock) plot {
	from, to := h.Span(s)
	return plot{from, to, s.Top()}
}

func (p plot) x(t planfile.Time) float64 {
	return padLeft + (chartWide-padLeft-padRight)*float64(max(t, p.from)-p.from)/float64(max(p.to-p.from, 1))
}

func (p plot) y(n planfile.Number) float64 {
	return padTop + (chartHigh-padTop-padFoot)*(1-float64(n)/p.top)
}

// chart draws a stock as steps, with its reorder level and its deliveries.
func chart(h *handout.Handout, s handout.Stock) template.HTML {
	p := newPlot(h, s)
	var svg strings.Builder
	fmt.Fprintf(&svg, `<svg class="chart" viewBox="0 0 %g %g" role="img" aria-label="%s">`, chartWide, chartHigh,
		template.HTMLEscapeString("stock of "+s.Product))
	fmt.Fprintf(&svg, `<path class="axis" d="M%g %gV%gH%g"/>`, padLeft, padTop, chartHigh-padFoot, chartWide-padRight)
	p.hours(&svg)
	p.levels(&svg, s)
	p.steps(&svg, s)
	p.deliveries(&svg, s)
	svg.WriteString(`</svg>`)
	return template.HTML(svg.String())
}

func (p plot) hours(svg *strings.Builder) {
	step := planfile.Time(3600)
	for (p.to-p.from)/step > 7 {
		step *= 2
	}
	for t := (p.from + step - 1) / step * step; t <= p.to; t += step {
		fmt.Fprintf(svg, `<path class="axis" d="M%.1f %gv4"/><text x="%.1f" y="%g" text-anchor="middle">%s</text>`,
			p.x(t), chartHigh-padFoot, p.x(t), chartHigh-padFoot+16, model.Clock(t).HHMM())
	}
}

// levels writes nothing, the most and the reorder level at the left.
func (p plot) levels(svg *strings.Builder, s handout.Stock) {
	most := s.Most()
	marks := []planfile.Number{0, most}
	if s.Reorder != nil {
		y := p.y(*s.Reorder)
		fmt.Fprintf(svg, `<path class="reorder" d="M%g %.1fH%g"/>`, padLeft, y, chartWide-padRight)
		if below := y - p.y(most); (below > 12 || below < -12) && p.y(0)-y > 12 {
			marks = append(marks, *s.Reorder)
		}
	}
	for _, n := range marks {
		fmt.Fprintf(svg, `<text x="%g" y="%.1f" text-anchor="end">%s</text>`, padLeft-5, p.y(n)+4, s.Text(n))
	}
}

func (p plot) steps(svg *strings.Builder, s handout.Stock) {
	svg.WriteString(`<path class="stock" d="`)
	for i, point := range s.Points {
		if i == 0 {
			fmt.Fprintf(svg, "M%.1f %.1f", p.x(point.At), p.y(point.Level))
			continue
		}
		fmt.Fprintf(svg, "H%.1fV%.1f", p.x(point.At), p.y(point.Level))
	}
	fmt.Fprintf(svg, `H%.1f"/>`, p.x(p.to))
}

func (p plot) deliveries(svg *strings.Builder, s handout.Stock) {
	for _, point := range s.Points {
		if !point.Delivery {
			continue
		}
		x, y := p.x(point.At), p.y(point.Level)
		fmt.Fprintf(svg, `<path d="M%.1f %.1fl-5 -9h10z"/><text x="%.1f" y="%.1f" text-anchor="%s">+%s %s</text>`,
			x, y-2, x+p.side(x)*8, y-4, p.anchor(x), s.Text(point.Change), model.Clock(point.At).HHMM())
	}
}

// side is where a label beside x has room: 1 to the right, -1 to the left.
func (p plot) side(x float64) float64 {
	if x > chartWide*0.7 {
		return -1
	}
	return 1
}

func (p plot) anchor(x float64) string {
	if p.side(x) < 0 {
		return "end"
	}
	return "start"
}
