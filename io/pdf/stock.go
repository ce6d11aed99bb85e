package pdf

import (
	"fmt"
	"strings"

	"codeberg.org/go-pdf/fpdf"

	"padturn/io/handout"
	"padturn/io/planfile"
)

// Measures of a chart in mm.
const (
	chartHigh  = 50.0
	chartHead  = 10.5
	chartFoot  = 6.0
	chartScale = 15.0 // for the numbers at the left
)

// stocks writes a chart for every product whose stock changes, two to a row.
func (b *book) stocks() {
	if len(b.day.Stocks) == 0 {
		return
	}
	b.page("Stock")
	b.line(margin, b.y, b.inner(), 20, "B", left, "Stock over the day")
	b.y += 9
	b.paragraph("", "Step line: what is left, in the stock unit. Dashed: reorder level. Triangle: delivery.", 9, "")
	b.y += 3
	wide := (b.inner() - 8) / 2
	n := 0
	var still []string
	for _, s := range b.day.Stocks {
		if !s.Moves() {
			still = append(still, fmt.Sprintf("%s %s %s", s.Product, s.Text(s.Last()), s.Unit))
			continue
		}
		if n%2 == 0 {
			b.need(chartHigh)
		}
		b.chart(s, margin+float64(n%2)*(wide+8), b.y, wide)
		if n++; n%2 == 0 {
			b.y += chartHigh + 3
		}
	}
	if n%2 == 1 {
		b.y += chartHigh + 3
	}
	if len(still) > 0 {
		b.heading("Not touched", 6)
		b.paragraph("", strings.Join(still, " · "), 9, "")
	}
}

// plot maps times and levels to the paper.
type plot struct {
	x, y, w, h float64
	from, to   planfile.Time
	top        float64
}

func (p plot) at(t planfile.Time) float64 {
	return p.x + p.w*float64(max(t, p.from)-p.from)/float64(max(p.to-p.from, 1))
}

func (p plot) level(n planfile.Number) float64 {
	return p.y + p.h*(1-float64(n)/p.top)
}

func (b *book) chart(s handout.Stock, x, y, w float64) {
	b.line(x, y, w, 10, "B", left, s.Product)
	low := ""
	if s.LowFrom != nil {
		low = ", LOW from " + clock(*s.LowFrom)
	}
	b.line(x, y+4.6, w, 8.5, "", left, fmt.Sprintf("%s to %s %s%s", s.Text(s.Opening()), s.Text(s.Last()), s.Unit, low))
	p := b.plotOf(s, x+chartScale, y+chartHead, w-chartScale)
	b.axes(p, s)
	b.pdf.SetLineWidth(0.6)
	for i, point := range s.Points {
		until := p.to
		if i+1 < len(s.Points) {
			until = s.Points[i+1].At
			b.pdf.Line(p.at(until), p.level(point.Level), p.at(until), p.level(s.Points[i+1].Level))
		}
		b.pdf.Line(p.at(point.At), p.level(point.Level), p.at(until), p.level(point.Level))
	}
	b.deliveries(p, s)
}

func (b *book) plotOf(s handout.Stock, x, y, w float64) plot {
	p := plot{x: x, y: y, w: w, h: chartHigh - chartHead - chartFoot, top: s.Top()}
	p.from, p.to = b.day.Span(s)
	return p
}

// axes draws the frame, the hours, the highest level and the reorder level.
func (b *book) axes(p plot, s handout.Stock) {
	b.pdf.SetLineWidth(0.2)
	b.pdf.Line(p.x, p.y, p.x, p.y+p.h)
	b.pdf.Line(p.x, p.y+p.h, p.x+p.w, p.y+p.h)
	step := planfile.Time(3600)
	for (p.to-p.from)/step > 8 {
		step *= 2
	}
	for t := (p.from + step - 1) / step * step; t <= p.to; t += step {
		b.pdf.Line(p.at(t), p.y+p.h, p.at(t), p.y+p.h+1)
		b.line(min(p.at(t)-3.2, p.x+p.w-6.4), p.y+p.h+1.2, 9, 7, "", left, clock(t))
	}
	b.mark(p, 0, s.Text(0))
	most := s.Most()
	b.mark(p, most, s.Text(most))
	if s.Reorder == nil {
		return
	}
	b.pdf.SetDashPattern([]float64{1.6, 1.2}, 0)
	b.pdf.Line(p.x, p.level(*s.Reorder), p.x+p.w, p.level(*s.Reorder))
	b.pdf.SetDashPattern(nil, 0)
	if apart := p.level(*s.Reorder) - p.level(most); apart > 3 && p.h-apart > 5 {
		b.mark(p, *s.Reorder, s.Text(*s.Reorder))
	}
}

func (b *book) mark(p plot, n planfile.Number, text string) {
	b.line(p.x-chartScale, p.level(n)-1.4, chartScale-1, 7.5, "", right, text)
}

// deliveries marks what comes with a triangle that stands on the new level.
func (b *book) deliveries(p plot, s handout.Stock) {
	for _, point := range s.Points {
		if !point.Delivery {
			continue
		}
		x, y := p.at(point.At), p.level(point.Level)
		b.pdf.Polygon([]fpdf.PointType{{X: x, Y: y - 0.6}, {X: x - 1.5, Y: y - 3.2}, {X: x + 1.5, Y: y - 3.2}}, "F")
		b.line(min(x+2, p.x+p.w-18), y-3.6, 20, 7, "", left, "+"+s.Text(point.Change)+" "+clock(point.At))
	}
}
