package terminal

import (
	"math"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
)

// A column of a table, and what may be done to it where the table is too wide.
type column struct {
	title  string
	right  bool
	clip   bool // its cells may be cut
	least  int  // but no further than this, where it is given
	breaks bool // its cells go on below where they are too long
	tail   bool // cut in the middle: load IDs differ at the end
	spare  int  // where cutting is not enough it is left out, the highest first; 0: never
}

const (
	columnGap   = "  "
	ellipsis    = "…"
	minClipped  = 5 // a clipped column stays at least this wide
	minTail     = 9 // one that is cut in the middle: what is typed again has to be read
	minBroken   = 20
	tableIndent = "  "
)

// table prints rows under their titles, no wider than the page. A footer is
// set off by a line; it may be nil.
func (p *page) table(columns []column, rows [][]string, footer []string) {
	all := rows
	if footer != nil {
		all = append(rows[:len(rows):len(rows)], footer)
	}
	for _, row := range all {
		for i := range row {
			row[i] = clean(row[i])
		}
	}
	columns, all = p.leaveOut(columns, all)
	p.fit(columns, all)

	t := table.NewWriter()
	t.SetStyle(plainStyle)
	t.SetColumnConfigs(configs(columns))
	t.AppendHeader(tableRow(titles(columns)))
	for _, row := range all[:len(rows)] {
		t.AppendRow(tableRow(row))
	}
	if footer != nil {
		t.AppendFooter(tableRow(all[len(rows)]))
	}
	for line := range strings.SplitSeq(t.Render(), "\n") {
		p.line(tableIndent + strings.TrimSuffix(line, ruleEnd))
	}
}

// ruleEnd is how a line across the table ends beyond its last column.
const ruleEnd = "--"

// plainStyle is lines of dashes under the titles and over the footer, and
// nothing else.
var plainStyle = table.Style{
	Name: "plain",
	Box: table.BoxStyle{
		MiddleHorizontal: "-", MiddleSeparator: "-", LeftSeparator: "", RightSeparator: "",
		BottomSeparator: "-", TopSeparator: "-", EmptySeparator: " ",
		PaddingRight: columnGap, UnfinishedRow: ellipsis,
	},
	Options: table.Options{SeparateHeader: true, SeparateFooter: true},
}

func configs(columns []column) []table.ColumnConfig {
	var out []table.ColumnConfig
	for i, c := range columns {
		align := text.AlignLeft
		if c.right {
			align = text.AlignRight
		}
		out = append(out, table.ColumnConfig{Number: i + 1, Align: align, AlignHeader: align, AlignFooter: align})
	}
	return out
}

func titles(columns []column) []string {
	var out []string
	for _, c := range columns {
		out = append(out, c.title)
	}
	return out
}

func tableRow(cells []string) table.Row {
	row := make(table.Row, len(cells))
	for i, cell := range cells {
		row[i] = cell
	}
	return row
}

// leaveOut takes out spare columns until the rest can be made to fit.
func (p *page) leaveOut(columns []column, rows [][]string) ([]column, [][]string) {
	columns, rows = slices.Clone(columns), slices.Clone(rows)
	for p.least(columns, rows) > p.width {
		out := 0
		for i, c := range columns {
			if c.spare > columns[out].spare {
				out = i
			}
		}
		if columns[out].spare == 0 {
			break
		}
		columns = slices.Delete(columns, out, out+1)
		for i := range rows {
			rows[i] = slices.Delete(slices.Clone(rows[i]), out, out+1)
		}
	}
	return columns, rows
}

// least is how wide the table is with every clipped column as narrow as it
// may be.
func (p *page) least(columns []column, rows [][]string) int {
	widths, total := measure(columns, rows)
	for i, c := range columns {
		total -= max(widths[i]-c.narrowest(), 0)
	}
	return total
}

// narrowest is how far a column may be cut; a large number where it may not.
func (c column) narrowest() int {
	least := c.least
	switch {
	case c.breaks:
		least = minBroken
	case !c.clip:
		return math.MaxInt
	case least == 0 && c.tail:
		least = minTail
	case least == 0:
		least = minClipped
	}
	return max(least, text.StringWidth(c.title))
}

// fit clips or breaks the widest of the columns that may be, cell by cell, until the
// table is no wider than the page.
func (p *page) fit(columns []column, rows [][]string) {
	widths, total := measure(columns, rows)
	for ; total > p.width; total-- {
		widest := -1
		for i, c := range columns {
			if widths[i] > c.narrowest() && (widest < 0 || widths[i] > widths[widest]) {
				widest = i
			}
		}
		if widest < 0 {
			break
		}
		widths[widest]--
	}
	for _, row := range rows {
		for i, c := range columns {
			switch {
			case c.breaks:
				row[i] = strings.Join(wrap(row[i], widths[i]), "\n")
			case c.clip:
				row[i] = clip(row[i], widths[i], c.tail)
			}
		}
	}
}

// measure returns the widths of the columns and of the whole table.
func measure(columns []column, rows [][]string) (widths []int, total int) {
	for i, c := range columns {
		width := text.StringWidth(c.title)
		for _, row := range rows {
			width = max(width, text.StringWidth(row[i]))
		}
		widths = append(widths, width)
		total += width
	}
	return widths, total + len(tableIndent) + (len(columns)-1)*len(columnGap)
}

// clip cuts a text to a width, in cells of the terminal.
func clip(s string, width int, tail bool) string {
	if text.StringWidth(s) <= width {
		return s
	}
	end := ""
	if tail {
		end = lastPart(s)
	}
	room := width - text.StringWidth(ellipsis) - text.StringWidth(end)
	return text.Trim(s, room) + ellipsis + end
}

// lastPart is the number at the end of a load ID, with its dash.
func lastPart(s string) string {
	const longest = len("-999")
	dash := strings.LastIndexByte(s, '-')
	if dash < 0 || len(s)-dash > longest {
		return ""
	}
	return s[dash:]
}
