package workbook

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"padturn/io/handout"
	"padturn/io/planfile"
)

// stock writes a line for each product and below it a chart for each one that
// moves.
func (p plan) stock() {
	t := sheetTable{sheet: stockSheet, columns: []column{
		{title: "product", width: 30, format: asText},
		{title: "unit", width: 8, format: asText},
		{title: "opening", width: 13, format: asGallon},
		{title: "delivered", width: 13, format: asGallon},
		{title: "used", width: 13, format: asGallon},
		{title: "end", width: 13, format: asGallon},
		{title: "least", width: 13, format: asGallon},
		{title: "reorder at", width: 13, format: asGallon},
		{title: "low from", width: 11, format: asLong, about: "when it first falls below the reorder level"},
	}}
	for _, s := range p.handout.Stocks {
		t.rows = append(t.rows, stockRow(s))
	}
	p.table(t)
	for i, s := range p.handout.Stocks {
		if s.LowFrom != nil {
			p.markLow(i+2, len(t.columns))
		}
	}
	p.stockCharts(len(t.rows) + 3)
}

func stockRow(s handout.Stock) []any {
	var delivered, used planfile.Number
	for i, point := range s.Points {
		switch {
		case i == 0: // the opening
		case point.Change > 0:
			delivered += point.Change
		default:
			used -= point.Change
		}
	}
	return []any{
		s.Product, s.Unit, number(s.Opening()), number(delivered), number(used), number(s.Last()), number(s.Least),
		numberOrNone(s.Reorder), clockOrNone(s.LowFrom),
	}
}

// markLow fills the cell that says from when a product is low.
func (p plan) markLow(row, column int) {
	style := p.style("low", func() *excelize.Style {
		format := asLong
		return &excelize.Style{
			Font: &excelize.Font{Family: font, Size: 11, Bold: true}, CustomNumFmt: &format,
			Fill:   excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{lowFill}},
			Border: thin("bottom"),
		}
	})
	name := cellName(column, row)
	p.do(func() error { return p.file.SetCellStyle(stockSheet, name, name, style) })
}

// stockEvents writes the rows of stock.csv.
func (p plan) stockEvents() {
	t := sheetTable{sheet: eventsSheet, columns: []column{
		{title: "product", width: 30, format: asText},
		{title: "at", width: 11, format: asLong},
		{title: "event", width: 26, format: asText},
		{title: "change", width: 14, format: asAmount},
		{title: "level", width: 14, format: asAmount},
		{title: "unit", width: 8, format: asText},
		{title: "low", width: 8, format: asText},
	}}
	for _, e := range p.doc.Stock {
		low := "no"
		if e.Low {
			low = "yes"
		}
		t.rows = append(t.rows, []any{e.Product, clock(e.At), e.Event, number(e.Change), number(e.Level), e.Unit, low})
	}
	p.table(t)
}

// curve is where the points of a product's chart stand in the sheet of curves.
type curve struct {
	stock       handout.Stock
	first, last int // rows
}

// curves lays the charts' points out: a level holds until the next change, so
// each change has two points.
func (p plan) curves() (all []curve, rows [][]any) {
	opens, closes := p.span()
	for _, s := range p.handout.Stocks {
		if !s.Moves() {
			continue
		}
		c := curve{stock: s, first: len(rows) + 2}
		level := s.Opening()
		add := func(at planfile.Time, delivery bool) {
			var delivered any
			if delivery {
				delivered = number(level)
			}
			rows = append(rows, []any{s.Product, clock(at), clock(at) * 24, number(level), numberOrNone(s.Reorder), delivered})
		}
		add(opens, false)
		for _, point := range s.Points[1:] {
			add(point.At, false)
			level = point.Level
			add(point.At, point.Delivery)
		}
		add(closes, false)
		c.last = len(rows) + 1
		all = append(all, c)
	}
	return all, rows
}

// span is from when until when the charts show the day: the same for all, so
// that they can be laid side by side, in whole hours.
func (p plan) span() (from, until planfile.Time) {
	from, until = p.doc.Day.Opens, p.doc.Day.Closes
	for _, s := range p.handout.Stocks {
		for _, point := range s.Points[1:] { // the first is the opening
			from, until = min(from, point.At), max(until, point.At)
		}
	}
	return from - from%3600, until + (3600-until%3600)%3600
}

