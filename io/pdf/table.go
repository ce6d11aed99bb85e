package pdf

// A piece is a text of a cell that begins on a line of its own.
type piece struct {
	text  string
	size  float64 // points
	style string
}

// A cell of a table: pieces below each other, or a box to tick, or a frame to
// write in.
type cell struct {
	pieces []piece
	right  bool
	tick   bool
	frame  bool
	whole  bool // its pieces shrink to their width and are never broken
}

// A column of a table.
type column struct {
	title string
	width float64 // mm
	right bool
}

// A table is written row by row; its titles stand on every page.
type table struct {
	b       *book
	columns []column
	least   float64 // height of a row
	pad     float64 // above and below a row's text
}

const (
	gap      = 2.4 // between columns
	maxLines = 14  // of one piece; no name of ours is longer
)

// scaled widens the columns so that they fill a width.
func scaled(columns []column, width float64) []column {
	sum := 0.0
	for _, c := range columns {
		sum += c.width
	}
	out := make([]column, len(columns))
	for i, c := range columns {
		c.width *= width / sum
		out[i] = c
	}
	return out
}

func words(size float64, style string, texts ...string) cell {
	c := cell{}
	for _, t := range texts {
		if t != "" {
			c.pieces = append(c.pieces, piece{t, size, style})
		}
	}
	return c
}

func (c cell) and(size float64, style string, texts ...string) cell {
	c.pieces = append(c.pieces, words(size, style, texts...).pieces...)
	return c
}

func (c cell) unbroken() cell {
	c.whole = true
	return c
}

func (c cell) toRight() cell {
	c.right = true
	return c
}

// titles writes the head of the table.
func (t *table) titles() {
	x := margin
	for _, c := range t.columns {
		align := left
		if c.right {
			align = right
		}
		t.b.line(x, t.b.y, c.width-gap, 7.5, "", align, c.title)
		x += c.width
	}
	t.b.y += 4 * t.b.scale
	t.rule(0.4)
}

func (t *table) rule(thick float64) {
	t.b.stroke(margin, t.b.y, t.b.width-margin, t.b.y, thick)
}

// row writes a row that is kept together; below is room that has to follow it
// on the page.
func (t *table) row(cells []cell, below float64) {
	set, high := t.set(cells)
	if t.b.need(high + below) {
		t.titles()
	}
	x := margin
	for i, c := range cells {
		t.draw(c, set[i], x, t.columns[i].width-gap, high)
		x += t.columns[i].width
	}
	t.b.y += high
	t.rule(0.15)
}

// set wraps the cells of a row and says how high the row is.
func (t *table) set(cells []cell) (set [][]piece, high float64) {
	high = t.least * t.b.scale
	for i, c := range cells {
		var out []piece
		tall := 2 * t.pad * t.b.scale
		for _, p := range c.pieces {
			lines := []string{p.text}
			if !c.whole {
				lines = t.b.wrap(p.text, t.columns[i].width-gap, p.size, p.style)
			}
			if len(lines) > maxLines {
				lines = append(lines[:maxLines-1], "…")
			}
			for _, line := range lines {
				out = append(out, piece{line, p.size, p.style})
				tall += t.b.high(p.size)
			}
		}
		set, high = append(set, out), max(high, tall)
	}
	return set, high
}

func (t *table) draw(c cell, lines []piece, x, w, high float64) {
	switch {
	case c.tick:
		side := min(high-2, 8, w)
		t.b.frame(x, t.b.y+(high-side)/2, side, side, 0.45)
	case c.frame:
		t.b.frame(x, t.b.y+1, w+gap, high-2, 0.2)
	}
	align := left
	if c.right {
		align = right
	}
	y := t.b.y + t.pad*t.b.scale
	for _, p := range lines {
		t.b.line(x, y, w+0.5, p.size, p.style, align, p.text)
		y += t.b.high(p.size)
	}
}
