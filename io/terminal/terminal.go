package terminal

import (
	"io"

	"padturn/io/planfile"
)

// Width bounds. The tables need the least one to stay readable; a terminal
// that is narrower breaks the lines itself.
const (
	DefaultWidth = 80
	MinWidth     = 60
)

// Summary prints what a plan comes to, beside first come, first served, how
// far from the best possible it can be, and what needs a look. A width of 0 is
// [DefaultWidth]; one below [MinWidth] is taken as that. Its error is the
// writer's.
func Summary(w io.Writer, d *planfile.Document, width int) error {
	p := newPage(d, width)
	p.summary()
	return p.writeTo(w)
}

// Show prints the whole plan: the summary, the load order of every bay, the
// sprayers, the stock at the end of the day, and the cautions. Width and error
// are as for [Summary].
func Show(w io.Writer, d *planfile.Document, width int) error {
	p := newPage(d, width)
	p.summary()
	p.bays()
	p.sprayers()
	p.stock()
	p.list("Before you fill", d.Cautions)
	return p.writeTo(w)
}