// stockCurves writes the points of the charts. The sheet is hidden: it is of no
// use on paper.
func (p plan) stockCurves() {
	_, rows := p.curves()
	p.table(sheetTable{sheet: curvesSheet, rows: rows, columns: []column{
		{title: "product", width: 30, format: asText},
		{title: "at", width: 11, format: asLong},
		{title: "hour", width: 11, format: asAmount, about: "of the day; the charts' axis"},
		{title: "level", width: 14, format: asAmount},
		{title: "reorder at", width: 14, format: asAmount},
		{title: "delivery", width: 14, format: asAmount},
	}})
	p.do(func() error { return p.file.SetSheetVisible(curvesSheet, false) })
}

// Charts stand in two columns, as wide as the table above them, and start on a
// page of their own. The library counts 18 pixels to a row of cells.
const (
	chartWidth, chartHeight = 455, 10 * 18
	chartRows               = 11
	pageRows                = 3 * chartRows
	secondColumn            = 5
)

func (p plan) stockCharts(row int) {
	curves, _ := p.curves()
	for first := 0; first < len(curves); first += 6 {
		at := cellName(1, row+first/6*pageRows)
		p.do(func() error { return p.file.InsertPageBreak(stockSheet, at) })
	}
	for i, c := range curves {
		column := 1
		if i%2 == 1 {
			column = secondColumn
		}
		at := cellName(column, row+i/2*chartRows)
		p.do(func() error { return p.file.AddChart(stockSheet, at, p.chart(c)) })
	}
}

// chart draws a level as steps, the reorder level dashed, and a triangle where
// a delivery comes: shapes tell them apart, colours only help.
func (p plan) chart(c curve) *excelize.Chart {
	list := []excelize.ChartSeries{c.series("D", levelColor, excelize.LineOptions{Type: excelize.LineSolid, Width: 2})}
	if c.stock.Reorder != nil {
		list = append(list, c.series("E", reorderColor, excelize.LineOptions{Type: excelize.LineSolid, Width: 1.25, Dash: excelize.LineDashDash}))
	}
	if hasDelivery(c.stock) {
		deliveries := c.series("F", deliveryColor, excelize.LineOptions{Type: excelize.LineNone})
		deliveries.Marker = excelize.ChartMarker{Symbol: "triangle", Size: 9, Fill: deliveries.Fill}
		list = append(list, deliveries)
	}
	from, until := p.span()
	least, most, zero := clock(from)*24, clock(until)*24, 0.0
	labels := excelize.Font{Size: 9, Color: deliveryColor}
	return &excelize.Chart{
		Type: excelize.Scatter, Series: list,
		Dimension: excelize.ChartDimension{Width: chartWidth, Height: chartHeight},
		Title: excelize.ChartTitle{Paragraph: []excelize.RichTextRun{
			{Text: c.stock.Product + ", " + c.stock.Unit, Font: &excelize.Font{Size: 12, Bold: true, Color: deliveryColor}},
		}},
		Legend: excelize.ChartLegend{Position: "bottom"},
		// The library sets no steps for this axis: hours of the day fall on
		// round numbers by themselves, which parts of a day do not.
		XAxis: excelize.ChartAxis{Minimum: &least, Maximum: &most, Font: labels, NumFmt: excelize.ChartNumFmt{CustomNumFmt: `General" h"`}},
		YAxis: excelize.ChartAxis{Minimum: &zero, MajorGridLines: true, Font: labels, NumFmt: excelize.ChartNumFmt{CustomNumFmt: "General"}},
	}
}

// Colours of the charts, far apart in lightness too.
const (
	levelColor    = "1F4E79"
	reorderColor  = "B0720A"
	deliveryColor = "303030"
)

// series draws a column of the curves' sheet, named by its header.
func (c curve) series(column, color string, line excelize.LineOptions) excelize.ChartSeries {
	cells := func(column string) string {
		return fmt.Sprintf("'%s'!$%s$%d:$%s$%d", curvesSheet, column, c.first, column, c.last)
	}
	return excelize.ChartSeries{
		Name:       fmt.Sprintf("'%s'!$%s$1", curvesSheet, column),
		Categories: cells("C"), Values: cells(column), Line: line,
		Fill:   excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{color}},
		Marker: excelize.ChartMarker{Symbol: "none"},
	}
}

func hasDelivery(s handout.Stock) bool {
	for _, point := range s.Points {
		if point.Delivery {
			return true
		}
	}
	return false
}
