package webpage

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"strings"

	"padturn/io/handout"
	"padturn/io/planfile"
	"padturn/model"
)

//go:embed sheets.tmpl.html
var pageText string

//go:embed sheets.css
var style string

// page is the template; an error in it is a mistake that every test meets.
var page = template.Must(template.New("sheets").Funcs(template.FuncMap{
	"clock":  func(t planfile.Time) string { return model.Clock(t).HHMM() },
	"hour":   func(t planfile.Time) string { return model.Clock(t + 3600).HHMM() },
	"code":   code,
	"chart":  chart,
	"style":  func() template.CSS { return template.CSS(style) },
	"orNone": orNone,
	"blanks": handout.RecordBlanks,
	"note":   func() string { return handout.StagingNote },
}).Parse(pageText))

// Print returns the page of a handout.
func Print(h *handout.Handout) ([]byte, error) {
	var out bytes.Buffer
	if err := page.Execute(&out, h); err != nil {
		return nil, fmt.Errorf("the HTML page cannot be made: %w", err)
	}
	return out.Bytes(), nil
}

func orNone(text string) string {
	if text == "" {
		return "none"
	}
	return text
}

// code draws a QR code as an SVG of dark bars.
func code(text string) template.HTML {
	c, err := handout.Encode(text)
	if err != nil {
		return "" // the sheet says all of it in words
	}
	side := c.Size + 2*handout.Quiet
	var svg strings.Builder
	fmt.Fprintf(&svg, `<svg class="code" viewBox="0 0 %d %d" shape-rendering="crispEdges" role="img" aria-label="code of this load">`, side, side)
	fmt.Fprintf(&svg, `<rect width="%d" height="%d" fill="#fff"/><path d="`, side, side)
	for _, run := range c.Dark {
		fmt.Fprintf(&svg, "M%d %dh%dv1h-%dz", run.From+handout.Quiet, run.Row+handout.Quiet, run.To-run.From, run.To-run.From)
	}
	svg.WriteString(`"/></svg>`)
	return template.HTML(svg.String())
}
